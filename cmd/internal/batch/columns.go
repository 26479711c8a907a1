package batch

import (
	"math"
	"math/big"
	"math/bits"
	"strconv"
	"strings"

	"spectally/throughput/exact"
)

// column is a column that is added.
type column uint8

// The columns that are added, in order: first those that the carriers decide.
const (
	columnValid column = iota
	columnFirstError
	columnConfiguration
	columnSets
	columnDL
	columnUL
	columnOccupied
	columnEquivalent
	columnDLMax
	columnULMax
	columnDLSchedulable
	columnULSchedulable
	columnDLScheduled
	columnULScheduled
	columnHits
	columnWorst
	columnDLOfMax // those that need a measurement begin here
	columnDLOfScheduled
	columnULOfMax
	columnULOfScheduled
	columnDLEfficiency
	columnULEfficiency
	columnRoundTrips
	columnCount
)

var columnNames = [columnCount]string{
	columnValid:         "valid",
	columnFirstError:    "first_error",
	columnConfiguration: "configuration",
	columnSets:          "bandwidth_sets",
	columnDL:            "dl_mhz",
	columnUL:            "ul_mhz",
	columnOccupied:      "occupied_mhz",
	columnEquivalent:    "dl_equivalent_mhz",
	columnDLMax:         "dl_max_rate_mbps",
	columnULMax:         "ul_max_rate_mbps",
	columnDLSchedulable: "dl_schedulable_mbps",
	columnULSchedulable: "ul_schedulable_mbps",
	columnDLScheduled:   "dl_scheduled_mbps",
	columnULScheduled:   "ul_scheduled_mbps",
	columnHits:          "interference_hits",
	columnWorst:         "interference_worst",
	columnDLOfMax:       "dl_share_of_max",
	columnDLOfScheduled: "dl_share_of_scheduled",
	columnULOfMax:       "ul_share_of_max",
	columnULOfScheduled: "ul_share_of_scheduled",
	columnDLEfficiency:  "dl_bps_hz",
	columnULEfficiency:  "ul_bps_hz",
	columnRoundTrips:    "round_trips_per_minute",
}

// Columns lists the names of the columns that are added, without a prefix.
func Columns() []string { return columnNames[:] }

// style is how values are written: as CSV or as JSON.
type style struct {
	json   bool
	prefix string
	before [columnCount]string // what stands before a value
	none   string              // in place of a value that there is not
}

func newStyle(form Form, separator byte, prefix string) style {
	s := style{json: form == JSONLines, prefix: prefix}
	if s.json {
		s.none = "null"
	}
	for c, name := range columnNames {
		s.before[c] = string(separator)
		if s.json {
			s.before[c] = ",\"" + prefix + name + "\":"
		}
	}
	return s
}

// names is the part of a CSV header for the columns that are added.
func (s *style) names(separator byte) string {
	var b strings.Builder
	for _, name := range columnNames {
		b.WriteByte(separator)
		b.WriteString(s.prefix + name)
	}
	return b.String()
}

// value appends a number, true or false; empty for none.
func (s *style) value(dst []byte, c column, text string) []byte {
	dst = append(dst, s.before[c]...)
	if text == "" {
		text = s.none
	}
	return append(dst, text...)
}

// text appends a text of plain letters, digits and marks; empty for none.
func (s *style) text(dst []byte, c column, text string) []byte {
	if text != "" && s.json {
		text = strconv.Quote(text)
	}
	return s.value(dst, c, text)
}

// numbers appends a list of numbers.
func (s *style) numbers(dst []byte, c column, list []int) []byte {
	dst = append(dst, s.before[c]...)
	between := byte(' ')
	if s.json {
		between = ','
		dst = append(dst, '[')
	}
	for i, n := range list {
		if i > 0 {
			dst = append(dst, between)
		}
		dst = strconv.AppendInt(dst, int64(n), 10)
	}
	if s.json {
		dst = append(dst, ']')
	}
	return dst
}

// measured appends the columns that need a measurement.
func (s *style) measured(dst []byte, r *row, a *answer) []byte {
	d, u, l := r.figures[down], r.figures[up], r.figures[latency]
	dst = s.share(dst, columnDLOfMax, d, a.downlink.max)
	dst = s.share(dst, columnDLOfScheduled, d, a.downlink.scheduled)
	dst = s.share(dst, columnULOfMax, u, a.uplink.max)
	dst = s.share(dst, columnULOfScheduled, u, a.uplink.scheduled)
	dst = s.quotient(dst, columnDLEfficiency, d, quotient{d.coefficient, bitsOfMega * scale, a.downlink.width, powersOfTen[d.places]})
	dst = s.quotient(dst, columnULEfficiency, u, quotient{u.coefficient, bitsOfMega * scale, a.uplink.width, powersOfTen[u.places]})
	return s.quotient(dst, columnRoundTrips, l, quotient{60_000 * scale, powersOfTen[l.places], l.coefficient, 1})
}

// share appends a measured rate in Mbit/s as a share of a ceiling in bit/s.
func (s *style) share(dst []byte, c column, f figure, ceiling rate) []byte {
	return s.quotient(dst, c, f, quotient{f.coefficient, ceiling.scaled, ceiling.num, powersOfTen[f.places]})
}

// mbps appends a rate in Mbit/s, to the nearest bit per second.
func (s *style) mbps(dst []byte, c column, r exact.Ratio) []byte {
	dst = append(dst, s.before[c]...)
	if r.IsZero() {
		return append(dst, s.none...)
	}
	return quotient{uint64(r.Num), scale, uint64(r.Den), bitsOfMega}.append(dst)
}

// quotient appends a quotient that needs a figure: rounded, without zeros behind.
func (s *style) quotient(dst []byte, c column, f figure, q quotient) []byte {
	dst = append(dst, s.before[c]...)
	if !f.given || q.c == 0 {
		return append(dst, s.none...)
	}
	return q.append(dst)
}

const (
	bitsOfMega    = 1_000_000
	scale         = 1_000_000 // quotients are written with six decimals
	scaleDecimals = 6
)

var powersOfTen = [maxPlaces + 1]uint64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9}

// quotient is a*b / (c*d) in units of 1/scale.
type quotient struct{ a, b, c, d uint64 }

// append writes the quotient to six decimals, halves up.
func (q quotient) append(dst []byte) []byte {
	high, low := bits.Mul64(q.a, q.b)
	over, divisor := bits.Mul64(q.c, q.d)
	if over != 0 || high >= divisor {
		return q.appendSlowly(dst)
	}
	n, rest := bits.Div64(high, low, divisor)
	if n == math.MaxUint64 {
		return q.appendSlowly(dst)
	}
	if rest >= divisor-rest {
		n++
	}
	if whole := n / scale; whole < 10 {
		dst = append(dst, byte('0'+whole))
	} else {
		dst = strconv.AppendUint(dst, whole, 10)
	}
	decimals := n % scale
	if decimals == 0 {
		return dst
	}
	high2, middle2, low2 := 2*(decimals/10_000), 2*(decimals/100%100), 2*(decimals%100)
	digits := [...]byte{'.', pairs[high2], pairs[high2+1], pairs[middle2], pairs[middle2+1], pairs[low2], pairs[low2+1]}
	last := len(digits)
	for digits[last-1] == '0' {
		last--
	}
	return append(dst, digits[:last]...)
}

// pairs are the numbers from 00 to 99, one after the other.
const pairs = "00010203040506070809101112131415161718192021222324252627282930313233343536373839404142434445464748495051525354555657585960616263646566676869707172737475767778798081828384858687888990919293949596979899"

// appendSlowly is append for numbers beyond 64 bits.
func (q quotient) appendSlowly(dst []byte) []byte {
	product := func(x, y uint64) *big.Int {
		return new(big.Int).Mul(new(big.Int).SetUint64(x), new(big.Int).SetUint64(y))
	}
	divisor := product(q.c, q.d)
	n, rest := new(big.Int).QuoRem(product(q.a, q.b), divisor, new(big.Int))
	if rest.Cmp(new(big.Int).Sub(divisor, rest)) >= 0 {
		n.Add(n, big.NewInt(1))
	}
	text := n.String()
	for len(text) <= scaleDecimals {
		text = "0" + text
	}
	point := len(text) - scaleDecimals
	return append(dst, strings.TrimRight(strings.TrimRight(text[:point]+"."+text[point:], "0"), ".")...)
}
