package frames

import (
	"fmt"
	"strconv"

	"spectally/bands"
	"spectally/cmd/internal/clauses"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
	"spectally/throughput/nr"
)

// Clauses and tables of frame structures.
var (
	tableSlotFormats = render.Source{Spec: "TS 38.213", Version: "19.3.0", Table: "11.1.1-1"}
	tableLTEFrames   = render.Source{Spec: "TS 36.211", Version: "19.3.0", Table: "4.2-2"}
	tableLTESpecial  = render.Source{Spec: "TS 36.211", Version: "19.3.0", Table: "4.2-1"}
)

// shareNames are the parts of a frame in the order of frames.shares.
var shareNames = [3]string{"downlink", "guard", "uplink"}

func (k *frames) findings() render.Findings {
	if !k.refuted {
		return nil
	}
	if len(k.checks) == 1 {
		return render.Findings{{Severity: render.Error, Rule: "tdd-period", Message: k.checks[0].err.Error(), Source: clauses.TDDPattern}}
	}
	return render.Findings{{Severity: render.Error, Rule: "tdd-period", Message: "The pattern lasts no period that exists, at any subcarrier spacing.", Source: clauses.TDDPattern}}
}

func (k *frames) assumptions() []string {
	if !k.Pattern.SpecialAssumed() {
		return nil
	}
	s := nr.DefaultSpecialSlot
	return []string{fmt.Sprintf("special slots of %d downlink, %d guard and %d uplink symbols, as in the patterns of TS 38.101-4, since none were given", s.DL, s.Guard, s.UL)}
}

func (k *frames) answer() *render.Answer {
	a := &render.Answer{Value: func() any { return k.value() }, Data: k.data(), Refuted: k.refuted}
	title := render.Title{Text: k.String(), Detail: "LTE frame structure"}
	if k.RAT == bands.NR {
		title.Detail = "NR TDD pattern of " + words.Counted(len(k.slots), "slot")
		if k.scs != 0 {
			title.Detail += " at " + k.scs.String()
		}
	}
	a.Document = []render.Block{title, k.verdict(), k.spanFacts(), k.shareTable()}
	if f := k.findings(); len(f) > 0 {
		a.Document = append(a.Document, render.Section("Findings"), f)
	}
	sources := render.Sources{clauses.TDDPattern, tableSlotFormats}
	if k.RAT == bands.LTE {
		sources = render.Sources{tableLTEFrames, tableLTESpecial}
	}
	a.Document = append(a.Document, render.Detail(k.spanTable(), k.slotTable(), k.periodTable(), render.Explained(k.working)), render.List{Kind: render.Assumptions, Items: k.assumptions()}, sources)
	return a
}

func (k *frames) verdict() render.Verdict {
	switch {
	case k.RAT == bands.LTE && !k.LTE.TDD():
		return render.Verdict{Tone: render.Good, Word: "allowed", Text: "FDD: both directions have all of the time, on two frequencies."}
	case k.RAT == bands.LTE:
		return render.Verdict{Tone: render.Good, Word: "allowed", Text: fmt.Sprintf("Downlink turns to uplink every %d ms.", k.LTE.SwitchPeriodMS())}
	case k.refuted:
		return render.Verdict{Tone: render.Bad, Word: "not allowed", Text: "The pattern does not last a period that exists."}
	}
	var good []string
	for i := range k.checks {
		if c := &k.checks[i]; c.err == nil {
			good = append(good, fmt.Sprintf("%s ms at %s", figures.Milliseconds(c.total), c.scs))
		}
	}
	return render.Verdict{Tone: render.Good, Word: "allowed", Text: "A period of " + words.Or(good) + " exists."}
}

func (k *frames) working() render.Working {
	var steps render.Working
	for i, name := range shareNames {
		step := render.Step{
			Name: "share of " + name, Formula: "symbols of the part / all symbols of the period", Numbers: fmt.Sprintf("%d / %d", k.shares[i], k.units),
			Result: k.share(i).String() + ", " + figures.Percent(k.share(i)) + " %", Source: clauses.TDDPattern,
		}
		if k.RAT == bands.LTE {
			step.Formula, step.Numbers, step.Source = "time of the part / frame", fmt.Sprintf("%d Ts / %d Ts", k.shares[i], k.units), tableLTESpecial
		}
		steps = append(steps, step)
	}
	return steps
}

// data has a row for each slot of a period.
func (k *frames) data() *render.Table {
	t := &render.Table{}
	for _, key := range []string{"slot", "kind", "dl_symbols", "guard_symbols", "ul_symbols", "symbols", "slot_format"} {
		t.Columns = append(t.Columns, render.Column{Key: key, Header: key})
	}
	for i := range k.slots {
		s := &k.slots[i]
		drawing, format := s.drawing(), ""
		if s.downlinkInUplink {
			drawing = ""
		}
		if s.format >= 0 {
			format = strconv.Itoa(s.format)
		}
		t.Rows = append(t.Rows, []string{strconv.Itoa(i), s.kind, strconv.Itoa(s.dl), strconv.Itoa(s.guard), strconv.Itoa(s.ul), drawing, format})
	}
	return t
}
