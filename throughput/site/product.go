package site

import (
	"math/big"

	"spectally/throughput/exact"
)

// exact is n times the factors; nothing is rounded.
func fraction(n int64, factors []exact.Ratio) (num, den *big.Int) {
	num, den = big.NewInt(n), big.NewInt(1)
	var f big.Int
	for _, r := range factors {
		num.Mul(num, f.SetInt64(r.Num))
		den.Mul(den, f.SetInt64(r.Den))
	}
	return num, den
}

// product is n times the factors to the nearest integer, halves up. All are zero or
// above, as are those of wholes and ceiling.
func product(n int64, factors ...exact.Ratio) int64 {
	num, den := fraction(n, factors)
	num.Lsh(num, 1).Add(num, den)
	return num.Quo(num, den.Lsh(den, 1)).Int64()
}

// wholes is the product of the factors, rounded down.
func wholes(factors ...exact.Ratio) int64 {
	num, den := fraction(1, factors)
	return num.Quo(num, den).Int64()
}

// ceiling is the product of the factors, rounded up.
func ceiling(factors ...exact.Ratio) int64 {
	num, den := fraction(1, factors)
	return num.Add(num, den).Sub(num, big.NewInt(1)).Quo(num, den).Int64()
}
