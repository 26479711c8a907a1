package claim

import (
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/quantity"
)

// figureFlag is a flag for a number above zero that keeps its digits.
type figureFlag struct {
	param, unit string
	value       quantity.Decimal
}

// mbpsFlag is a flag for a rate in Mbit/s, which may have another unit.
type mbpsFlag struct{ value quantity.Decimal }

// Set implements pflag.Value.
func (r *mbpsFlag) Set(s string) (err error) {
	r.value, err = quantity.ParseMbps(s)
	return err
}

// Allowed implements valued.
func (*mbpsFlag) Allowed() string { return "a rate in Mbit/s, or with its unit: 612, 1.2 Gbit/s" }

// String implements pflag.Value.
func (r *mbpsFlag) String() string { return r.value.String() }

// Type implements pflag.Value.
func (*mbpsFlag) Type() string { return "RATE" }

// units are what may stand behind a figure whose unit the flag says.
var units = map[string][]string{"MHz": {"MHz", "mhz"}, "SECONDS": {"seconds", "sec", "s"}, "MS": {"ms"}, "PERCENT": {"%"}}

// Set implements pflag.Value.
func (d *figureFlag) Set(s string) error {
	number := strings.TrimSpace(s)
	for _, unit := range units[d.unit] {
		if rest, ok := strings.CutSuffix(number, unit); ok {
			number = strings.TrimSpace(rest)
			break
		}
	}
	v, err := quantity.ParseDecimal(number)
	if err != nil || v.Sign() <= 0 {
		return &bands.ValueError{Param: d.param, Got: s, Allowed: d.Allowed()}
	}
	d.value = v
	return nil
}

// Allowed implements valued.
func (*figureFlag) Allowed() string { return "a plain number above zero, such as 200 or 13.3" }

// String implements pflag.Value.
func (d *figureFlag) String() string { return d.value.String() }

// Type implements pflag.Value.
func (d *figureFlag) Type() string { return d.unit }

// runsFlag is a flag for what was measured: numbers of 0 and more with commas between
// them.
type runsFlag struct {
	param, unit string
	values      []quantity.Decimal
}

// Set implements pflag.Value.
func (r *runsFlag) Set(s string) error {
	var list []quantity.Decimal
	for part := range strings.SplitSeq(s, ",") {
		v, err := quantity.ParseDecimal(strings.TrimSpace(part))
		if err != nil || v.Sign() < 0 {
			return &bands.ValueError{Param: r.param, Got: part, Allowed: r.Allowed()}
		}
		list = append(list, v)
	}
	r.values = append(r.values, list...)
	return nil
}

// Allowed implements valued.
func (*runsFlag) Allowed() string {
	return "plain numbers with commas between them, such as 612,588,640"
}

// String implements pflag.Value.
func (r *runsFlag) String() string {
	words := make([]string, len(r.values))
	for i, v := range r.values {
		words[i] = v.String()
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
