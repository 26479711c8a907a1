package bands

import (
	"strconv"
	"strings"
)

// Frequency is a frequency or a width of spectrum in whole hertz, so that sums
// and differences are exact.
type Frequency int64

// Units of frequency.
const (
	Hz  Frequency = 1
	KHz           = 1000 * Hz
	MHz           = 1000 * KHz
	GHz           = 1000 * MHz
)

var frequencyUnits = [...]struct {
	name   string
	size   Frequency
	digits int // decimals that reach down to 1 Hz
}{{"GHz", GHz, 9}, {"MHz", MHz, 6}, {"kHz", KHz, 3}, {"Hz", Hz, 0}} // "Hz" last: it also ends the others

const frequencyAllowed = "a number and a unit, exact to 1 Hz, such as 3540.96 MHz, 3.5 GHz or 15 kHz"

// ParseFrequency reads a decimal number and its unit, with or without a blank
// between them: "3540.96 MHz", "3.5GHz", "15 kHz". Letter case does not matter.
// A value finer than 1 Hz, negative, or above 1000 GHz is an error; nothing is
// rounded.
func ParseFrequency(s string) (Frequency, error) {
	text := strings.TrimSpace(s)
	for _, u := range frequencyUnits {
		cut := len(text) - len(u.name)
		if cut < 0 || !strings.EqualFold(text[cut:], u.name) {
			continue
		}
		if f, ok := parseDecimal(strings.TrimSpace(text[:cut]), u.size, u.digits); ok {
			return f, nil
		}
		break
	}
	return 0, &ValueError{Param: "frequency", Got: s, Allowed: frequencyAllowed}
}

// ParseMHz reads a decimal number of megahertz without a unit: "80", "1.4".
func ParseMHz(s string) (Frequency, error) {
	if f, ok := parseDecimal(s, MHz, 6); ok {
		return f, nil
	}
	return 0, &ValueError{Param: "megahertz", Got: s, Allowed: "a number such as 80 or 1.4, exact to 1 Hz"}
}

func parseDecimal(s string, unit Frequency, digits int) (Frequency, bool) {
	if f, ok := parseShort(s); ok {
		return f * unit, f <= 1000*GHz/unit
	}
	whole, frac, dotted := strings.Cut(s, ".")
	if whole == "" || len(whole) > 13 || (dotted && frac == "") {
		return 0, false
	}
	frac = strings.TrimRight(frac, "0")
	if len(frac) > digits {
		return 0, false
	}
	w, err := strconv.ParseUint(whole, 10, 63)
	if err != nil || w > uint64(1000*GHz/unit) {
		return 0, false
	}
	f := Frequency(w) * unit
	scale := unit
	for _, c := range frac {
		if c < '0' || c > '9' {
			return 0, false
		}
		scale /= 10
		f += Frequency(c-'0') * scale
	}
	return f, f <= 1000*GHz
}

// parseShort reads a few digits, the usual case, without further ado.
func parseShort(s string) (Frequency, bool) {
	if len(s) == 0 || len(s) > 6 {
		return 0, false
	}
	n := Frequency(0)
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return 0, false
		}
		n = 10*n + Frequency(s[i]-'0')
	}
	return n, true
}

// String writes f exactly, in the largest unit not above it: "3.5 GHz",
// "1.4 MHz", "15 kHz".
func (f Frequency) String() string {
	u := frequencyUnits[len(frequencyUnits)-1]
	for _, v := range frequencyUnits {
		if f >= v.size || f <= -v.size {
			u = v
			break
		}
	}
	return f.decimal(u.size, u.digits) + " " + u.name
}

// MHz writes f exactly as a decimal number of megahertz: "3540.96".
func (f Frequency) MHz() string { return f.decimal(MHz, 6) }

// KHz writes f exactly as a decimal number of kilohertz: "692.5".
func (f Frequency) KHz() string { return f.decimal(KHz, 3) }

// InMHz returns f in megahertz as the nearest floating-point number, for
// output alone.
func (f Frequency) InMHz() float64 { return float64(f) / float64(MHz) }

// InKHz returns f in kilohertz as the nearest floating-point number, for
// output alone.
func (f Frequency) InKHz() float64 { return float64(f) / float64(KHz) }

func (f Frequency) decimal(unit Frequency, digits int) string {
	var buf [32]byte
	b := buf[:0]
	size, scale := uint64(f), uint64(unit)
	if f < 0 {
		b = append(b, '-')
		size = -size
	}
	b = strconv.AppendUint(b, size/scale, 10)
	if rest := size % scale; rest != 0 {
		b = append(b, '.')
		for range digits {
			scale /= 10
			b = append(b, '0'+byte(rest/scale))
			if rest %= scale; rest == 0 {
				break
			}
		}
	}
	return string(b)
}
