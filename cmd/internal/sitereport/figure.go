package sitereport

import (
	"math"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/figures"
	"spectally/throughput/exact"
)

// Decimals that people are shown; JSON and CSV have more.
const (
	mbpsPlaces  = 1
	bytesPlaces = 1 // of a terabyte or gigabyte
	levelPlaces = 1 // of decibels
)

// fixed writes r in a unit with a number of decimals, halves up.
func fixed(r exact.Ratio, unit int64, places int) string {
	scale := int64(1)
	for range places {
		scale *= 10
	}
	// Reduced first, so that the product fits.
	n := r.Mul(exact.Of(scale, unit).Reduced())
	if n.IsZero() { // zero and not given alike
		n = exact.Whole(0)
	}
	whole := n.Round()
	sign := ""
	if whole < 0 {
		sign, whole = "-", -whole
	}
	s := sign + strconv.FormatInt(whole/scale, 10)
	if places > 0 {
		s += "." + strconv.FormatInt(scale+whole%scale, 10)[1:]
	}
	return s
}

// decimals is fixed without zeros at the end.
func decimals(r exact.Ratio, unit int64, places int) figures.Figure {
	s := fixed(r, unit, places)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return figures.Figure(s)
}

// mbps is a rate for JSON and CSV, to the nearest bit per second.
func mbps(r exact.Ratio) figures.Figure { return decimals(r, 1_000_000, 6) }

// optionalMbps is a rate that may not be given.
func optionalMbps(r exact.Ratio) *figures.Figure {
	if r.IsZero() {
		return nil
	}
	return new(mbps(r))
}

// mbpsText is a rate for people.
func mbpsText(r exact.Ratio) string { return fixed(r, 1_000_000, mbpsPlaces) }

// rateText is a rate with its unit.
func rateText(r exact.Ratio) string { return mbpsText(r) + " Mbit/s" }

// percent is a share for people, with as many decimals as it has, four at most.
func percent(r exact.Ratio) string {
	return string(decimals(r.Mul(exact.Whole(100)), 1, 4))
}

// gigabytes are bytes for JSON and CSV, exact.
func gigabytes(n int64) figures.Figure {
	return decimals(exact.Whole(n), 1_000_000_000, 9)
}

// bytesText are bytes for people, in gigabytes.
func bytesText(n int64) string {
	return fixed(exact.Whole(n), 1_000_000_000, bytesPlaces)
}

func megahertz(f bands.Frequency) figures.Figure { return figures.Figure(f.MHz()) }

// level is a level in decibels for JSON and CSV, to a thousandth.
func level(v float64) figures.Figure { return trimmed(v, 3) }

// levelText is a level for people.
func levelText(v float64) string { return noMinusZero(strconv.FormatFloat(v, 'f', levelPlaces, 64)) }

// trimmed writes a number with some decimals at most.
func trimmed(v float64, places int) figures.Figure {
	s := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return figures.Figure(noMinusZero(s))
}

func noMinusZero(s string) string {
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

// metres is a distance for JSON and CSV, to the metre; nil for none.
func metres(v float64) *figures.Figure {
	if v == 0 {
		return nil
	}
	return new(trimmed(v, 0))
}

// metresText is a distance for people, with three digits.
func metresText(v float64) string {
	if v == 0 {
		return ""
	}
	unit := math.Pow(10, math.Max(0, math.Floor(math.Log10(v))-2))
	return strconv.FormatFloat(math.Round(v/unit)*unit, 'f', 0, 64)
}

// counted writes a number with its noun.
func counted(n int, noun string) string {
	if n != 1 {
		noun += "s"
	}
	return strconv.Itoa(n) + " " + noun
}

// thousands writes a count in groups of three digits.
func thousands(n int64) string {
	s := strconv.FormatInt(n, 10)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + " " + s[i:]
	}
	return s
}

// sentence joins the parts that are not empty by commas.
func sentence(parts ...string) string {
	var words []string
	for _, p := range parts {
		if p != "" {
			words = append(words, p)
		}
	}
	return strings.Join(words, ", ")
}
