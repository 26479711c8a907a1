package siteplan

import (
	"math/big"
	"strconv"

	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/tomlfile"
	"spectally/throughput/exact"
)

// maxPlaces bounds the decimals of percentages and factors, so that sums of them stay
// exact.
const maxPlaces = 4

// maxMbps bounds the rate of a user.
const maxMbps = 1_000_000

func itoa(n int) string { return strconv.Itoa(n) }

// readShare reads a percentage as a part of 1.
func readShare(t *tomlfile.Table, key, what, low, high string) (exact.Ratio, bool) {
	return readFactor(t, key, what, low, high, 100)
}

// readFactor reads a number between two limits and divides it.
func readFactor(t *tomlfile.Table, key, what, low, high string, by int64) (exact.Ratio, bool) {
	least, most := limit(low), limit(high)
	d, ok := t.Number(key, tomlfile.Optional, -1_000_000, 1_000_000, what)
	if !ok {
		return exact.Ratio{}, false
	}
	scaled := new(big.Rat).Mul(d.Rat(), big.NewRat(pow10(maxPlaces), 1))
	if d.Compare(least) < 0 || d.Compare(most) > 0 || !scaled.IsInt() {
		from := low
		if low == "0.0001" {
			from = "above zero"
		}
		allowed := what + ", from " + from + " to " + high
		if from != low {
			allowed = what + ", above zero and up to " + high
		}
		t.Refuse(key, d.String(), allowed+", with "+itoa(maxPlaces)+" decimals at most")
		return exact.Ratio{}, false
	}
	return ratio(new(big.Rat).Quo(d.Rat(), big.NewRat(by, 1))), true
}

func limit(s string) quantity.Decimal {
	d, err := quantity.ParseDecimal(s)
	if err != nil {
		panic("siteplan: bad limit " + s)
	}
	return d
}

func pow10(n int) int64 {
	p := int64(1)
	for range n {
		p *= 10
	}
	return p
}

// ratio is a fraction whose terms are known to fit.
func ratio(r *big.Rat) exact.Ratio {
	return exact.Of(r.Num().Int64(), r.Denom().Int64())
}

// readMbps reads the rate of a user; to whole bits a second.
func readMbps(t *tomlfile.Table, key string) exact.Ratio {
	const what = "the rate of a user in Mbit/s"
	d, ok := t.PositiveIn(key, tomlfile.Optional, &quantity.Mbps, maxMbps, what)
	if !ok {
		return exact.Ratio{}
	}
	bits := new(big.Rat).Mul(d.Rat(), big.NewRat(1_000_000, 1))
	if !bits.IsInt() || bits.Cmp(big.NewRat(1000, 1)) < 0 {
		t.Refuse(key, d.String(), what+" from 0.001 to "+itoa(maxMbps)+", in whole bit/s")
		return exact.Ratio{}
	}
	return ratio(bits)
}
