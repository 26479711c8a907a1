package ca

import (
	"strconv"
	"strings"
)

// Level is a level or a ratio in hundredths of a decibel, or none. Levels compare
// with ==; the zero Level is none.
type Level struct {
	hundredths int32
	given      bool
}

// LevelOf makes a level of hundredths of a decibel.
func LevelOf(hundredths int32) Level { return Level{hundredths, true} }

// IsGiven tells whether there is a level.
func (l Level) IsGiven() bool { return l.given }

// Hundredths returns the level in hundredths of a decibel; zero for none.
func (l Level) Hundredths() int32 { return l.hundredths }

// DB returns the level in decibels; zero for none.
func (l Level) DB() float64 { return float64(l.hundredths) / 100 }

// String writes the level in decibels, exactly: "-85.5"; empty for none.
func (l Level) String() string {
	if !l.given {
		return ""
	}
	h := l.hundredths
	sign := ""
	if h < 0 {
		sign, h = "-", -h
	}
	s := sign + strconv.Itoa(int(h/100))
	if h%100 != 0 {
		s += "." + strings.TrimRight(strconv.Itoa(100 + int(h%100))[1:], "0")
	}
	return s
}

// parseLevel reads decibels with at most two decimals between low and high, both
// in whole decibels. The minus sign of print (U+2212) counts as a hyphen.
func parseLevel(s string, low, high int32) (Level, bool) {
	digits, negative := strings.CutPrefix(s, "-")
	if !negative {
		digits, negative = strings.CutPrefix(s, "\u2212")
	}
	whole, frac, dotted := strings.Cut(digits, ".")
	if whole == "" || len(whole) > 4 || len(frac) > 2 || dotted && frac == "" {
		return Level{}, false
	}
	w, err := strconv.ParseUint(whole, 10, 16)
	if err != nil {
		return Level{}, false
	}
	h := int32(w) * 100
	for i, scale := 0, int32(10); i < len(frac); i, scale = i+1, scale/10 {
		if frac[i] < '0' || frac[i] > '9' {
			return Level{}, false
		}
		h += int32(frac[i]-'0') * scale
	}
	if negative {
		h = -h
	}
	return LevelOf(h), low*100 <= h && h <= high*100
}
