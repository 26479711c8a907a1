package claim

import (
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/quantity"
)

// figureFlag is a flag for a figure above zero that keeps its digits, with its unit or
// without.
type figureFlag struct {
	measure quantity.Measure
	unit    string // of a bare figure, for help
	value   quantity.Decimal
}

// Set implements pflag.Value.
func (d *figureFlag) Set(s string) (err error) {
	d.value, err = d.measure.Parse(s)
	return err
}

// Allowed implements valued.
func (d *figureFlag) Allowed() string { return d.measure.Allowed() }

// String implements pflag.Value.
func (d *figureFlag) String() string { return d.value.String() }

// Type implements pflag.Value.
func (d *figureFlag) Type() string { return d.unit }

// runsFlag is a flag for what was measured: figures of 0 and more with commas between
// them, each with the distance at which it was measured behind an @ if that is known.
type runsFlag struct {
	measure quantity.Measure
	unit    string
	values  []quantity.Decimal
	metres  []quantity.Decimal // of each, none where it is not said
}

// Set implements pflag.Value.
func (r *runsFlag) Set(s string) error {
	for part := range strings.SplitSeq(s, ",") {
		figure, place, placed := strings.Cut(part, "@")
		v, err := r.measure.ParseAny(figure)
		if err == nil && v.Sign() < 0 {
			err = &bands.ValueError{Param: "measured figure", Got: part, Allowed: r.Allowed()}
		}
		var distance quantity.Decimal
		if err == nil && placed {
			distance, err = quantity.Metres.Parse(place)
		}
		if err != nil {
			return err
		}
		r.values, r.metres = append(r.values, v), append(r.metres, distance)
	}
	return nil
}

// Allowed implements valued.
func (r *runsFlag) Allowed() string {
	return "figures of 0 and more with commas between them, such as 612,588,640"
}

// String implements pflag.Value.
func (r *runsFlag) String() string {
	words := make([]string, len(r.values))
	for i, v := range r.values {
		words[i] = v.String()
		if r.metres[i].IsGiven() {
			words[i] += "@" + r.metres[i].String() + "m"
		}
	}
	return strings.Join(words, ",")
}

// Type implements pflag.Value.
func (r *runsFlag) Type() string { return r.unit }

// sizeFlag is a flag for the size of a transfer.
type sizeFlag struct{ value quantity.Size }

// Set implements pflag.Value.
func (z *sizeFlag) Set(s string) error {
	v, err := quantity.ParseSize(s)
	z.value = v
	return err
}

// Allowed implements valued.
func (*sizeFlag) Allowed() string { return "a number and its unit, such as 1 GB or 700 MiB" }

// String implements pflag.Value.
func (z *sizeFlag) String() string { return z.value.String() }

// Type implements pflag.Value.
func (*sizeFlag) Type() string { return "SIZE" }
