// Package figures writes numbers: with exactly the digits that JSON and CSV show, and
// rounded for people.
package figures

import (
	"spectally/bands"
)

// Figure is a number that JSON writes with exactly the digits it has.
type Figure string

// MarshalJSON implements json.Marshaler.
func (f Figure) MarshalJSON() ([]byte, error) { return []byte(f), nil }

// MHz and kilohertz are frequencies for JSON, exact to 1 Hz.
func MHz(f bands.Frequency) Figure { return Figure(f.MHz()) }
func KHz(f bands.Frequency) Figure { return Figure(f.KHz()) }

// Edges returns the limits of a span in megahertz for JSON; null if there is
// none.
func Edges(s bands.Span) (low, high *Figure) {
	if s.IsZero() {
		return nil, nil
	}
	l, h := MHz(s.Low), MHz(s.High)
	return &l, &h
}

// EdgesText is the span's limits for people and tables; empty if there is none.
func EdgesText(s bands.Span) (low, high string) {
	if s.IsZero() {
		return "", ""
	}
	return s.Low.MHz(), s.High.MHz()
}

// Present makes an empty list of nothing, so that JSON shows [] and not null.
func Present[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}
