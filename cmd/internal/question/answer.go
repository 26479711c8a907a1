package question

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/flags"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/spectrum"
	"spectally/cmd/internal/words"
	"spectally/throughput/exact"
)

// Ask answers a command line in full.
type Ask func(args []string) (*render.Answer, error)

// Value is the answer as JSON shows it.
type Value struct {
	Question string `json:"question"`
	Kind     Kind   `json:"kind"`
	Answer   any    `json:"answer"` // of the command that it stands for
}

// Answer answers a question shortly, and holds a measurement against it.
func Answer(q *Question, m Measured, ask Ask) (*render.Answer, error) {
	if m.given() && q.Kind != Carriers && q.Kind != Configuration || m.given() && len(q.bands) > 0 {
		return nil, &bands.ValueError{Param: "measurement", Got: q.Text, Allowed: "given with carriers and their widths, or a configuration"}
	}
	full, err := ask(q.Command)
	if err != nil {
		return nil, err
	}
	a := &render.Answer{Data: full.Data, Refuted: full.Refuted}
	switch {
	case full.Values != nil:
		a.Value = func() any { return Value{q.Text, q.Kind, slices.Collect(full.Values)} }
	case full.Value != nil:
		a.Value = func() any { return Value{q.Text, q.Kind, full.Value()} }
	}
	switch q.Kind {
	case Configuration, Carriers:
		if len(q.bands) > 0 {
			a.Document, err = q.configurations()
		} else {
			a.Document, err = carriers(q, m)
		}
	case Band:
		a.Document = q.band()
	case Name:
		a.Document = q.list("the trade's name for", func(*bands.Band) string { return "" })
	case Frequency:
		q.bands = containing(q.inBand)
		a.Document = q.list("in", q.directions(q.inBand))
	case Range:
		a.Document = q.list((q.span.High-q.span.Low).MHz()+" MHz, all of it in", q.directions(q.inRange))
	case Pattern:
		a.Document, err = q.pattern()
	case Transfer:
		mean := claim.MeanRate(q.size, q.seconds.Rat())
		a.Document = []render.Block{render.Paragraph(q.size.String() + " in " + q.seconds.String() + " s is " + mean.FloatString(1) + " Mbit/s on average.")}
	default:
		a.Document = append(brief(full.Document), q.asFrequency()...)
	}
	if err != nil {
		return nil, err
	}
	last := len(a.Document) - 1
	if f, ok := a.Document[last].(render.Facts); ok {
		a.Document[last] = append(f, more(q.Command))
	} else {
		a.Document = append(a.Document, render.Facts{more(q.Command)})
	}
	return a, nil
}

// more names the command for all there is to say.
func more(args []string) render.Fact {
	quoted := make([]string, len(args))
	for i, a := range args {
		if quoted[i] = a; strings.ContainsAny(a, " ()*$") {
			quoted[i] = "'" + a + "'"
		}
	}
	return render.Fact{Name: "more", Value: "spectally " + strings.Join(quoted, " ")}
}

// most is the number of rows of a short list.
const most = 4

// brief keeps the first rows of the tables of a document.
func brief(doc []render.Block) []render.Block {
	var list []render.Block
	for _, b := range doc {
		switch b := b.(type) {
		case render.Title:
			list = append(list, b)
		case *render.Table:
			short := *b
			if len(short.Rows) > most {
				short.Rows = short.Rows[:most]
			}
			return append(list, &short)
		}
	}
	return list
}

// inRange tells whether a direction of a band contains the whole range.
func (q *Question) inRange(s bands.Span) bool {
	return !s.IsZero() && s.Low <= q.span.Low && q.span.High <= s.High
}

// inBand tells whether a direction of a band contains the frequency.
func (q *Question) inBand(s bands.Span) bool { return !s.IsZero() && s.Contains(q.frequency) }

// asFrequency is what a channel number is if it means MHz instead.
func (q *Question) asFrequency() []render.Block {
	in := containing(q.inBand)
	if len(in) == 0 {
		return nil
	}
	return []render.Block{render.Facts{{Name: "as MHz", Value: names(in) + ": spectally " + q.frequency.MHz() + "MHz"}}}
}

// names lists the names of bands.
func names(list []*bands.Band) string {
	ids := make([]string, len(list))
	for i, b := range list {
		ids[i] = b.ID.String()
	}
	return strings.Join(ids, ", ")
}

// containing lists the bands of which a direction is as asked for.
func containing(keep func(bands.Span) bool) []*bands.Band {
	var list []*bands.Band
	for _, rat := range [...]bands.RAT{bands.NR, bands.LTE} {
		for _, b := range bands.All(rat) {
			if keep(b.Downlink) || keep(b.Uplink) {
				list = append(list, b)
			}
		}
	}
	return list
}

// directions names the directions of a band that are as asked for.
func (q *Question) directions(keep func(bands.Span) bool) func(*bands.Band) string {
	return func(b *bands.Band) string {
		down, up := keep(b.Downlink), keep(b.Uplink)
		switch {
		case down && up:
			return "both"
		case down:
			return "downlink"
		}
		return "uplink"
	}
}

// list is a table of bands, those whose downlink is asked for first; what has no room there
// is named below it.
func (q *Question) list(what string, direction func(*bands.Band) string) []render.Block {
	if len(q.bands) == 0 {
		return []render.Block{render.Title{Text: q.Text, Detail: "in no band of LTE or NR"}}
	}
	slices.SortStableFunc(q.bands, func(a, b *bands.Band) int { return strings.Compare(direction(a), direction(b)) })
	t := &render.Table{Columns: []render.Column{{Header: "band"}, {Header: "duplex"}, {Header: "in"},
		{Header: "downlink", Unit: "MHz", Align: render.Number}, {Header: "uplink", Unit: "MHz", Align: render.Number}}}
	shown := len(q.bands)
	if shown > most {
		shown = most - 1
	}
	for _, b := range q.bands[:shown] {
		t.Rows = append(t.Rows, []string{b.ID.String(), b.Duplex.String(), direction(b), edges(b.Downlink), edges(b.Uplink)})
	}
	t.DropEmpty()
	doc := []render.Block{render.Title{Text: q.Text, Detail: what + " " + words.Counted(len(q.bands), "band")}, t}
	if shown < len(q.bands) {
		doc = append(doc, render.Facts{{Name: "also", Value: names(q.bands[shown:])}})
	}
	return doc
}

func edges(s bands.Span) string {
	if s.IsZero() {
		return ""
	}
	return s.Low.MHz() + "–" + s.High.MHz()
}

// band is a band in a few lines.
func (q *Question) band() []render.Block {
	b := q.bands[0]
	f := render.Facts{}
	add := func(name, value string) {
		if value != "" {
			f = append(f, render.Fact{Name: name, Value: value})
		}
	}
	if b.Duplex == bands.TDD {
		add("range", edges(b.Downlink)+" MHz")
	} else {
		if !b.Downlink.IsZero() {
			add("downlink", edges(b.Downlink)+" MHz")
		}
		if !b.Uplink.IsZero() {
			add("uplink", edges(b.Uplink)+" MHz")
		}
	}
	var widths []string
	for _, w := range b.Widths() {
		if text := w.Width.MHz(); !slices.Contains(widths, text) {
			widths = append(widths, text)
		}
	}
	add("channels", strings.Join(widths, ", ")+" MHz")
	add("called", strings.Join(spectrum.NameTexts(b), ", "))
	if first, last, ok := b.NumberRange(bands.Downlink); ok {
		add(spectrum.ChannelName(b.ID.RAT), strconv.Itoa(int(first))+" to "+strconv.Itoa(int(last)))
	}
	return []render.Block{render.Title{Text: b.ID.String(), Detail: b.ID.RAT.String() + ", " + b.Duplex.String()}, f}
}

// pattern is a TDD pattern in a few lines.
func (q *Question) pattern() ([]render.Block, error) {
	frame, err := flags.ReadFrame(q.Text)
	if err != nil {
		return nil, err
	}
	f := render.Facts{
		{Name: "downlink", Value: figures.Percent(frame.Share(bands.Downlink)) + " %"},
		{Name: "uplink", Value: figures.Percent(frame.Share(bands.Uplink)) + " %"},
		{Name: "guard", Value: figures.Percent(exact.Whole(1).Sub(frame.Share(bands.Downlink)).Sub(frame.Share(bands.Uplink))) + " %"},
	}
	return []render.Block{render.Title{Text: frame.String(), Detail: "a TDD pattern of " + frame.RAT.String()}, f}, nil
}

// configurations are those that the standard lists of bands without widths, the widest
// first, with the widths of the bands.
func (q *Question) configurations() ([]render.Block, error) {
	var ids []bands.ID
	for _, b := range q.bands {
		ids = append(ids, b.ID)
	}
	found := ca.Search(ca.Query{With: ids, Only: true})
	slices.SortStableFunc(found, func(a, b ca.Configuration) int { return int(b.MaxDL() - a.MaxDL()) })
	title := render.Title{Text: q.Text, Detail: words.Counted(len(found), "listed configuration") + " of these bands alone"}
	if len(found) == 0 {
		return []render.Block{title}, nil
	}
	t := &render.Table{Columns: []render.Column{{Header: "widest"}, {Header: "kind"}, {Header: "carriers", Align: render.Number}, {Header: "downlink", Unit: "MHz", Align: render.Number}}}
	for _, c := range found[:min(len(found), 2)] {
		t.Rows = append(t.Rows, []string{c.Name().String(), c.Kind().String(), strconv.Itoa(c.Carriers()), c.MaxDL().MHz()})
	}
	var widths []string
	for _, b := range q.bands {
		if list := b.Widths(); len(list) > 0 {
			widest := slices.MaxFunc(list, func(a, b bands.ChannelWidth) int { return int(a.Width - b.Width) })
			widths = append(widths, b.ID.String()+" up to "+widest.Width.MHz())
		}
	}
	f := render.Facts{{Name: "carriers", Value: strings.Join(widths, ", ") + " MHz each"}}
	return []render.Block{title, t, f}, nil
}
