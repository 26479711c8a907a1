// Package flags has the values of flags that more than one command takes: each reads its
// text, says what it allows, and what a shell may offer for it.
package flags

import (
	"strings"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/words"
)

// Choice is a flag whose value is one of a few words. Letter case does not matter.
type Choice struct {
	Param string // what is chosen, for errors
	Names []string
	Index int // of the chosen name, -1 for none
	// Others are further words, each for one of the names.
	Others map[string]string
}

// Given tells whether a name was chosen.
func (c *Choice) Given() bool { return c.Index >= 0 }

// Set implements pflag.Value.
func (c *Choice) Set(s string) error {
	word := s
	if name, ok := c.Others[strings.ToLower(s)]; ok {
		word = name
	}
	for i, name := range c.Names {
		if strings.EqualFold(word, name) {
			c.Index = i
			return nil
		}
	}
	near, numbers := words.NearestNumber(s, c.Names)
	if !numbers {
		near = words.Nearest(s, c.Names)
	}
	return &bands.ValueError{Param: c.Param, Got: s, Allowed: c.Allowed(), Nearest: near}
}

// Allowed says what the flag takes.
func (c *Choice) Allowed() string { return words.Or(c.Names) }

// Offers is what a shell may offer for the value.
func (c *Choice) Offers(string) []string { return c.Names }

// String implements pflag.Value.
func (c *Choice) String() string {
	if c.Index < 0 || c.Index >= len(c.Names) {
		return ""
	}
	return c.Names[c.Index]
}

// Type implements pflag.Value: help shows it as the value of the flag.
func (c *Choice) Type() string { return strings.Join(c.Names, "|") }

// Allowed says what a flag takes: what its value says itself, else its name in help.
func Allowed(f *pflag.Flag) string {
	if v, ok := f.Value.(interface{ Allowed() string }); ok {
		return v.Allowed()
	}
	name, _ := pflag.UnquoteUsage(f)
	return name
}
