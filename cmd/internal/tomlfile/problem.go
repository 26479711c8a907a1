// Package tomlfile reads a file that a user wrote in TOML and gathers all that is
// wrong with it: every problem with its line, the key, what was given and what is
// allowed. A reader asks a table for its keys; what it never asked for is an unknown
// key.
package tomlfile

import (
	"cmp"
	"errors"
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
)

// Problem is one thing that is wrong with a file.
type Problem struct {
	File  string
	Line  int    // from 1
	Place string // the table in words, such as "network 2, carrier 1"; empty at the top
	Key   string // empty where the table as a whole is meant
	// Err says what was given and what is allowed: a *bands.ValueError for a value,
	// a *MissingError for a key that has to be there.
	Err error
}

// Error writes the problem on one line.
func (p *Problem) Error() string {
	var s strings.Builder
	if p.File != "" {
		s.WriteString(p.File)
		s.WriteByte(':')
	}
	s.WriteString(strconv.Itoa(p.Line))
	s.WriteString(": ")
	s.WriteString(p.Fault())
	return s.String()
}

// Fault is what is wrong and where in the line, without the file and the line.
func (p *Problem) Fault() string {
	var s strings.Builder
	place := p.Place
	if p.Key != "" && !namesKey(p.Err, p.Key) {
		if place != "" {
			place += ", "
		}
		place += p.Key
	}
	if place != "" {
		s.WriteString(place)
		s.WriteString(": ")
	}
	s.WriteString(p.Err.Error())
	return s.String()
}

// namesKey tells whether the message begins with the key anyway.
func namesKey(err error, key string) bool {
	var v *bands.ValueError
	return errors.As(err, &v) && (v.Param == key || v.Param == "key" && v.Got == Shorten(key)) || errors.As(err, new(*MissingError)) || errors.As(err, new(*ConflictError))
}

// Unwrap returns what is wrong.
func (p *Problem) Unwrap() error { return p.Err }

// MissingError says that a key is not there.
type MissingError struct{ Key, Allowed string }

// Error writes the error on one line.
func (e *MissingError) Error() string { return "no " + e.Key + " given: must be " + e.Allowed }

// ConflictError says that keys do not go together.
type ConflictError struct{ Text, Allowed string }

// Error writes the error on one line.
func (e *ConflictError) Error() string { return e.Text + ": must be " + e.Allowed }

// Problems are all that is wrong with a file, in order of line.
type Problems []Problem

// Error writes the problems, one a line.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i := range ps {
		lines[i] = ps[i].Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap returns the problems one by one.
func (ps Problems) Unwrap() []error {
	list := make([]error, len(ps))
	for i := range ps {
		list[i] = &ps[i]
	}
	return list
}

func (ps Problems) sort() {
	slices.SortStableFunc(ps, func(a, b Problem) int { return cmp.Compare(a.Line, b.Line) })
}

// maxShown bounds what a message quotes of the file.
const maxShown = 60

// Shorten cuts a text that is too long to quote.
func Shorten(s string) string {
	n := 0
	for i := range s {
		if n == maxShown {
			return s[:i] + "…"
		}
		n++
	}
	return s
}
