package cli

import (
	"spectally/bands"
)

// figure is a number that JSON writes with exactly the digits it has.
type figure string

// MarshalJSON implements json.Marshaler.
func (f figure) MarshalJSON() ([]byte, error) { return []byte(f), nil }

// megahertz and kilohertz are frequencies for JSON, exact to 1 Hz.
func megahertz(f bands.Frequency) figure { return figure(f.MHz()) }
func kilohertz(f bands.Frequency) figure { return figure(f.KHz()) }

// edges returns the limits of a span in megahertz for JSON; null if there is
// none.
func edges(s bands.Span) (low, high *figure) {
	if s.IsZero() {
		return nil, nil
	}
	l, h := megahertz(s.Low), megahertz(s.High)
	return &l, &h
}

// mhzText is the span's limits for people and tables; empty if there is none.
func mhzText(s bands.Span) (low, high string) {
	if s.IsZero() {
		return "", ""
	}
	return s.Low.MHz(), s.High.MHz()
}

// present makes an empty list of nothing, so that JSON shows [] and not null.
func present[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}
