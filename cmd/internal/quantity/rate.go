package quantity

import (
	"math/big"
	"strings"

	"spectally/bands"
)

// Rate is a data rate that was stated with its unit. It remembers how it was written.
// The zero Rate is none.
type Rate struct {
	text string // "10 Gbit/s"
	bits int64  // a second
}

var rateUnits = []struct {
	name string
	bits int64
}{{"kbit/s", 1e3}, {"Mbit/s", 1e6}, {"Gbit/s", 1e9}, {"Tbit/s", 1e12}}

const (
	rateAllowed = "a number and its unit, such as 10 Gbit/s: kbit/s, Mbit/s, Gbit/s or Tbit/s (powers of 1000)"
	maxRate     = 1e13 // bit/s
)

// ParseRate reads a rate from 1 kbit/s to 10 Tbit/s: "10 Gbit/s", "2.5Gbit/s". Letter
// case does not matter. A rate that is no whole number of bits a second is rounded to
// the nearest. Errors are of type *bands.ValueError.
func ParseRate(s string) (Rate, error) {
	bad := &bands.ValueError{Param: "rate", Got: s, Allowed: rateAllowed}
	text := strings.TrimSpace(s)
	end := strings.IndexFunc(text, func(r rune) bool { return (r < '0' || r > '9') && r != '.' && r != '-' })
	number := text
	if end >= 0 {
		number = text[:end]
	}
	d, err := ParseDecimal(number)
	if err != nil {
		return Rate{}, bad
	}
	for _, u := range rateUnits {
		if end < 0 || !strings.EqualFold(u.name, strings.TrimLeft(text[end:], " ")) {
			continue
		}
		bits := roundRat(new(big.Rat).Mul(d.Rat(), new(big.Rat).SetInt64(u.bits)))
		if bits.Cmp(big.NewInt(1000)) < 0 || bits.Cmp(big.NewInt(maxRate)) > 0 {
			return Rate{}, &bands.ValueError{Param: "rate", Got: s, Allowed: "from 1 kbit/s to 10 Tbit/s"}
		}
		return Rate{d.String() + " " + u.name, bits.Int64()}, nil
	}
	return Rate{}, bad
}

// IsGiven tells whether there is a rate.
func (r Rate) IsGiven() bool { return r.bits > 0 }

// BitsPerSecond is the rate in bit/s; 0 for none.
func (r Rate) BitsPerSecond() int64 { return r.bits }

// String writes the rate as it was stated: "10 Gbit/s"; empty for none.
func (r Rate) String() string { return r.text }
