package fieldreport

import (
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
		part = append(part, judgement(c.Judgement)...)
	}
	return part
}

// ClaimAnswer makes the judgement of one claim an answer. It is refuted if the claim
// fails.
func ClaimAnswer(j *claim.Judgement) *render.Answer {
	title := render.Title{Text: j.Statement, Detail: "a claim"}
	if j.Text != "" {
		title = render.Title{Text: "“" + j.Text + "”", Detail: j.Statement}
	}
	doc := append([]render.Block{title}, judgement(j)...)
	doc = append(doc,
		render.List{Kind: render.Assumptions, Items: j.Assumptions},
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

func judgement(j *claim.Judgement) []render.Block {
	blocks := []render.Block{
		render.Verdict{Tone: verdictTones[j.Verdict], Word: string(j.Verdict), Text: summaryAfter(j.Verdict, j.Summary)},
		readingTable(j),
	}
	if j.Tolerance != "" {
		blocks = append(blocks, render.Facts{{Name: "tolerance", Value: j.Tolerance}})
	}
	return append(blocks, render.Working(j.Working))
}

// summaryAfter is the summary without the verdict, where that stands before it anyway.
func summaryAfter(v claim.Verdict, summary string) string {
	word := sentenceCase(string(v))
	for _, end := range [...]string{": ", " "} {
		if rest, ok := strings.CutPrefix(summary, word+end); ok {
			return rest
		}
	}
	return summary
}

var relationWords = map[claim.Relation]string{claim.Equal: "equal to", claim.AtLeast: "no less than", claim.AtMost: "no more than"}

// readingTable has the claim under each of its meanings.
func readingTable(j *claim.Judgement) *render.Table {
	t := &render.Table{Columns: []render.Column{
		{Header: "read as"},
		{Header: "value", Align: render.Number},
		{Header: "has to be"},
		{Header: "claimed", Align: render.Number},
		{Header: "unit"},
		{Header: "holds"},
	}}
	for i := range j.Readings {
		r := &j.Readings[i]
		holds := "no"
		switch {
		case r.Holds && r.Assumed:
			holds = "yes, if the assumption does"
		case r.Holds:
			holds = "yes"
		}
		t.Rows = append(t.Rows, []string{r.Meaning, rounded(&r.Value, 1), relationWords[r.Relation], rounded(&r.Claimed, 3), r.Unit, holds})
	}
	return t
}

// readingData is the table for CSV: a row for each reading.
func readingData(j *claim.Judgement) *render.Table {
	t := &render.Table{}
	for _, key := range []string{"verdict", "kind", "statement", "meaning", "value", "claimed", "unit", "relation", "holds", "assumed"} {
		t.Columns = append(t.Columns, render.Column{Key: key, Header: key})
	}
	for i := range j.Readings {
		r := &j.Readings[i]
		t.Rows = append(t.Rows, []string{string(j.Verdict), j.Kind.String(), j.Statement, r.Meaning, exact(r.Value), exact(r.Claimed), r.Unit, string(r.Relation), yesNo(r.Holds), yesNo(r.Assumed)})
	}
	if len(t.Rows) == 0 {
		t.Rows = append(t.Rows, []string{string(j.Verdict), j.Kind.String(), j.Statement, "", "", "", "", "", "", ""})
	}
	return t
}

func yesNo(b bool) string {
	if b {
		return "true"
	}
	return "false"
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
