package cli

import (
	"math"
	"strconv"
	"strings"

	"spectally/bands"
)

// choice is a flag whose value is one of a few words. Letter case does not
// matter.
type choice struct {
	param string // what is chosen, for errors
	names []string
	index int // of the chosen name, -1 for none
}

// given tells whether a name was chosen.
func (c *choice) given() bool { return c.index >= 0 }

// Set implements pflag.Value.
func (c *choice) Set(s string) error {
	for i, name := range c.names {
		if strings.EqualFold(s, name) {
			c.index = i
			return nil
		}
	}
	near, numbers := nearestNumber(s, c.names)
	if !numbers {
		near = nearest(s, c.names)
	}
	return &bands.ValueError{Param: c.param, Got: s, Allowed: c.allowed(), Nearest: near}
}

// nearestNumber returns the word that is nearest as a number, the lower of two, where
// all words are numbers; empty if s is none.
func nearestNumber(s string, words []string) (near string, numbers bool) {
	v, err := strconv.ParseFloat(s, 64)
	least := math.Inf(1)
	for _, w := range words {
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

// allowed implements valued.
func (c *choice) allowed() string { return alternatives(c.names) }

// String implements pflag.Value.
func (c *choice) String() string {
	if c.index < 0 || c.index >= len(c.names) {
		return ""
	}
	return c.names[c.index]
}

// Type implements pflag.Value: help shows it as the value of the flag.
func (c *choice) Type() string { return strings.Join(c.names, "|") }

// alternatives writes words as "a, b or c".
func alternatives(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}

// nearest returns the word that a mistyped one was most likely meant to be: one
// that it begins, or one that a few changed letters make of it; empty if there
// is none.
func nearest(mistyped string, words []string) string {
	typed := strings.ToLower(mistyped)
	best, least := "", max(1, len(typed)/2)+1
	for _, w := range words {
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
