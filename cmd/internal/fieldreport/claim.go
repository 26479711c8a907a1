package fieldreport

import (
	"slices"
	"strings"

	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/render"
)

// claimsPart judges the claims of a log.
func claimsPart(r *fieldlog.Report) []render.Block {
	if len(r.Claims) == 0 {
		return nil
	}
	part := []render.Block{render.Part{Text: "Claims", Detail: tally(r)}}
	for i := range r.Claims {
		c := &r.Claims[i]
		heading, about := c.Statement, c.Network
		if c.Text != "" {
			heading, about = "“"+c.Text+"”", sentence(c.Network, c.Statement)
		}
		part = append(part, render.Section(heading), render.Paragraph(about))
		part = append(part, judgement(c.Judgement, true)...)
	}
	return part
}

// ClaimsAnswer makes the claims of a log alone an answer. It is refuted if one fails.
func ClaimsAnswer(r *fieldlog.Report) *render.Answer {
	part := claimsPart(r)
	if part == nil {
		part = []render.Block{render.Paragraph("The log makes no claims.")}
	} else {
		part = part[1:] // the title counts them
	}
	data := &render.Table{Columns: readingColumns()}
	for i := range r.Claims {
		data.Rows = append(data.Rows, readingRows(r.Claims[i].Judgement)...)
	}
	return &render.Answer{
		Value:    func() any { return Claims{r.Claims, r.Title} },
		Document: append([]render.Block{render.Title{Text: r.Title, Detail: tally(r)}}, part...),
		Data:     data,
		Refuted:  slices.ContainsFunc(r.Claims, func(c fieldlog.ClaimReport) bool { return c.Verdict == claim.Fails }),
	}
}

// ClaimAnswer makes the judgement of one claim an answer. It is refuted if the claim
// fails.
func ClaimAnswer(j *claim.Judgement) *render.Answer {
	title := render.Title{Text: j.Statement, Detail: "a claim"}
	if j.Text != "" {
		title = render.Title{Text: "“" + j.Text + "”", Detail: j.Statement}
	}
	doc := append([]render.Block{title}, judgement(j, false)...)
	doc = append(doc,
		render.Detail(render.List{Kind: render.Assumptions, Items: j.Assumptions}), render.List{Kind: render.Assumed, Items: j.Brief},
		render.List{Kind: render.Cautions, Items: j.Cautions},
		workingSources(j.Working))
	return &render.Answer{
		Value:    func() any { return j },
		Document: doc,
		Data:     readingData(j),
		Refuted:  j.Verdict == claim.Fails,
	}
}

var verdictTones = map[claim.Verdict]render.Tone{claim.Holds: render.Good, claim.Fails: render.Bad, claim.Undecided: render.Doubtful}

func judgement(j *claim.Judgement, folded bool) []render.Block {
	blocks := []render.Block{render.Verdict{Tone: verdictTones[j.Verdict], Word: string(j.Verdict), Text: j.Why}}
	if len(j.Parts) > 0 {
		for _, part := range j.Parts {
			blocks = append(append(blocks, render.Section(part.Statement)), judgement(part, folded)...)
		}
		return blocks
	}
	var details []render.Block
	if folded {
		details = append(details, readingTable(j))
	} else {
		blocks = append(blocks, readingTable(j))
	}
	var facts, detail render.Facts
	if len(j.Needs) > 0 {
		facts = append(facts, render.Fact{Name: "needs", Value: strings.Join(j.Needs, "; ")})
	}
	if j.Quote != "" {
		quote := render.Fact{Name: "to quote", Value: j.Quote}
		if j.Verdict == claim.Holds {
			facts = append(facts, quote)
		} else { // it repeats the summary
			detail = append(detail, quote)
		}
	}
	if j.Tolerance != "" {
		detail = append(detail, render.Fact{Name: "tolerance", Value: j.Tolerance})
	}
	return append(blocks, facts, render.Detail(append(details, detail, render.Working(j.Working))...))
}

var relationWords = map[claim.Relation]string{claim.Equal: "equal to", claim.AtLeast: "at least", claim.AtMost: "at most", claim.MoreThan: "more than", claim.LessThan: "less than"}

// readingTable has the claim under each of its meanings.
func readingTable(j *claim.Judgement) *render.Table {
	t := &render.Table{Columns: []render.Column{
		{Header: "reading"},
		{Header: "value", Align: render.Number},
		{Header: "must be"},
		{Header: "claimed", Align: render.Number},
		{Header: "unit"},
		{Header: "verdict", Deciding: true},
	}}
	for i := range j.Readings {
		r := &j.Readings[i]
		t.Rows = append(t.Rows, []string{r.Meaning, valueText(r), relationWords[r.Relation], rounded(&r.Claimed, 3), r.Unit, string(r.Verdict)})
	}
	return t
}

// readingData is the table for CSV: a row for each reading.
func readingData(j *claim.Judgement) *render.Table {
	return &render.Table{Columns: readingColumns(), Rows: readingRows(j)}
}

func readingColumns() (list []render.Column) {
	for _, key := range []string{"verdict", "kind", "statement", "meaning", "value", "claimed", "unit", "relation", "low", "high", "reading_verdict"} {
		list = append(list, render.Column{Key: key, Header: key})
	}
	return list
}

func readingRows(j *claim.Judgement) (rows [][]string) {
	for _, part := range j.Parts {
		rows = append(rows, readingRows(part)...)
	}
	if len(j.Parts) > 0 {
		return rows
	}
	for i := range j.Readings {
		r := &j.Readings[i]
		rows = append(rows, []string{string(j.Verdict), j.Kind.String(), j.Statement, r.Meaning, exact(r.Value), exact(r.Claimed), r.Unit, string(r.Relation), exact(r.Low), exact(r.High), string(r.Verdict)})
	}
	if len(rows) == 0 {
		rows = append(rows, []string{string(j.Verdict), j.Kind.String(), j.Statement, "", "", "", "", "", "", "", ""})
	}
	return rows
}

// valueText writes the value of a reading, or from where to where it is left open.
func valueText(r *claim.Reading) string {
	switch {
	case r.Low == r.High:
		return rounded(&r.Value, r.Decimals())
	case r.High >= claim.NoBound:
		return rounded(&r.Low, r.Decimals()) + " or more"
	}
	return rounded(&r.Low, r.Decimals()) + " to " + rounded(&r.High, r.Decimals())
}

func workingSources(steps []render.Step) render.Sources {
	var s render.Sources
	for i := range steps {
		if steps[i].Source != (render.Source{}) {
			s = append(s, steps[i].Source)
		}
	}
	return s
}

// Claims are the claims of a log alone, as JSON shows them.
type Claims struct {
	Claims []fieldlog.ClaimReport `json:"claims"`
	Title  string                 `json:"title"`
}
