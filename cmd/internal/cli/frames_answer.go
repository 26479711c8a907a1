package cli

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/render"
	"spectally/throughput"
)

// Clauses and tables of frame structures.
var (
	tableSlotFormats = render.Source{Spec: "TS 38.213", Version: "19.3.0", Table: "11.1.1-1"}
	tableLTEFrames   = render.Source{Spec: "TS 36.211", Version: "19.3.0", Table: "4.2-2"}
	tableLTESpecial  = render.Source{Spec: "TS 36.211", Version: "19.3.0", Table: "4.2-1"}
)

// shareNames are the parts of a frame in the order of frames.shares.
var shareNames = [3]string{"downlink", "guard", "uplink"}

// framesValue is the answer of the command as JSON shows it.
type framesValue struct {
	Pattern        string         `json:"pattern"`
	RAT            string         `json:"rat"`
	SCS            *figure        `json:"scs_khz"`
	Slots          []slotValue    `json:"slots"` // of one period; subframes of a frame in LTE
	Shares         sharesValue    `json:"shares"`
	Spans          []spanValue    `json:"spans"`
	Periods        []periodValue  `json:"periods"` // NR, a row for each subcarrier spacing
	SpecialAssumed bool           `json:"special_assumed"`
	Valid          bool           `json:"valid"`
	Findings       []findingValue `json:"findings"`
	Assumptions    []string       `json:"assumptions"`
	Working        []render.Step  `json:"working"`
}

type slotValue struct {
	Slot    int     `json:"slot"`
	Kind    string  `json:"kind"`
	DL      int     `json:"dl_symbols"`
	Guard   int     `json:"guard_symbols"`
	UL      int     `json:"ul_symbols"`
	Symbols *string `json:"symbols"` // null in FDD, where both directions have all
	Format  *int    `json:"slot_format"`
}

type shareValue struct {
	Exact string `json:"exact"` // a fraction
	Share figure `json:"share"`
}

type sharesValue struct {
	Downlink shareValue `json:"dl"`
	Guard    shareValue `json:"guard"`
	Uplink   shareValue `json:"ul"`
}

// spanValue counts slots in a time.
type spanValue struct {
	MS      figure `json:"ms"`
	Slots   int    `json:"slots"`
	D       int    `json:"d"`
	S       int    `json:"s"`
	U       int    `json:"u"`
	DL      int    `json:"dl_symbols"`
	Guard   int    `json:"guard_symbols"`
	UL      int    `json:"ul_symbols"`
	Drawing string `json:"drawing"`
}

type periodValue struct {
	SCS    figure   `json:"scs_khz"`
	Slot   figure   `json:"slot_ms"`
	Total  figure   `json:"total_ms"`
	Parts  []figure `json:"periods_ms"`
	Holds  bool     `json:"holds"`
	Reason string   `json:"reason"`
}

func ms(r throughput.Ratio) figure { return decimals(r, 1, 6) }

// span counts the slots of a time from the start of a period.
func (k *frames) span(ms throughput.Ratio, slots int) spanValue {
	v := spanValue{MS: decimals(ms, 1, 6), Slots: slots}
	var b strings.Builder
	for i := range slots {
		s := &k.slots[i%len(k.slots)]
		switch s.kind {
		case "D":
			v.D++
		case "S":
			v.S++
		case "U":
			v.U++
		}
		v.DL, v.Guard, v.UL = v.DL+s.dl, v.Guard+s.guard, v.UL+s.ul
		if i > 0 && i%len(k.slots) == 0 {
			b.WriteByte(' ')
		}
		b.WriteString(s.kind)
	}
	v.Drawing = b.String()
	return v
}

// spans counts a period, 10 ms and 20 ms at the subcarrier spacing, or at the only
// one at which the pattern holds; LTE a frame and two.
func (k *frames) spans() []spanValue {
	if k.RAT == bands.LTE {
		return []spanValue{k.span(throughput.Ratio{Num: 10, Den: 1}, 10), k.span(throughput.Ratio{Num: 20, Den: 1}, 20)}
	}
	if len(k.checks) != 1 {
		return nil
	}
	c := &k.checks[0]
	list := []spanValue{k.span(c.total, len(k.slots))}
	for _, t := range [...]int64{10, 20} {
		slots := throughput.Ratio{Num: t, Den: 1}.Mul(throughput.Ratio{Num: c.slot.Den, Den: c.slot.Num})
		if c.err == nil && throughput.Ratio.Cmp(c.total, throughput.Ratio{Num: t, Den: 1}) != 0 {
			list = append(list, k.span(throughput.Ratio{Num: t, Den: 1}, int(slots.Num)))
		}
	}
	return list
}

func (k *frames) value() framesValue {
	v := framesValue{
		Pattern: k.String(), RAT: k.RAT.String(), Slots: []slotValue{}, Spans: present(k.spans()), Periods: []periodValue{},
		SpecialAssumed: k.Pattern.SpecialAssumed(), Valid: !k.refuted, Findings: []findingValue{}, Assumptions: present(k.assumptions()), Working: k.working(),
	}
	if k.scs != 0 {
		v.SCS = new(kilohertz(k.scs))
	}
	for i := range k.slots {
		s := &k.slots[i]
		w := slotValue{Slot: i, Kind: s.kind, DL: s.dl, Guard: s.guard, UL: s.ul}
		if !s.downlinkInUplink {
			w.Symbols = new(s.drawing())
		}
		if s.format >= 0 {
			w.Format = &s.format
		}
		v.Slots = append(v.Slots, w)
	}
	for i, share := range [...]*shareValue{&v.Shares.Downlink, &v.Shares.Guard, &v.Shares.Uplink} {
		*share = shareValue{k.share(i).String(), decimals(k.share(i), 1, 6)}
	}
	for i := range k.checks {
		c := &k.checks[i]
		p := periodValue{SCS: kilohertz(c.scs), Slot: ms(c.slot), Total: ms(c.total), Parts: []figure{}, Holds: c.err == nil, Reason: c.reason()}
		for _, part := range c.periods {
			p.Parts = append(p.Parts, ms(part))
		}
		v.Periods = append(v.Periods, p)
	}
	for _, f := range k.findings() {
		v.Findings = append(v.Findings, findingValue{Severity: string(f.Severity), Rule: f.Rule, Message: f.Message, Source: f.Source})
	}
	return v
}

// reason says which periods there are where this one does not exist.
func (c *periodCheck) reason() string {
	if v, ok := errors.AsType[*bands.ValueError](c.err); ok {
		return v.Allowed
	}
	return ""
}

func (k *frames) findings() render.Findings {
	if !k.refuted {
		return nil
	}
	if len(k.checks) == 1 {
		return render.Findings{{Severity: render.Error, Rule: "tdd-period", Message: k.checks[0].err.Error(), Source: clausePattern}}
	}
	return render.Findings{{Severity: render.Error, Rule: "tdd-period", Message: "The pattern lasts no period that exists, at any subcarrier spacing.", Source: clausePattern}}
}

func (k *frames) assumptions() []string {
	if !k.Pattern.SpecialAssumed() {
		return nil
	}
	s := throughput.DefaultSpecialSlot
	return []string{fmt.Sprintf("special slots of %d downlink, %d guard and %d uplink symbols, as in the patterns of TS 38.101-4, since none were given", s.DL, s.Guard, s.UL)}
}

func (k *frames) answer() *render.Answer {
	a := &render.Answer{Value: func() any { return k.value() }, Data: k.data(), Refuted: k.refuted}
	title := render.Title{Text: k.String(), Detail: "LTE frame structure"}
	if k.RAT == bands.NR {
		title.Detail = "NR TDD pattern of " + counted(len(k.slots), "slot")
		if k.scs != 0 {
			title.Detail += " at " + k.scs.String()
		}
	}
	a.Document = []render.Block{title, k.verdict(), k.spanFacts(), k.shareTable(), k.spanTable(), k.slotTable(), k.periodTable()}
	if f := k.findings(); len(f) > 0 {
		a.Document = append(a.Document, render.Section("Findings"), f)
	}
	sources := render.Sources{clausePattern, tableSlotFormats}
	if k.RAT == bands.LTE {
		sources = render.Sources{tableLTEFrames, tableLTESpecial}
	}
	a.Document = append(a.Document, k.working(), render.List{Kind: render.Assumptions, Items: k.assumptions()}, sources)
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
			good = append(good, fmt.Sprintf("%s ms at %s", ms(c.total), c.scs))
		}
	}
	return render.Verdict{Tone: render.Good, Word: "allowed", Text: "A period of " + alternatives(good) + " exists."}
}

func (k *frames) shareTable() *render.Table {
	t := &render.Table{Title: "Shares of time", Columns: []render.Column{
		{Header: "part"},
		{Header: "symbols", Align: render.Number},
		{Header: "exact", Align: render.Number},
		{Header: "share", Unit: "%", Align: render.Number},
	}}
	if k.RAT == bands.LTE {
		t.Columns[1].Header, t.Columns[1].Unit = "time", "Ts"
	}
	for i, name := range shareNames {
		t.Rows = append(t.Rows, []string{name, strconv.FormatInt(k.shares[i], 10), k.share(i).String(), percent(k.share(i))})
	}
	return t
}

// spanFacts draws the slots.
func (k *frames) spanFacts() render.Facts {
	var facts render.Facts
	for _, s := range k.spans() {
		if s.MS == "20" && len(k.slots) < s.Slots && s.Slots/2%len(k.slots) == 0 {
			continue // twice the same 10 ms
		}
		facts = append(facts, render.Fact{Name: string(s.MS) + " ms", Value: s.Drawing})
	}
	if len(facts) == 0 {
		facts = append(facts, render.Fact{Name: "one period", Value: letters(k.slots)})
	}
	if !k.paired() {
		return facts
	}
	return nil
}

func (k *frames) paired() bool { return k.slots[0].downlinkInUplink }

func (k *frames) spanTable() *render.Table {
	t := &render.Table{Title: "Slots and symbols", Columns: []render.Column{
		{Header: "in", Unit: "ms", Align: render.Number},
		{Header: "slots", Align: render.Number},
		{Header: "D", Align: render.Number},
		{Header: "S", Align: render.Number},
		{Header: "U", Align: render.Number},
		{Header: "downlink", Unit: "symbols", Align: render.Number},
		{Header: "guard", Unit: "symbols", Align: render.Number},
		{Header: "uplink", Unit: "symbols", Align: render.Number},
	}}
	if k.paired() {
		return t
	}
	if k.RAT == bands.LTE {
		t.Title, t.Columns[1].Header = "Subframes and symbols", "subframes"
	}
	for _, s := range k.spans() {
		row := []string{string(s.MS)}
		for _, n := range [...]int{s.Slots, s.D, s.S, s.U, s.DL, s.Guard, s.UL} {
			row = append(row, strconv.Itoa(n))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// slotTable shows the symbols of the slots, those alike that follow each other
// together.
func (k *frames) slotTable() *render.Table {
	t := &render.Table{Title: "Slots of a period", Columns: []render.Column{
		{Header: "slot"},
		{Header: "kind"},
		{Header: "symbols"},
		{Header: "downlink", Align: render.Number},
		{Header: "guard", Align: render.Number},
		{Header: "uplink", Align: render.Number},
		{Header: "slot format", Align: render.Number},
	}}
	if k.RAT == bands.LTE {
		t.Title, t.Columns[0].Header = "Subframes of a frame", "subframe"
	}
	if k.paired() {
		return t
	}
	for i := 0; i < len(k.slots); {
		j := i + 1
		for j < len(k.slots) && k.slots[j] == k.slots[i] {
			j++
		}
		s := &k.slots[i]
		number, format := strconv.Itoa(i), ""
		if j > i+1 {
			number += "–" + strconv.Itoa(j-1)
		}
		if s.format >= 0 {
			format = strconv.Itoa(s.format)
		}
		t.Rows = append(t.Rows, []string{number, s.kind, s.drawing(), strconv.Itoa(s.dl), strconv.Itoa(s.guard), strconv.Itoa(s.ul), format})
		i = j
	}
	t.DropEmpty()
	return t
}

func (k *frames) periodTable() *render.Table {
	t := &render.Table{Title: "Period by subcarrier spacing", Columns: []render.Column{
		{Header: "SCS", Unit: "kHz", Align: render.Number},
		{Header: "slot", Unit: "ms", Align: render.Number},
		{Header: "pattern", Unit: "ms", Align: render.Number},
		{Header: "exists"},
		{Header: "as"},
	}}
	if len(k.checks) < 2 {
		return t
	}
	for i := range k.checks {
		c := &k.checks[i]
		row := []string{c.scs.KHz(), string(ms(c.slot)), string(ms(c.total)), "no", ""}
		if c.err == nil {
			var parts []string
			for _, p := range c.periods {
				parts = append(parts, string(ms(p)))
			}
			row[3], row[4] = "yes", strings.Join(parts, " + ")+" ms"
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func (k *frames) working() render.Working {
	var steps render.Working
	for i, name := range shareNames {
		step := render.Step{
			Name: "share of " + name, Formula: "symbols of the part / all symbols of the period", Numbers: fmt.Sprintf("%d / %d", k.shares[i], k.units),
			Result: k.share(i).String() + ", " + percent(k.share(i)) + " %", Source: clausePattern,
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
