package quantity

import (
	"math/big"

	"spectally/bands"
)

// Rate is a data rate that was stated with its unit. It remembers how it was written.
// The zero Rate is none.
type Rate struct {
	text string // "10 Gbit/s"
	bits int64  // a second
}

const (
	rateAllowed = "a number and its unit, such as 10 Gbit/s: kbit/s, Mbit/s, Gbit/s or Tbit/s (powers of 1000)"
	maxRate     = 1e13 // bit/s
)

// ParseRate reads a rate from 1 kbit/s to 10 Tbit/s with its unit, as [Mbps] does: "10
// Gbit/s", "2.5Gbps". A rate that is no whole number of bits a second is rounded to the
// nearest. Errors are of type *bands.ValueError.
func ParseRate(s string) (Rate, error) {
	d, name, err := Mbps.figure(s)
	u := Mbps.unit(name)
	if err != nil || u == nil {
		return Rate{}, &bands.ValueError{Param: "rate", Got: s, Allowed: rateAllowed}
	}
	bits := roundRat(new(big.Rat).Mul(u.of(d).Rat(), big.NewRat(1_000_000, 1)))
	if bits.Cmp(big.NewInt(1000)) < 0 || bits.Cmp(big.NewInt(maxRate)) > 0 {
		return Rate{}, &bands.ValueError{Param: "rate", Got: s, Allowed: "from 1 kbit/s to 10 Tbit/s"}
	}
	return Rate{d.String() + " " + u.names[0], bits.Int64()}, nil
}

// IsGiven tells whether there is a rate.
func (r Rate) IsGiven() bool { return r.bits > 0 }

// BitsPerSecond is the rate in bit/s; 0 for none.
func (r Rate) BitsPerSecond() int64 { return r.bits }

// String writes the rate as it was stated: "10 Gbit/s"; empty for none.
func (r Rate) String() string { return r.text }
