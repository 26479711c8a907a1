package bands

import (
	"slices"
	"strings"

	"spectally/data"
)

// placeLimit is where channels of some widths have to lie in a band.
type placeLimit struct {
	direction Direction
	widths    []Frequency
	centre    bool   // the spans are for the centre, not for the whole channel
	spans     []Span // nil for a clash
	wider     []Span // also, for UEs that support a wider channel of the band
	clash     Span   // centres that cannot be used, and all of them each step further on
	step      Frequency
	count     int
	source    Source
}

var (
	placeTables = data.Lazy("placement")
	placeLimits = lazy(loadPlaceLimits)
)

func loadPlaceLimits() map[ID][]placeLimit {
	m := make(map[ID][]placeLimit)
	for _, id := range []string{"nr-inside", "lte-inside", "nr-clash"} {
		t := data.Find(placeTables(), id)
		for _, row := range t.Rows {
			band := must(ParseID(row[0]))
			l := placeLimit{direction: Downlink, source: t.Source}
			if row[1] == "ul" {
				l.direction = Uplink
			}
			for w := range strings.SplitSeq(row[2], ",") {
				l.widths = append(l.widths, must(ParseMHz(w)))
			}
			if id == "nr-clash" {
				l.clash, l.step, l.count = must(parseSpan(row[3])), must(ParseMHz(row[4])), number(row[5])
			} else {
				l.centre, l.spans, l.wider = row[3] == "centre", parseSpans(row[4]), parseSpans(row[5])
			}
			m[band] = append(m[band], l)
		}
	}
	return m
}

// parseSpans reads spans with commas between them; a single frequency is a span too.
func parseSpans(field string) []Span {
	if field == "" {
		return nil
	}
	var list []Span
	for s := range strings.SplitSeq(field, ",") {
		if !strings.Contains(s, "-") {
			s += "-" + s
		}
		list = append(list, must(parseSpan(s)))
	}
	return list
}

// PlaceFault tells what is wrong with the place of a channel.
type PlaceFault struct {
	Err *ValueError
	// Forbidden tells that the channel cannot be used there; otherwise the standard's
	// requirements are not set for it there.
	Forbidden bool
	// WiderUE tells that they are for UEs that support a wider channel of the band.
	WiderUE bool
}

// PlaceFault compares the place of a channel with what the notes on its width allow in
// a direction (TS 38.101-1 Table 5.3.5-1, TS 36.101 Table 5.6.1-1); ok is false where
// they say nothing against it.
func (b *Band) PlaceFault(d Direction, centre, width Frequency) (fault PlaceFault, ok bool) {
	for _, l := range placeLimits()[b.ID] {
		if l.direction != d || !slices.Contains(l.widths, width) {
			continue
		}
		what, got := " channel", Around(centre, width).String()
		if l.centre || l.spans == nil {
			what, got = " carrier centre", centre.MHz()+" MHz"
		}
		e := &ValueError{Param: b.ID.String() + " " + d.String() + what + " with " + width.MHz() + " MHz", Got: got, Source: l.source}
		switch {
		case l.spans == nil && l.clashes(centre):
			e.Allowed = "a centre that keeps clear of the synchronisation raster: not " + l.clash.String() + " and every " + l.step.MHz() + " MHz further on"
			return PlaceFault{Err: e, Forbidden: true}, true
		case l.spans == nil || l.within(l.spans, centre, width):
			continue
		}
		var allowed []string
		for _, s := range l.spans {
			if s.Low == s.High {
				allowed = append(allowed, s.Low.MHz()+" MHz")
			} else {
				allowed = append(allowed, s.String())
			}
		}
		e.Allowed = strings.Join(allowed, " or ") + ", for which alone the standard has requirements"
		return PlaceFault{Err: e, WiderUE: l.within(l.wider, centre, width)}, true
	}
	return PlaceFault{}, false
}

func (l *placeLimit) within(spans []Span, centre, width Frequency) bool {
	return slices.ContainsFunc(spans, func(s Span) bool {
		if l.centre {
			return s.Contains(centre)
		}
		return s.Covers(Around(centre, width))
	})
}

// clashes tells whether the centre is in one of the spans that repeat.
func (l *placeLimit) clashes(centre Frequency) bool {
	above := centre - l.clash.Low
	return above >= 0 && above%l.step < l.clash.Width() && int(above/l.step) < l.count
}
