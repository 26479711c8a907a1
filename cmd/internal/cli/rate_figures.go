package cli

import (
	"fmt"
	"strconv"

	"spectally/bands"
	"spectally/throughput"
)

// mbps is a rate for JSON and CSV, to the nearest bit per second, halves up.
func mbps(r throughput.Ratio) figure { return decimals(r, 1_000_000, 6) }

// optionalMbps is a rate that may not be known.
func optionalMbps(r throughput.Ratio) *figure {
	if r.IsZero() {
		return nil
	}
	return new(mbps(r))
}

// decimals writes r in a unit, rounded to a number of places, halves up, without
// zeros at the end.
func decimals(r throughput.Ratio, unit int64, places int) figure {
	scale := int64(1)
	for range places {
		scale *= 10
	}
	n := r.Mul(throughput.Ratio{Num: scale, Den: unit}).Round()
	s := strconv.FormatInt(n/scale, 10)
	if rest := n % scale; rest != 0 {
		digits := strconv.FormatInt(scale+rest, 10)[1:]
		for digits[len(digits)-1] == '0' {
			digits = digits[:len(digits)-1]
		}
		s += "." + digits
	}
	return figure(s)
}

// perHertz is a rate for each hertz of a width; nil if either is not known.
func perHertz(r throughput.Ratio, width bands.Frequency) *figure {
	if r.IsZero() || width == 0 {
		return nil
	}
	return new(decimals(r, int64(width), 4))
}

// decibels writes a level with two decimals at most.
func decibels(v float64) figure {
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
	return figure(s)
}

// mbpsText and perHertzText are rates for people; a dash where one is not known.
func mbpsText(r throughput.Ratio) string {
	if r.IsZero() {
		return "–"
	}
	n := r.Mul(throughput.Ratio{Num: 1, Den: 1000}).Round()
	return fmt.Sprintf("%d.%03d", n/1000, n%1000)
}

func perHertzText(r throughput.Ratio, width bands.Frequency) string {
	if r.IsZero() || width == 0 {
		return "–"
	}
	n := r.Mul(throughput.Ratio{Num: 100, Den: int64(width)}).Round()
	return fmt.Sprintf("%d.%02d", n/100, n%100)
}

// percent writes a share in percent with two decimals.
func percent(r throughput.Ratio) string {
	n := r.Mul(throughput.Ratio{Num: 10000, Den: 1}).Round()
	return fmt.Sprintf("%d.%02d", n/100, n%100)
}
