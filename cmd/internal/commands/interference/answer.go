package interference

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/ca/interference"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
)

// shownFirst is how many products stand in the first table; the others are detail.
const shownFirst = 10

func (s *study) answer() *render.Answer {
	all := s.productTable()
	first, rest := s.productTable(), s.productTable()
	more := render.Paragraph("")
	if n := len(all.Rows); n > shownFirst {
		first.Rows, rest.Rows = first.Rows[:shownFirst], rest.Rows[shownFirst:]
		more = render.Paragraph("The " + strconv.Itoa(shownFirst) + " worst of " + strconv.Itoa(n) + " products; --full shows the others.")
	} else {
		rest.Rows = nil
	}
	rest.Title = "Other products"
	first.Title = ""
	first.DropEmpty()
	rest.DropEmpty()
	return &render.Answer{
		Value: func() any { return s.value() }, Data: all, Refuted: !s.valid(),
		Document: []render.Block{
			render.Title{Text: s.title, Detail: "self-interference, power class " + string(s.query.powerClass())}, s.verdict(), s.errors(), first, more,
			s.drawing(), s.facts(), s.proposals(), render.Detail(rest, s.listedTable(), s.isolationTable(), s.allowanceTable(), s.avoidTable(), render.Explained(s.working),
				render.List{Kind: render.Assumptions, Items: s.assumptions()},
				render.List{Kind: render.Notes, Items: s.notes()}),
			render.List{Kind: render.Cautions, Items: s.cautions()}, s.sources(),
		},
	}
}

// errors are what the carriers break of the rules of the standard.
func (s *study) errors() render.Findings {
	var list render.Findings
	if s.assessment == nil {
		return nil
	}
	for _, f := range s.assessment.Findings() {
		if f.Severity != ca.Error {
			continue
		}
		r := render.Finding{Severity: render.Error, Rule: string(f.Rule), Number: f.Carrier, Message: f.Message, Source: render.Source(f.Source)}
		if f.Carrier > 0 {
			r.Carrier = s.carriers[f.Carrier-1]
		}
		list = append(list, r)
	}
	return list
}

// valid tells whether the carriers keep the rules of the standard.
func (s *study) valid() bool { return s.assessment == nil || s.assessment.Valid() }

func (s *study) verdict() render.Verdict {
	hits, near := s.Count(interference.Direct), s.Count(interference.Near)
	switch {
	case hits == 0 && near == 0:
		return render.Verdict{Tone: render.Good, Word: "clear", Text: s.condition() + " product falls on a downlink or within " + interference.DefaultMargin.MHz() + " MHz of one." + s.isolated()}
	case hits == 0:
		return render.Verdict{Tone: render.Good, Word: "near", Text: s.condition() + " product falls on a downlink; the nearest, " + s.names.Short(&s.Results[0].Product) + ", is " + s.Results[0].Distance.MHz() + " MHz away." + s.isolated()}
	}
	worst := &s.Results[0]
	text := words.Counted(hits, "product") + " may fall on a downlink; the worst is " + s.names.Short(&worst.Product)
	if msd, ok := worst.Worst(); ok {
		text += ", which may cost up to " + msd.String() + " dB"
	} else if !s.isLTE(&worst.Product) {
		text += ", not listed in the standard"
	}
	return render.Verdict{Tone: render.Doubtful, Word: "hit", Text: text + "." + s.isolated()}
}

// condition begins a sentence about no product: it holds for the uplinks that were taken.
func (s *study) condition() string {
	var up []string
	if s.assessment != nil && s.assessment.Name.IsZero() {
		for i := range s.assessment.Carriers {
			if p := &s.assessment.Carriers[i]; p.Transmits && !slices.Contains(up, p.Band.String()) {
				up = append(up, p.Band.String())
			}
		}
	}
	if len(up) == 0 {
		return "No"
	}
	return "With the uplink on " + words.And(up) + ", no"
}

func (s *study) productTable() *render.Table {
	t := &render.Table{Title: "Products", Columns: []render.Column{
		{Key: "kind", Header: "kind", Detail: true},
		{Key: "product", Header: "product"},
		{Key: "order", Header: "order", Align: render.Number},
		{Key: "low_mhz", Header: "from", Unit: "MHz", Align: render.Number},
		{Key: "high_mhz", Header: "to", Unit: "MHz", Align: render.Number},
		{Key: "victim", Header: "at"},
		{Key: "hit", Header: "hit"},
		{Key: "places", Header: "places"},
		{Key: "distance_mhz", Header: "apart", Unit: "MHz", Align: render.Number},
		{Key: "msd_db", Header: "MSD", Unit: "dB"},
		{Key: "table", Header: "table", Detail: true},
	}}
	for i := range s.Results {
		r := &s.Results[i]
		apart := ""
		if r.Distance > 0 {
			apart = r.Distance.MHz()
		}
		msd, table := s.listedText(r)
		t.Rows = append(t.Rows, []string{r.Kind.String(), s.names.Formula(&r.Product), strconv.Itoa(int(r.Order)), r.Span.Low.MHz(), r.Span.High.MHz(), s.names.Victim(&r.Product),
			r.Hit.String(), r.Places.String(), apart, msd, table})
	}
	return t
}

// isLTE tells whether a product concerns carriers of LTE alone, whose tables (TS 36.101) are
// not built in.
func (s *study) isLTE(p *interference.Product) bool {
	for i := range s.bands {
		if s.bands[i].RAT == bands.NR && p.Concerns(i) {
			return false
		}
	}
	return true
}

// listedText is the MSD that is listed for a product, and where; "not listed" for a direct
// hit without any.
func (s *study) listedText(r *interference.Result) (msd, table string) {
	switch {
	case len(r.Listed) > 0:
	case r.Hit != interference.Direct:
		return "", ""
	case s.isLTE(&r.Product):
		return "no table", ""
	default:
		return "not listed", ""
	}
	worst, ok := r.Worst()
	if !ok {
		return "no value", r.Listed[0].Source.Table
	}
	least := worst
	for i := range r.Listed {
		if r.Listed[i].HasMSD {
			least = min(least, r.Listed[i].MSD)
		}
	}
	table = r.Listed[0].Source.Table
	if least != worst {
		return least.String() + "–" + worst.String(), table
	}
	return worst.String(), table
}

// listedTable has the rows of the standard behind the products.
func (s *study) listedTable() *render.Table {
	t := &render.Table{Title: "MSD in the standard", Columns: []render.Column{
		{Header: "product"}, {Header: "at"},
		{Header: "uplink", Unit: "MHz"},
		{Header: "downlink", Unit: "MHz", Align: render.Number},
		{Header: "MSD", Unit: "dB", Align: render.Number},
		{Header: "2 Tx", Unit: "dB", Align: render.Number},
		{Header: "configurations"},
		{Header: "table"},
		{Header: "remark"},
	}}
	for i := range s.Results {
		r := &s.Results[i]
		for j := range r.Listed {
			e := &r.Listed[j]
			var widths []string
			for _, u := range e.Uplinks {
				widths = append(widths, figures.OptionalMHz(u.Width))
			}
			msd, msd2 := "", ""
			if e.HasMSD {
				msd = e.MSD.String()
			}
			if e.Has2Tx {
				msd2 = e.MSD2Tx.String()
			}
			t.Rows = append(t.Rows, []string{s.names.Formula(&r.Product), s.names.Victim(&r.Product), strings.Join(widths, " + "), figures.OptionalMHz(e.Downlink.Width), msd, msd2,
				strings.ReplaceAll(e.Configurations, ",", ", "), e.Source.Table, entryRemark(e)})
		}
	}
	t.DropEmpty()
	return t
}

func entryRemark(e *interference.Entry) string {
	switch {
	case !e.Confirmed():
		return "a row that the arithmetic does not confirm"
	case e.Rule != bands.Source{}:
		return "from class 3 by " + e.Rule.Place()
	}
	return ""
}

func (s *study) isolationTable() *render.Table {
	t := &render.Table{Title: "Cross-band isolation", Columns: []render.Column{
		{Header: "uplink"}, {Header: "at", Unit: "MHz"}, {Header: "width", Unit: "MHz"},
		{Header: "downlink"}, {Header: "at", Unit: "MHz", Align: render.Number}, {Header: "width", Unit: "MHz", Align: render.Number},
		{Header: "MSD", Unit: "dB", Align: render.Number}, {Header: "falls in"}, {Header: "table"}, {Header: "remark"},
	}}
	for i := range s.Isolation {
		e := &s.Isolation[i]
		var names, centres, widths []string
		for _, u := range e.Uplinks {
			names, centres, widths = append(names, u.Band.String()), append(centres, u.Centre.MHz()), append(widths, u.Width.MHz())
		}
		t.Rows = append(t.Rows, []string{strings.Join(names, " + "), strings.Join(centres, " + "), strings.Join(widths, " + "), e.Downlink.Band.String(), e.Downlink.Centre.MHz(),
			e.Downlink.Width.MHz(), e.MSD.String(), e.Falls, e.Source.Table, entryRemarkOfIsolation(e)})
	}
	t.DropEmpty()
	return t
}

func entryRemarkOfIsolation(e *interference.Isolation) string {
	if e.Rule != (bands.Source{}) {
		return "from class 3 by " + e.Rule.Place()
	}
	return ""
}

func (s *study) allowanceTable() *render.Table {
	t := &render.Table{Title: "Allowances for the combination", Columns: []render.Column{
		{Header: "band"}, {Header: "effect"}, {Header: "value", Unit: "dB", Align: render.Number}, {Header: "holds for"}, {Header: "configuration"}, {Header: "table"},
	}}
	for i := range s.Allowance {
		a := &s.Allowance[i]
		if a.NotApplicable {
			continue
		}
		part := ""
		if !a.Applies.IsZero() {
			part = a.Applies.String()
		}
		t.Rows = append(t.Rows, []string{a.Band.String(), a.Effect.String(), a.Value.String(), part, strings.ReplaceAll(a.Configurations, "|", ", "), a.Source.Table})
	}
	t.DropEmpty()
	return t
}
