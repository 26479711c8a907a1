package imports

import (
	"bytes"
	"encoding/json"
	"math"
	"math/big"
	"strings"

	"spectally/cmd/internal/quantity"
)

// tree is JSON of which nothing is known beforehand.
type tree struct{ v any }

// objects reads the JSON objects that follow each other in a text. What comes after the
// last whole one is left; whole is false if there is any.
func objects(data []byte) (list []tree, whole bool) {
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	for d.More() {
		var v map[string]any
		if err := d.Decode(&v); err != nil {
			return list, false
		}
		list = append(list, tree{v})
	}
	return list, true
}

// first is the first object of a text; none if it has no whole one.
func first(data []byte) tree {
	if len(data) == 0 || data[0] != '{' {
		return tree{}
	}
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	var v map[string]any
	if d.Decode(&v) != nil {
		return tree{}
	}
	return tree{v}
}

// at is what stands under names within each other; none if there is nothing.
func (t tree) at(path ...string) tree {
	for _, name := range path {
		m, ok := t.v.(map[string]any)
		if !ok {
			return tree{}
		}
		t = tree{m[name]}
	}
	return t
}

func (t tree) is() bool { return t.v != nil }

// list is the elements of an array.
func (t tree) list() []tree {
	array, _ := t.v.([]any)
	list := make([]tree, len(array))
	for i, v := range array {
		list[i] = tree{v}
	}
	return list
}

// rat is a number, written as one or in quotes; false for anything else.
func (t tree) rat() (*big.Rat, bool) {
	var s string
	switch v := t.v.(type) {
	case json.Number:
		s = v.String()
	case string:
		s = strings.TrimSpace(v)
	}
	return ratOf(s)
}

// ratOf reads a plain decimal number, with an exponent of few digits or none.
func ratOf(s string) (*big.Rat, bool) {
	if len(s) == 0 || len(s) > 40 || strings.ContainsAny(s, "/_xXpP") {
		return nil, false
	}
	if i := strings.IndexAny(s, "eE"); i >= 0 && len(s)-i > 4 {
		return nil, false
	}
	return new(big.Rat).SetString(s)
}

// decimal writes a number above zero, and below a bound, with at most three decimals.
func decimal(r *big.Rat, most int64) (quantity.Decimal, bool) {
	if r == nil || r.Sign() <= 0 || r.Cmp(new(big.Rat).SetInt64(most)) > 0 {
		return quantity.Decimal{}, false
	}
	text := r.FloatString(3)
	text = strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
	d, err := quantity.ParseDecimal(text)
	return d, err == nil && d.Sign() > 0
}

// scaled is a number times a factor.
func scaled(t tree, num, den int64) *big.Rat {
	r, ok := t.rat()
	if !ok {
		return nil
	}
	return r.Mul(r, big.NewRat(num, den))
}

// tenths is a number of decibels in tenths, to the nearest.
func tenths(r *big.Rat) int64 {
	f, _ := r.Float64()
	if f < -1000 || f > 1000 {
		return math.MinInt32
	}
	return int64(math.Round(10 * f))
}

// Limits of measurements, as in a field log.
const (
	maxMbps    = 1_000_000
	maxMs      = 600_000
	maxSeconds = 10_000_000
)
