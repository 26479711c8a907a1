package cli

import (
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
