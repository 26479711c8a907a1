package fieldreport

import (
	"math/big"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/figures"
)

// Decimals that people are shown. JSON has the whole number.
const (
	mbpsPlaces       = 1
	percentPlaces    = 1
	efficiencyPlaces = 2
	mhzPlaces        = 2 // of what is weighted by time; other widths and places are exact
	msPlaces         = 1
)

// rounded writes a number with at most some decimals, halves away from zero, as the
// sentences of the report have it; empty for none. What is rounded is the number as
// JSON writes it.
func rounded(x *float64, places int) string {
	if x == nil {
		return ""
	}
	return roundedFigure(figures.Figure(exact(*x)), places)
}

func roundedFigure(f figures.Figure, places int) string {
	r, ok := new(big.Rat).SetString(string(f))
	if !ok {
		return ""
	}
	s := r.FloatString(places)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// exact writes a number with all its digits.
func exact(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// optional writes a number with all its digits; empty for none.
func optional(x *float64) string {
	if x == nil {
		return ""
	}
	return exact(*x)
}

func mbps(x *float64) string { return rounded(x, mbpsPlaces) }

func mbpsOf(f *figures.Figure) string {
	if f == nil {
		return ""
	}
	return roundedFigure(*f, mbpsPlaces)
}

// percent writes a share in per cent.
func percent(share *float64) string {
	if share == nil {
		return ""
	}
	r, ok := new(big.Rat).SetString(exact(*share))
	if !ok {
		return ""
	}
	x, _ := r.Mul(r, big.NewRat(100, 1)).Float64()
	return rounded(&x, percentPlaces)
}

// integer writes a number; empty for zero, which stands for none.
func integer(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// pointed writes a number; empty for none.
func pointed[T int | int32](n *T) string {
	if n == nil {
		return ""
	}
	return strconv.Itoa(int(*n))
}

// numbers writes the numbers of carriers: "1, 3".
func numbers(list []int) string {
	words := make([]string, len(list))
	for i, n := range list {
		words[i] = strconv.Itoa(n)
	}
	return strings.Join(words, ", ")
}

// counted writes a number with its noun.
func counted(n int, noun string) string {
	if n != 1 {
		noun += "s"
	}
	return strconv.Itoa(n) + " " + noun
}

// hertz is a frequency given in megahertz, as exact as the report has it.
func hertz(mhz figures.Figure) bands.Frequency {
	f, err := bands.ParseMHz(string(mhz))
	if err != nil { // finer than a hertz: a total that is weighted, never a place
		return 0
	}
	return f
}

// sentence joins the parts that are not empty by commas.
func sentence(parts ...string) string {
	var words []string
	for _, p := range parts {
		if p != "" {
			words = append(words, p)
		}
	}
	return strings.Join(words, ", ")
}
