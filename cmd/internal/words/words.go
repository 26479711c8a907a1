// Package words writes lists, counts and lines of sentences, and finds the word that a
// mistyped one was meant to be.
package words

import (
	"math"
	"strconv"
	"strings"

	"spectally/bands"
)

// Or writes words as "a, b or c".
func Or(list []string) string { return joined(list, " or ") }

// And writes words as "a, b and c".
func And(list []string) string { return joined(list, " and ") }

func joined(list []string, last string) string {
	n := len(list) - 1
	if n < 1 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:n], ", ") + last + list[n]
}

// Counted writes a number with what is counted, whose plural ends in s.
func Counted(n int, noun string) string {
	if n != 1 {
		noun += "s"
	}
	return strconv.Itoa(n) + " " + noun
}

// Sentence begins with a capital, unless with the name of a band, and ends with a point.
func Sentence(s string) string {
	if s == "" {
		return s
	}
	if band := len(s) > 1 && s[0] == 'n' && s[1] >= '0' && s[1] <= '9'; s[0] >= 'a' && s[0] <= 'z' && !band {
		s = strings.ToUpper(s[:1]) + s[1:]
	}
	if !strings.HasSuffix(s, ".") {
		s += "."
	}
	return s
}

// Nearest returns the word that a mistyped one was most likely meant to be: one that it
// begins, or one that a few changed letters make of it; empty if there is none.
func Nearest(mistyped string, list []string) string {
	typed := strings.ToLower(mistyped)
	best, least := "", max(1, len(typed)/2)+1
	for _, w := range list {
		d := bands.EditDistance(typed, strings.ToLower(w))
		if len(typed) > 1 && strings.HasPrefix(strings.ToLower(w), typed) {
			d = 1
		}
		if d < least {
			best, least = w, d
		}
	}
	return best
}

// NearestNumber returns the word that is nearest as a number, the lower of two, where
// all words are numbers; empty if s is none.
func NearestNumber(s string, list []string) (near string, numbers bool) {
	v, err := strconv.ParseFloat(s, 64)
	least := math.Inf(1)
	for _, w := range list {
		n, bad := strconv.ParseFloat(w, 64)
		if bad != nil {
			return "", false
		}
		if d := math.Abs(n - v); err == nil && d < least {
			near, least = w, d
		}
	}
	return near, true
}
