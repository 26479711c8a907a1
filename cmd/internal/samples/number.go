package samples

import (
	"bytes"
	"math"
	"strconv"
	"time"
)

// parseFixed reads a decimal as a whole number of units of 10^-places, halves away from
// zero; false if it is none or does not fit.
func parseFixed(text []byte, places int) (int64, bool) {
	digits, negative := text, false
	if len(digits) > 0 && (digits[0] == '-' || digits[0] == '+') {
		negative = digits[0] == '-'
		digits = digits[1:]
	}
	value, n := int64(0), 0
	for ; n < len(digits) && '0' <= digits[n] && digits[n] <= '9'; n++ {
		value = 10*value + int64(digits[n]-'0')
	}
	if n == 0 || n > mostDigits {
		return 0, false
	}
	decimals := places
	if rest := digits[n:]; len(rest) > 0 {
		if rest[0] == 'e' || rest[0] == 'E' {
			return parseExponent(text, places)
		}
		if rest[0] != '.' || len(rest) == 1 {
			return 0, false
		}
		for i, c := range rest[1:] {
			switch {
			case c == 'e' || c == 'E':
				return parseExponent(text, places)
			case c < '0' || c > '9':
				return 0, false
			case i < places && value > mostTenth:
				return 0, false
			case i < places:
				value = 10*value + int64(c-'0')
				decimals--
			case i == places && c >= '5':
				value++
			}
		}
	}
	for ; decimals > 0; decimals-- {
		if value > mostTenth {
			return 0, false
		}
		value *= 10
	}
	for ; places < 0; places++ { // a unit above one
		rest := value % 10
		value /= 10
		if rest >= 5 && places == -1 {
			value++
		}
	}
	if negative {
		value = -value
	}
	return value, true
}

const (
	mostDigits = 18                       // every number of so many fits
	mostTenth  = (math.MaxInt64 - 9) / 10 // fits with a digit more
)

// parseExponent reads a number in the form 1.5e2, as programs write JSON.
func parseExponent(text []byte, places int) (int64, bool) {
	f, err := strconv.ParseFloat(string(text), 64)
	f = math.Round(f * math.Pow(10, float64(places)))
	if err != nil || math.Abs(f) > 1<<53 {
		return 0, false
	}
	return int64(f), true
}

// parseTime reads a date with a time of day, such as 2031-05-14T18:05:03.25Z (RFC 3339,
// also with a blank for the T and without a zone); zoned tells whether it has one.
func parseTime(text []byte) (at int64, zoned, ok bool) {
	if len(text) < len("2006-01-02T15:04:05") || text[10] != 'T' && text[10] != 't' && text[10] != ' ' ||
		text[4] != '-' || text[7] != '-' || text[13] != ':' || text[16] != ':' {
		return 0, false, false
	}
	two := func(i int) int {
		a, b := text[i]-'0', text[i+1]-'0'
		if a > 9 || b > 9 {
			return 1000 // out of every range
		}
		return int(10*a + b)
	}
	year, month, day := 100*two(0)+two(2), two(5), two(8)
	hour, minute, second := two(11), two(14), two(17)
	if year < 1970 || year > 2200 || month < 1 || month > 12 || day < 1 || day > daysIn(year, month) || hour > 23 || minute > 59 || second > 60 {
		return 0, false, false
	}
	days := int64(daysBefore(year, month) + day - 1)
	at = ((days*24+int64(hour))*60+int64(minute))*60 + int64(second)
	rest := text[19:]
	nanos := int64(0)
	if len(rest) > 1 && (rest[0] == '.' || rest[0] == ',') {
		n, unit := 1, int64(time.Second)
		for ; n < len(rest) && '0' <= rest[n] && rest[n] <= '9'; n++ {
			unit /= 10
			nanos += int64(rest[n]-'0') * unit
		}
		if n == 1 {
			return 0, false, false
		}
		rest = rest[n:]
	}
	at = at*int64(time.Second) + nanos
	switch {
	case len(rest) == 0:
		return at, false, true
	case len(rest) == 1 && (rest[0] == 'Z' || rest[0] == 'z'):
		return at, true, true
	}
	offset, err := time.Parse("-07:00", string(rest))
	if err != nil {
		if offset, err = time.Parse("-0700", string(rest)); err != nil {
			return 0, false, false
		}
	}
	_, seconds := offset.Zone()
	return at - int64(seconds)*int64(time.Second), true, true
}

func leap(year int) bool { return year%4 == 0 && (year%100 != 0 || year%400 == 0) }

func daysIn(year, month int) int {
	switch {
	case month == 2 && leap(year):
		return 29
	case month == 2:
		return 28
	case month == 4 || month == 6 || month == 9 || month == 11:
		return 30
	}
	return 31
}

var daysBeforeMonth = [...]int{0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334}

// daysBefore are the days from 1970 to the beginning of a month.
func daysBefore(year, month int) int {
	y := year - 1
	days := 365*(year-1970) + y/4 - y/100 + y/400 - (1969/4 - 1969/100 + 1969/400) + daysBeforeMonth[month-1]
	if month > 2 && leap(year) {
		days++
	}
	return days
}

// looksLikeDate tells a date from seconds since 1970.
func looksLikeDate(text []byte) bool { return bytes.IndexByte(text, ':') >= 0 }
