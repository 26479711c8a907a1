// Package sitereport makes documents of site plans: what a site can carry, what holds
// it down, what a change would add, and how far it reaches. It knows no output format
// and no terminal.
package sitereport

import (
	"spectally/bands"
	"spectally/cmd/internal/assumed"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/siteplan"
)

// Answer works out a plan and makes it an answer. JSON has every figure, CSV a row for
// each carrier, each sector and the site. It is never refuted: see [Enough].
//
// A plan that siteplan.Read returns has no error, unless a change that is tried leaves
// what the program takes; then the error is of type *throughput.SiteError.
func Answer(p *siteplan.Plan) (*render.Answer, error) {
	s, err := newStudy(p)
	if err != nil {
		return nil, err
	}
	return &render.Answer{
		Value:    func() any { return s.value() },
		Document: s.brief(),
		Whole:    s.document(),
		Data:     s.data(),
	}, nil
}

// brief is the answer on a screen: the site in a few lines, and its sectors.
func (s *study) brief() []render.Block {
	table := s.totalTable()
	table.Title = ""
	for _, d := range directions { // the rows of the site come last, and its lines are above
		if s.capacity.In(d).Width > 0 {
			table.Rows = table.Rows[:len(table.Rows)-1]
		}
	}
	return []render.Block{s.title(), s.summary(), s.verdict(), table,
		render.List{Kind: render.Cautions, Items: []string{"A planning estimate: no licence to transmit and no safety assessment."}}}
}

func (s *study) title() render.Title {
	by := ""
	if s.Author != "" {
		by = "by " + s.Author
	}
	return render.Title{Text: s.Site.Name, Detail: sentence("site plan", s.Place, s.Date, by)}
}

func (s *study) document() []render.Block {
	doc := []render.Block{s.title()}
	for _, n := range s.Notes {
		doc = append(doc, render.Paragraph(n))
	}
	doc = append(doc, s.summary(), s.verdict())
	doc = append(doc, s.sitePart()...)
	for i := range s.capacity.Sectors {
		doc = append(doc, s.sectorPart(i)...)
	}
	doc = append(doc, s.optionPart()...)
	doc = append(doc, s.changePart()...)
	doc = append(doc, s.buildPart()...)
	doc = append(doc, s.coveragePart()...)
	return append(doc,
		render.Part{Text: "Sources and assumptions"},
		render.Explained(s.working),
		render.List{Kind: render.Cautions, Items: s.cautions()},
		render.List{Kind: render.Assumptions, Items: s.assumptionTexts()},
		render.Sources(s.sources()))
}

// summary has the answer in a few lines.
func (s *study) summary() render.Facts {
	c := s.capacity
	var facts render.Facts
	for _, d := range directions {
		if t := c.In(d); t.Width > 0 {
			busy := rateText(t.Mean) + " in the busy hour"
			if l := c.Backhaul.In(d); l.Delivered.Cmp(t.Mean) < 0 {
				busy = rateText(l.Delivered) + " in the busy hour through the link (the radio carries " + rateText(t.Mean) + ")"
			}
			facts = append(facts, render.Fact{Name: d.String(), Value: busy + "; one phone " + mbpsText(t.User.Scheduled) + ", at most " + mbpsText(t.User.Schedulable)})
		}
	}
	if text := assumed.Short(c.Assumptions(), bands.Downlink); text != "" {
		facts = append(facts, render.Fact{Name: "assumed", Value: text})
	}
	if c.Users.Given {
		facts = append(facts, render.Fact{Name: "users", Value: itoa(int(c.Users.Served)) + " served, " + itoa(int(c.Users.Active)) + " active at once"})
	}
	if day := c.Volume.Day; day.Downlink+day.Uplink > 0 {
		data := bytesText(day.Downlink+day.Uplink) + " GB a day"
		if last := len(facts) - 1; c.Users.Given {
			facts[last].Value += "; " + data
		} else {
			facts = append(facts, render.Fact{Name: "data", Value: data})
		}
	}
	need := "needs " + rateText(c.Backhaul.Downlink.Need) + " towards the site"
	if c.Uplink.Width > 0 {
		need += ", " + rateText(c.Backhaul.Uplink.Need) + " away from it"
	}
	return append(facts, render.Fact{Name: "backhaul", Value: need})
}

// verdict says whether the link is enough.
func (s *study) verdict() render.Verdict {
	b := &s.capacity.Backhaul
	short := ""
	for _, d := range directions {
		l := b.In(d)
		switch {
		case l.Link.IsZero():
			return render.Verdict{Tone: render.Neutral, Word: "no link given", Text: "The plan gives no backhaul link."}
		case !l.FitsMeans:
			return render.Verdict{Tone: render.Bad, Word: "link too small", Text: rateText(l.Link) + " in the " + d.String() + " does not carry even the busy hour; it takes " + rateText(l.Need) + "."}
		case !l.Enough && short == "":
			short = rateText(l.Link) + " " + directionWord(d) + " carries the busy hour; " + rateText(l.Need) + " is needed."
		}
	}
	if short != "" {
		return render.Verdict{Tone: render.Doubtful, Word: "link short", Text: short}
	}
	peak := "the scheduled rate of one phone"
	if s.Site.Backhaul.CellPeak {
		peak = "the scheduled rate of the cell"
	}
	return render.Verdict{Tone: render.Good, Word: "link enough", Text: "It carries the busy hour and " + peak + ", in both directions."}
}

// rateColumns are the figures of a capacity in tables.
func rateColumns() []render.Column {
	return []render.Column{
		{Header: "one phone", Unit: "Mbit/s", Align: render.Number},
		{Header: "cell", Unit: "Mbit/s", Align: render.Number},
		{Header: "full load", Unit: "Mbit/s", Align: render.Number, Minor: true},
		{Header: "busy hour", Unit: "Mbit/s", Align: render.Number},
		{Header: "cell edge", Unit: "Mbit/s", Align: render.Number},
	}
}

func directionWord(d bands.Direction) string {
	if d == bands.Uplink {
		return "up"
	}
	return "down"
}
