package bands

import "strings"

// Span is a piece of spectrum from Low to High. The zero Span is none.
type Span struct{ Low, High Frequency }

// IsZero tells whether s is no spectrum.
func (s Span) IsZero() bool { return s == Span{} }

// Width is the width of the spectrum.
func (s Span) Width() Frequency { return s.High - s.Low }

// Contains tells whether f lies in s, edges included.
func (s Span) Contains(f Frequency) bool { return !s.IsZero() && s.Low <= f && f <= s.High }

// Covers tells whether all of t lies in s.
func (s Span) Covers(t Span) bool { return !s.IsZero() && s.Low <= t.Low && t.High <= s.High }

// Overlaps tells whether s and t share spectrum; touching edges do not count.
func (s Span) Overlaps(t Span) bool {
	return !s.IsZero() && !t.IsZero() && s.Low < t.High && t.Low < s.High
}

// Around is the spectrum of a channel of the given width around its centre.
func Around(centre, width Frequency) Span {
	return Span{centre - width/2, centre - width/2 + width}
}

// String writes s in megahertz: "3300-3800 MHz"; "none" for the zero Span.
func (s Span) String() string {
	if s.IsZero() {
		return "none"
	}
	return s.Low.MHz() + "-" + s.High.MHz() + " MHz"
}

// parseSpan reads "3300-3800" in megahertz, or an empty field as no spectrum.
func parseSpan(field string) (Span, error) {
	if field == "" {
		return Span{}, nil
	}
	low, high, _ := strings.Cut(field, "-")
	l, err := ParseMHz(low)
	if err != nil {
		return Span{}, err
	}
	h, err := ParseMHz(high)
	if err != nil {
		return Span{}, err
	}
	return Span{l, h}, nil
}
