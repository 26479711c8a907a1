package figures

import (
	"fmt"
	"strconv"

	"spectally/bands"
	"spectally/throughput/exact"
)

// Mbps is a rate for JSON and CSV, to the nearest bit per second, halves up.
func Mbps(r exact.Ratio) Figure { return Decimals(r, 1_000_000, 6) }

// OptionalMbps is a rate that may not be known.
func OptionalMbps(r exact.Ratio) *Figure {
	if r.IsZero() {
		return nil
	}
	return new(Mbps(r))
}

// Decimals writes r in a unit, rounded to a number of places, halves up, without
// zeros at the end.
func Decimals(r exact.Ratio, unit int64, places int) Figure {
	scale := int64(1)
	for range places {
		scale *= 10
	}
	n := r.Mul(exact.Of(scale, unit)).Round()
	s := strconv.FormatInt(n/scale, 10)
	if rest := n % scale; rest != 0 {
		digits := strconv.FormatInt(scale+rest, 10)[1:]
		for digits[len(digits)-1] == '0' {
			digits = digits[:len(digits)-1]
		}
		s += "." + digits
	}
	return Figure(s)
}

// PerHertz is a rate for each hertz of a width; nil if either is not known.
func PerHertz(r exact.Ratio, width bands.Frequency) *Figure {
	if r.IsZero() || width == 0 {
		return nil
	}
	return new(Decimals(r, int64(width), 4))
}

// Decibels writes a level with two decimals at most.
func Decibels(v float64) Figure {
	s := strconv.FormatFloat(v, 'f', 2, 64)
	for s[len(s)-1] == '0' {
		s = s[:len(s)-1]
	}
	if s[len(s)-1] == '.' {
		s = s[:len(s)-1]
	}
	if s == "-0" {
		s = "0"
	}
	return Figure(s)
}

// MbpsText and perHertzText are rates for people; a dash where one is not known.
func MbpsText(r exact.Ratio) string {
	if r.IsZero() {
		return "–"
	}
	n := r.Mul(exact.Of(1, 1000)).Round()
	return fmt.Sprintf("%d.%03d", n/1000, n%1000)
}

func PerHertzText(r exact.Ratio, width bands.Frequency) string {
	if r.IsZero() || width == 0 {
		return "–"
	}
	n := r.Mul(exact.Of(100, int64(width))).Round()
	return fmt.Sprintf("%d.%02d", n/100, n%100)
}

// Percent writes a share in percent with two decimals.
func Percent(r exact.Ratio) string {
	n := r.Mul(exact.Whole(10000)).Round()
	return fmt.Sprintf("%d.%02d", n/100, n%100)
}
