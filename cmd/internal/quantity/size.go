package quantity

import (
	"math/big"
	"strings"

	"spectally/bands"
)

// Size is an amount of data, such as that of a file. It remembers how it was
// written. The zero Size is none.
type Size struct {
	text string // "1 GB", "700 MiB"
	bits int64
}

// Units of size with their bits: decimal prefixes are powers of 1000, the binary
// prefixes Ki, Mi, Gi and Ti powers of 1024 (IEC 80000-13, from memory).
var sizeUnits = []struct {
	name string
	bits int64
}{
	{"B", 8}, {"kB", 8e3}, {"MB", 8e6}, {"GB", 8e9}, {"TB", 8e12},
	{"KiB", 8 << 10}, {"MiB", 8 << 20}, {"GiB", 8 << 30}, {"TiB", 8 << 40},
	{"bit", 1}, {"kbit", 1e3}, {"Mbit", 1e6}, {"Gbit", 1e9}, {"Tbit", 1e12},
}

const (
	sizeAllowed = "a number and its unit, such as 1 GB or 700 MiB: kB, MB, GB, TB (powers of 1000), KiB, MiB, GiB, TiB (powers of 1024), or bits: kbit, Mbit, Gbit"
	maxSizeBits = 8e15 // 1000 TB
)

// ParseSize reads a size above zero and up to 1000 TB: "1 GB", "700MiB", "1.5 Gbit".
// A byte has 8 bits, GB is 10^9 bytes and GiB 2^30. The case of letters counts,
// since Mb could be either. A size that is no whole number of bits is rounded to the
// nearest. Errors are of type *bands.ValueError.
func ParseSize(s string) (Size, error) {
	text := strings.TrimSpace(s)
	end := strings.IndexFunc(text, func(r rune) bool { return (r < '0' || r > '9') && r != '.' && r != '-' })
	if end < 0 {
		return Size{}, &bands.ValueError{Param: "size", Got: s, Allowed: sizeAllowed}
	}
	number, name := text[:end], strings.TrimLeft(text[end:], " ")
	d, err := ParseDecimal(number)
	if err != nil {
		return Size{}, &bands.ValueError{Param: "size", Got: s, Allowed: sizeAllowed}
	}
	for _, u := range sizeUnits {
		if u.name != name {
			continue
		}
		bits := roundRat(new(big.Rat).Mul(d.Rat(), new(big.Rat).SetInt64(u.bits)))
		if bits.Sign() <= 0 || bits.Cmp(big.NewInt(maxSizeBits)) > 0 {
			return Size{}, &bands.ValueError{Param: "size", Got: s, Allowed: "above zero, up to 1000 TB"}
		}
		return Size{d.String() + " " + u.name, bits.Int64()}, nil
	}
	return Size{}, &bands.ValueError{Param: "size", Got: s, Allowed: sizeAllowed, Nearest: nearestUnit(number, name)}
}

// nearestUnit is the size with the unit that differs in letter case alone; none for
// a small b, which could stand for bits or bytes.
func nearestUnit(number, name string) string {
	for _, u := range sizeUnits {
		if strings.EqualFold(u.name, name) && !strings.HasSuffix(name, "b") {
			return number + " " + u.name
		}
	}
	return ""
}

// roundRat is the integer nearest to r, halves up.
func roundRat(r *big.Rat) *big.Int {
	twice := new(big.Int).Lsh(r.Num(), 1)
	twice.Add(twice, r.Denom())
	return twice.Div(twice, new(big.Int).Lsh(r.Denom(), 1))
}

// IsGiven tells whether there is a size.
func (s Size) IsGiven() bool { return s.bits > 0 }

// Bits is the size in bits; 0 for none.
func (s Size) Bits() int64 { return s.bits }

// String writes the size as it was stated: "1 GB"; empty for none.
func (s Size) String() string { return s.text }

// MarshalText implements encoding.TextMarshaler.
func (s Size) MarshalText() ([]byte, error) { return []byte(s.text), nil }
