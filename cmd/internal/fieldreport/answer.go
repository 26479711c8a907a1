// Package fieldreport makes documents of what package fieldlog and package claim
// found out: the report of a field log, and the judgement of a claim. It knows no
// output format and no terminal.
package fieldreport

import (
	"strconv"

	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/render"
)

// Answer makes a report an answer. Its document has a part for each network, the
// networks side by side, the claims, and what the figures rest on. JSON is the report
// itself, CSV has a row for each network. It is never refuted: whether a claim holds is
// what the report is about, see [Holds].
func Answer(r *fieldlog.Report) *render.Answer {
	return &render.Answer{
		Value:    func() any { return r },
		Document: brief(r, title(r)),
		Whole:    document(r),
		Data:     comparisonData(r),
	}
}

// Holds tells whether the standard allows what every network was seen to do and no
// claim fails.
func Holds(r *fieldlog.Report) bool {
	for i := range r.Networks {
		if !r.Networks[i].Valid {
			return false
		}
	}
	for i := range r.Claims {
		if r.Claims[i].Verdict == claim.Fails {
			return false
		}
	}
	return true
}

func title(r *fieldlog.Report) render.Title {
	by := ""
	if r.Author != "" {
		by = "by " + r.Author
	}
	return render.Title{Text: r.Title, Detail: sentence(r.Place, r.Date, by)}
}

func document(r *fieldlog.Report) []render.Block {
	doc := []render.Block{title(r)}
	doc = append(doc, paragraphs(r.Notes)...)
	doc = append(doc, briefFacts(r), outstanding(r), placesTable(r))
	doc = append(doc, comparisonPart(r)...)
	for i := range r.Networks {
		doc = append(doc, networkPart(&r.Networks[i])...)
	}
	doc = append(doc, earlierPart(r.Earlier)...)
	doc = append(doc, claimsPart(r)...)
	return onceEach(append(doc, groundsPart(r)...))
}

// onceEach drops what an earlier point of the document has said.
func onceEach(doc []render.Block) []render.Block {
	said := make(map[string]bool)
	for i, b := range doc {
		if points, ok := b.(render.Points); ok {
			var left render.Points
			for _, p := range points {
				if !said[p] {
					said[p] = true
					left = append(left, p)
				}
			}
			doc[i] = left
		}
	}
	return doc
}

func paragraphs(notes []string) []render.Block {
	blocks := make([]render.Block, len(notes))
	for i, n := range notes {
		blocks[i] = render.Paragraph(n)
	}
	return blocks
}

// tally counts the verdicts: "4 hold, 1 fails, 1 is undecided".
func tally(r *fieldlog.Report) string {
	count := make(map[claim.Verdict]int)
	for i := range r.Claims {
		count[r.Claims[i].Verdict]++
	}
	say := func(v claim.Verdict, one, more string) string {
		switch n := count[v]; n {
		case 0:
			return ""
		case 1:
			return "1 " + one
		default:
			return strconv.Itoa(n) + " " + more
		}
	}
	return sentence(say(claim.Holds, "holds", "hold"), say(claim.Fails, "fails", "fail"), say(claim.Undecided, "is undecided", "are undecided"))
}

// groundsPart has what all figures rest on, where they can mislead, and where they are
// from.
func groundsPart(r *fieldlog.Report) []render.Block {
	return []render.Block{
		render.Part{Text: "Cautions and sources"},
		render.List{Kind: render.Cautions, Items: r.Cautions},
		render.List{Kind: render.Assumptions, Items: commonAssumptions(r)},
		render.Sources(r.Sources),
	}
}

// commonAssumptions lists what the figures of all networks rest on.
func commonAssumptions(r *fieldlog.Report) []string {
	var list []string
	seen := make(map[string]bool)
	for i := range r.Networks {
		for _, a := range r.Networks[i].Assumptions {
			if len(a.Carriers) == 0 && !seen[a.Text] {
				seen[a.Text] = true
				list = append(list, a.Text)
			}
		}
	}
	return list
}
