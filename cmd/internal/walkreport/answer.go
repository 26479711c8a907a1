// Package walkreport makes documents, drawings and tables of what samples of a walk tell.
// It knows no output format and no terminal.
package walkreport

import (
	"strconv"
	"strings"
	"time"

	"spectally/cmd/internal/render"
	"spectally/cmd/internal/walk"
	"spectally/cmd/internal/words"
)

// Answer makes a report an answer: JSON is the report itself, CSV has a row for each
// group of samples; the document of text is short.
func Answer(r *walk.Report) *render.Answer {
	return &render.Answer{
		Value:    func() any { return r },
		Document: short(r),
		Whole:    Whole(r),
		Data:     data(r),
	}
}

const title = "Walk"

// short is the document of a screen.
func short(r *walk.Report) []render.Block {
	doc := []render.Block{render.Title{Text: title, Detail: summary(r)}, overview(r)}
	var points render.Points
	for i := range r.Networks {
		n := &r.Networks[i]
		for j := range n.Bands {
			if n.Bands[j].Fit != nil {
				points = append(points, reachSentence(n, &n.Bands[j]))
			}
		}
	}
	for i := range r.Networks {
		if s := waySentence(&r.Networks[i]); s != "" {
			points = append(points, s)
		}
	}
	points = append(points, r.Notes...)
	return append(doc, points, render.List{Kind: render.Cautions, Items: []string{
		"Holds for this way, time, phone and load. --full shows all; never read a phone while driving."}})
}

// Whole is the document with all that the samples tell.
func Whole(r *walk.Report) []render.Block {
	doc := []render.Block{render.Title{Text: title, Detail: summary(r)}, overview(r), curves(r)}
	for i := range r.Networks {
		doc = append(doc, networkPart(&r.Networks[i], r.Site)...)
	}
	return append(doc,
		render.Part{Text: "Samples left out"}, leftOut(r),
		render.Part{Text: "Cautions and sources"},
		render.List{Kind: render.Cautions, Items: r.Cautions},
		render.List{Kind: render.Assumptions, Items: r.Assumptions},
		render.List{Kind: render.Notes, Items: r.Notes},
		render.Sources(r.Sources))
}

// summary says in a line what there is.
func summary(r *walk.Report) string {
	far, long := 0.0, 0.0
	for i := range r.Networks {
		if w := r.Networks[i].Way; w != nil {
			far = max(far, *w)
		}
		if s := r.Networks[i].Seconds; s != nil {
			long = max(long, *s)
		}
	}
	s := words.Counted(int(r.Samples), "sample") + " of " + words.Counted(len(r.Networks), "network")
	if far > 0 {
		s += ", " + length(far)
	}
	if long > 0 {
		s += ", " + duration(long)
	}
	if r.LeftOutCount > 0 {
		s += "; " + strconv.FormatInt(r.LeftOutCount, 10) + " left out"
	}
	return s
}

// overview has a row for each band of each network.
func overview(r *walk.Report) *render.Table {
	t := &render.Table{Columns: []render.Column{
		{Header: "network"}, {Header: "band"},
		{Header: "samples", Align: render.Number},
		{Header: "RSRP", Unit: "dBm", Align: render.Number},
		{Header: "SINR", Unit: "dB", Align: render.Number},
		{Header: "down", Unit: "Mbit/s", Align: render.Number, Deciding: true},
		{Header: "latency", Unit: "ms", Align: render.Number},
		{Header: "of expected", Unit: "%", Align: render.Number},
	}}
	for i := range r.Networks {
		n := &r.Networks[i]
		for j := range n.Bands {
			b := &n.Bands[j]
			t.Rows = append(t.Rows, []string{n.Name, bandName(b), strconv.FormatInt(b.Samples, 10), median(b.RSRP, 1), median(b.SINR, 1),
				median(b.Down, 1), median(b.Latency, 1), percent(b.OfExpected)})
		}
	}
	t.DropEmpty()
	t.Title = "Medians"
	return t
}

func bandName(b *walk.Band) string {
	if b.Band == "" {
		return "not known"
	}
	return b.Band
}

// reachSentence says how the level of a band falls, and how far it reaches.
func reachSentence(n *walk.Network, b *walk.Band) string {
	f := b.Fit
	s := named(n.Name, bandName(b)) + ": " + number(f.Slope, 1) + " dB a decade (" + number(f.SlopeLow, 1) + " to " + number(f.SlopeHigh, 1) + "), spread " + number(f.Sigma, 1) + " dB"
	if len(b.Reach) == 0 {
		return s + ": no fall with distance, no reach"
	}
	r := b.Reach[len(b.Reach)/2]
	s += "; " + number(r.Level, 0) + " dBm to " + length(r.Median) + " in the median, " + length(r.P90) + " at 90 % of places"
	if r.Extrapolated {
		s += ", extrapolated"
	}
	return s
}

// waySentence says what changed along the way; empty for nothing.
func waySentence(n *walk.Network) string {
	var parts []string
	if n.ChangeCount > 0 {
		s := words.Counted(int(n.ChangeCount), "cell change")
		if n.PingPongs > 0 {
			s += ", " + strconv.FormatInt(n.PingPongs, 10) + " ping-pong"
		}
		parts = append(parts, s)
	}
	if n.GapCount > 0 {
		parts = append(parts, words.Counted(int(n.GapCount), "gap")+longest(n.Gaps))
	}
	if len(parts) == 0 {
		return ""
	}
	return named(n.Name, "") + ": " + strings.Join(parts, "; ")
}

// longest says how long the longest of the gaps is.
func longest(gaps []walk.Gap) string {
	var far, long float64
	for i := range gaps {
		if g := &gaps[i]; g.Seconds != nil && *g.Seconds > long {
			long = *g.Seconds
		}
		if g := &gaps[i]; g.Metres != nil && *g.Metres > far {
			far = *g.Metres
		}
	}
	switch {
	case far > 0 && long > 0:
		return ", the longest " + duration(long) + ", the widest " + length(far)
	case far > 0:
		return ", the widest " + length(far)
	case long > 0:
		return ", the longest " + duration(long)
	}
	return ""
}

func named(network, band string) string {
	s := strings.TrimSpace(network + " " + band)
	if s == "" {
		return "all"
	}
	return s
}

// leftOut lists the samples that were not used.
func leftOut(r *walk.Report) render.Block {
	if r.LeftOutCount == 0 {
		return render.Paragraph("None.")
	}
	t := &render.Table{Columns: []render.Column{
		{Header: "file"}, {Header: "line", Align: render.Number}, {Header: "reason"},
	}}
	const shown = 50
	for _, l := range r.LeftOut[:min(len(r.LeftOut), shown)] {
		t.Rows = append(t.Rows, []string{l.File, strconv.FormatInt(l.Line, 10), l.Reason})
	}
	if more := r.LeftOutCount - int64(len(t.Rows)); more > 0 {
		t.Title = "The first " + strconv.Itoa(len(t.Rows)) + " of " + strconv.FormatInt(r.LeftOutCount, 10)
	}
	t.DropEmpty()
	return t
}

// number writes a number to some decimals; a minus sign of typography is for people who
// read tables, so it stays a hyphen.
func number(x float64, places int) string {
	s := strconv.FormatFloat(x, 'f', places, 64)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

func optional(x *float64, places int) string {
	if x == nil {
		return ""
	}
	return number(*x, places)
}

func median(p *walk.Percentiles, places int) string {
	if p == nil {
		return ""
	}
	return number(p.P50, places)
}

// percent is the median of a share.
func percent(p *walk.Percentiles) string {
	if p == nil {
		return ""
	}
	return number(100*p.P50, 0)
}

// length writes metres for people.
func length(m float64) string {
	switch {
	case m < 10:
		return number(m, 1) + " m"
	case m < 10_000:
		return number(m, 0) + " m"
	}
	return number(m/1000, 1) + " km"
}

// duration writes seconds for people.
func duration(seconds float64) string {
	switch d := time.Duration(seconds * float64(time.Second)); {
	case d < 2*time.Minute:
		return number(seconds, 0) + " s"
	case d < 2*time.Hour:
		return number(d.Minutes(), 0) + " min"
	default:
		return number(d.Hours(), 1) + " h"
	}
}
