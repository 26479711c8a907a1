package fieldreport

import (
	"slices"
	"strconv"
	"strings"

	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
)

// direction is what was measured and is possible in one direction.
type direction struct {
	name     string
	measured *fieldlog.MeasuredRate
	rates    combination.Rates
	expected string // what the expected rate is called, by what it is known from
}

func directionsOf(n *fieldlog.NetworkReport) [2]direction {
	return [2]direction{{"downlink", n.Measured.Down, n.Downlink, expectedName(n.Expected)}, {"uplink", n.Measured.Up, n.Uplink, ""}}
}

// rateBlocks holds what was measured against what is possible.
func rateBlocks(n *fieldlog.NetworkReport) []render.Block {
	var blocks []render.Block
	if n.PeakError != "" {
		blocks = append(blocks, render.Section("Measured against possible"), render.Paragraph("What the carriers can yield cannot be worked out: "+n.PeakError))
	}
	chart := &render.Bars{Title: "Measured against possible", Unit: "Mbit/s", Of: "direction"}
	for _, d := range directionsOf(n) {
		if bars := d.bars(); len(bars) > 0 {
			chart.Groups = append(chart.Groups, render.BarGroup{Name: d.name, Bars: bars})
		}
	}
	return append(blocks, chart, shareTable(n), implied(n), runTable(n), expectedNotes(n), runNotes(n))
}

// bars draws a direction: measured, then expected, scheduled and maximum.
func (d *direction) bars() []render.Bar {
	var bars []render.Bar
	if m := d.measured; m != nil {
		bar := render.Bar{Name: "measured, median of " + counted(m.Count, "run"), Value: mbps(&m.Median)}
		if m.Count > 1 {
			bar.Low, bar.High = mbps(&m.Min), mbps(&m.Max)
		} else {
			bar.Name = "measured in 1 run"
		}
		if m.AtMedian.OfMax != nil {
			bar.Remark = percent(m.AtMedian.OfMax) + " % of the maximum"
		}
		bars = append(bars, bar)
	}
	for _, r := range [...]struct {
		name  string
		value *figures.Figure
		fill  render.Fill
	}{{d.expected, d.rates.Expected, render.Hatched}, {"scheduled", d.rates.Scheduled, render.Hatched}, {"schedulable", d.rates.Schedulable, render.Hollow}, {"maximum", d.rates.Max, render.Hollow}} {
		if r.value != nil && *r.value != "0" {
			bars = append(bars, render.Bar{Name: r.name, Value: mbpsOf(r.value), Fill: r.fill})
		}
	}
	return bars
}

// shareTable has the median and the best run as shares and efficiencies.
func shareTable(n *fieldlog.NetworkReport) *render.Table {
	t := &render.Table{Title: "Shares and efficiency", Columns: []render.Column{
		{Header: "figure"},
		{Header: "rate", Unit: "Mbit/s", Align: render.Number},
		{Header: "of maximum", Unit: "%", Align: render.Number},
		{Header: "of scheduled", Unit: "%", Align: render.Number},
		{Header: "efficiency", Unit: "bit/s/Hz", Align: render.Number},
		{Header: "time-weighted", Unit: "bit/s/Hz", Align: render.Number},
	}}
	add := func(name string, r *fieldlog.Reached) {
		t.Rows = append(t.Rows, []string{name, mbps(&r.Rate), percent(r.OfMax), percent(r.OfScheduled), rounded(r.Efficiency, efficiencyPlaces), rounded(r.ActiveEfficiency, efficiencyPlaces)})
	}
	for _, d := range directionsOf(n) {
		m := d.measured
		if m == nil {
			continue
		}
		if m.Count == 1 {
			add(d.name, &m.AtMedian)
			continue
		}
		add(d.name+", median", &m.AtMedian)
		add(d.name+", best", &m.AtBest)
		for _, q := range [...]struct {
			name  string
			value *float64
		}{{"lower quartile", m.LowerQuartile}, {"upper quartile", m.UpperQuartile}} {
			if q.value != nil {
				t.Rows = append(t.Rows, []string{d.name + ", " + q.name, mbps(q.value), "", "", "", ""})
			}
		}
	}
	t.DropEmpty()
	return t
}

// implied says what the efficiencies ask of modulation and layers. What the carriers
// cannot yield is among the findings.
func implied(n *fieldlog.NetworkReport) render.Points {
	var points render.Points
	for _, d := range directionsOf(n) {
		if d.measured == nil {
			continue
		}
		if i := d.measured.AtMedian.Implied; i != nil && i.Statement != "" {
			points = append(points, "Median "+d.name+", over its bandwidth and its share of time: "+i.Statement)
		}
	}
	return points
}

// runTable has the runs one by one.
func runTable(n *fieldlog.NetworkReport) *render.Table {
	t := &render.Table{Title: "Runs", Columns: []render.Column{
		{Header: "run", Align: render.Number},
		{Header: "where", Typed: true},
		{Header: "when", Typed: true},
		{Header: "down", Unit: "Mbit/s", Align: render.Number, Deciding: true},
		{Header: "of sched.", Unit: "%", Align: render.Number},
		{Header: "expected", Unit: "Mbit/s", Align: render.Number},
		{Header: "from"},
		{Header: "of exp.", Unit: "%", Align: render.Number},
		{Header: "up", Unit: "Mbit/s", Align: render.Number},
		{Header: "of sched.", Unit: "%", Align: render.Number},
	}}
	for i := range n.Runs {
		r := &n.Runs[i]
		row := []string{strconv.Itoa(r.Number), r.Where, r.When, "", "", "", "", "", "", ""}
		if d := r.Down; d != nil {
			row[3], row[4], row[7] = mbps(&d.Rate), percent(d.OfScheduled), percent(d.OfExpected)
			if x := r.Expected; x != nil {
				row[5], row[6] = mbps(&x.Rate), strings.ToUpper(x.From)
			}
		}
		if u := r.Up; u != nil {
			row[8], row[9] = mbps(&u.Rate), percent(u.OfScheduled)
		}
		t.Rows = append(t.Rows, row)
	}
	t.DropEmpty()
	return t
}

// expectedName says what an expected rate is known from.
func expectedName(x *fieldlog.Expectation) string {
	switch {
	case x == nil:
		return ""
	case x.FromRSRP:
		return "expected, from RSRP"
	}
	return "expected, from SINR"
}

// expectedNotes say what an expected rate is worth, and what a gap can come from.
func expectedNotes(n *fieldlog.NetworkReport) render.Points {
	all := []*fieldlog.Expectation{n.Expected}
	for i := range n.Runs {
		all = append(all, n.Runs[i].Expected)
	}
	some := func(is func(*fieldlog.Expectation) bool) bool {
		return slices.ContainsFunc(all, func(x *fieldlog.Expectation) bool { return x != nil && is(x) })
	}
	var points render.Points
	if some(func(x *fieldlog.Expectation) bool { return true }) {
		points = append(points, "Expected is an estimate from the signal (truncated Shannon curve, TR 36.942 for LTE, TR 38.803 for NR), no bound.")
	}
	if some(func(x *fieldlog.Expectation) bool { return x.FromRSRP }) {
		points = append(points, "From RSRP it leans high: thermal noise counts, and no interference.")
	}
	if some(func(x *fieldlog.Expectation) bool { return x.OverLayers }) {
		points = append(points, "On several layers it leans high: each is given the SINR of one, though they share the power.")
	}
	points = append(points, aboveExpected(n)...)
	if n.Gap != "" {
		points = append(points, n.Gap)
	}
	return points
}

// aboveExpected names the runs that had more than the estimate.
func aboveExpected(n *fieldlog.NetworkReport) render.Points {
	var runs []string
	for i := range n.Runs {
		if d := n.Runs[i].Down; d != nil && d.OfExpected != nil && *d.OfExpected > 1 {
			runs = append(runs, strconv.Itoa(n.Runs[i].Number)+" ("+percent(d.OfExpected)+" %)")
		}
	}
	switch len(runs) {
	case 0:
		return nil
	case 1:
		return render.Points{"Run " + runs[0] + " had more than expected: the estimate is low there, or the SINR was better during the run."}
	}
	return render.Points{"Runs " + words.And(runs) + " had more than expected: the estimate is low there, or the SINR was better during the runs."}
}

func runNotes(n *fieldlog.NetworkReport) render.Points {
	var points render.Points
	for i := range n.Runs {
		for _, note := range n.Runs[i].Notes {
			points = append(points, "Run "+strconv.Itoa(n.Runs[i].Number)+": "+note)
		}
	}
	return points
}
