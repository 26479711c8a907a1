// Package quantity holds figures as people state them: decimals that remember
// their digits, and the sizes of files.
package quantity

import (
	"math/big"
	"strconv"
	"strings"

	"spectally/bands"
)

// Decimal is a decimal number with the digits it was stated with: 200 and 200.0 are
// of the same value, but differ in what they leave open. The zero Decimal is none.
// Decimals compare with == for value and digits together.
type Decimal struct {
	coefficient int64
	places      int8  // digits behind the point; below zero, zeros that were not stated
	unit        uint8 // what one of the figure is, 0 for 1: 8 for bytes as bits
	given       bool
}

const (
	maxDigits = 15
	maxPlaces = 9
)

// NewDecimal makes a decimal of an integer and the number of its digits that stand
// behind the point, at most 9: 1234 and 1 is 123.4.
func NewDecimal(coefficient int64, places int) Decimal {
	return Decimal{coefficient: coefficient, places: int8(min(max(places, 0), maxPlaces)), given: true}
}

// ParseDecimal reads a plain decimal number: "200", "-85.5". It has at most 15
// digits, 9 of them behind the point, and no exponent. Errors are of type
// *bands.ValueError.
func ParseDecimal(s string) (Decimal, error) {
	bad := &bands.ValueError{Param: "number", Got: s, Allowed: "a plain decimal such as 200 or 13.3, of at most 15 digits"}
	digits, negative := strings.CutPrefix(s, "-")
	whole, frac, dotted := strings.Cut(digits, ".")
	if whole == "" || dotted && frac == "" || len(frac) > maxPlaces || len(whole)+len(frac) > maxDigits {
		return Decimal{}, bad
	}
	n, err := strconv.ParseUint(whole+frac, 10, 63)
	if err != nil {
		return Decimal{}, bad
	}
	d := Decimal{coefficient: int64(n), places: int8(len(frac)), given: true}
	if negative {
		d.coefficient = -d.coefficient
	}
	return d, nil
}

// IsGiven tells whether there is a number.
func (d Decimal) IsGiven() bool { return d.given }

// Sign is -1, 0 or +1; 0 for none.
func (d Decimal) Sign() int { return big.NewInt(d.coefficient).Sign() }

// String writes the number with the digits it was stated with; empty for none.
func (d Decimal) String() string {
	if !d.given {
		return ""
	}
	return d.Rat().FloatString(max(int(d.places), 0))
}

// Rat is the exact value; nil for none.
func (d Decimal) Rat() *big.Rat {
	if !d.given {
		return nil
	}
	r := new(big.Rat).SetInt64(d.coefficient)
	return r.Mul(r, d.step())
}

// HalfUnit is half a unit of the last digit stated: what a number that was rounded
// to these digits leaves open on either side. It is nil for none.
func (d Decimal) HalfUnit() *big.Rat {
	if !d.given {
		return nil
	}
	return new(big.Rat).Mul(big.NewRat(1, 2), d.step())
}

// Float is the floating-point number nearest to d, for output alone; 0 for none.
func (d Decimal) Float() float64 {
	if !d.given {
		return 0
	}
	f, _ := d.Rat().Float64()
	return f
}

// Compare orders decimals by value: -1, 0 or +1. None counts as zero.
func (d Decimal) Compare(e Decimal) int {
	return new(big.Rat).Sub(zeroIfNone(d.Rat()), zeroIfNone(e.Rat())).Sign()
}

func zeroIfNone(r *big.Rat) *big.Rat {
	if r == nil {
		return new(big.Rat)
	}
	return r
}

// MarshalJSON writes the number with its digits; null for none.
func (d Decimal) MarshalJSON() ([]byte, error) {
	if !d.given {
		return []byte("null"), nil
	}
	return []byte(d.String()), nil
}

// step is one unit of the last digit stated.
func (d Decimal) step() *big.Rat {
	unit := int64(max(d.unit, 1))
	if d.places < 0 {
		return big.NewRat(unit*powerOfTen(-d.places), 1)
	}
	return big.NewRat(unit, powerOfTen(d.places))
}

func powerOfTen(n int8) int64 {
	p := int64(1)
	for range n {
		p *= 10
	}
	return p
}
