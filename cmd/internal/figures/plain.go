package figures

import (
	"fmt"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/throughput/exact"
)

func Milliseconds(r exact.Ratio) Figure { return Decimals(r, 1, 6) }

func Exact(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// Optional writes a value; empty if there is none.
func Optional[T any](v *T) string {
	if v == nil {
		return ""
	}
	return fmt.Sprint(*v)
}

// OptionalMHz writes a width; empty for none.
func OptionalMHz(f bands.Frequency) string {
	if f == 0 {
		return ""
	}
	return f.MHz()
}

func List(list []int, between string) string {
	words := make([]string, len(list))
	for i, n := range list {
		words[i] = strconv.Itoa(n)
	}
	return strings.Join(words, between)
}
