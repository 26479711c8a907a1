package walkreport

import (
	"strconv"

	"spectally/cmd/internal/cells"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/walk"
	"spectally/cmd/internal/words"
)

// networkPart is all that is said of one network.
func networkPart(n *walk.Network, site *walk.Site) []render.Block {
	name := n.Name
	if name == "" {
		name = "All samples"
	}
	return append([]render.Block{render.Part{Text: name, Detail: words.Counted(int(n.Samples), "sample")}}, networkBlocks(n, site)...)
}

// Blocks are those about the one network of a report, for a part of another document.
func Blocks(r *walk.Report) []render.Block {
	if len(r.Networks) == 0 {
		return nil
	}
	n := &r.Networks[0]
	doc := []render.Block{render.Section("Along the way"), render.Paragraph(words.Counted(int(n.Samples), "run") + " with a place or a level, taken as samples of a walk. So few say little: mind the ranges.")}
	return append(append(doc, networkBlocks(n, r.Site)...), render.List{Kind: render.Cautions, Items: r.Cautions})
}

func networkBlocks(n *walk.Network, site *walk.Site) []render.Block {
	doc := []render.Block{
		trace(n), plan(n, site), distributions(n),
		binTable("Rate by SINR", "SINR", "dB", n.BySINR), binTable("Rate by RSRP", "RSRP", "dBm", n.ByRSRP),
	}
	for i := range n.Bands {
		doc = append(doc, bandBlocks(n, &n.Bands[i])...)
	}
	doc = append(doc, offsets(n)...)
	doc = append(doc, cellTable(n), carrierTable(n), changeTable(n), gapTable(n))
	if n.Backwards > 0 {
		doc = append(doc, render.Paragraph(words.Counted(int(n.Backwards), "sample")+" older than the one before: used for the figures, not for changes, gaps and the strip."))
	}
	return doc
}

// quantities are the distributions of a group, with the decimals they are shown with.
func quantities(m *walk.Measured) []quantity {
	return []quantity{
		{"RSRP", "rsrp", "dBm", m.RSRP, 1, 1}, {"RSRQ", "rsrq", "dB", m.RSRQ, 1, 1}, {"SINR", "sinr", "dB", m.SINR, 1, 1},
		{"down", "down", "Mbit/s", m.Down, 1, 1}, {"up", "up", "Mbit/s", m.Up, 1, 1}, {"latency", "latency", "ms", m.Latency, 1, 1},
	}
}

type quantity struct {
	name, key, unit string
	p               *walk.Percentiles
	factor          float64
	places          int
}

func shares(scheduled, expected *walk.Percentiles) []quantity {
	return []quantity{{"of scheduled", "", "%", scheduled, 100, 1}, {"of expected", "", "%", expected, 100, 1}}
}

// distributions has the percentiles of the network and of each band.
func distributions(n *walk.Network) *render.Table {
	t := &render.Table{Title: "Distributions", Columns: []render.Column{
		{Header: "band"}, {Header: "quantity"}, {Header: "unit"}, {Header: "n", Align: render.Number},
		{Header: "5 %", Align: render.Number}, {Header: "25 %", Align: render.Number}, {Header: "50 %", Align: render.Number},
		{Header: "75 %", Align: render.Number}, {Header: "95 %", Align: render.Number},
	}}
	add := func(band string, list []quantity) {
		for _, q := range list {
			if q.p == nil {
				continue
			}
			f := func(x float64) string { return number(q.factor*x, q.places) }
			t.Rows = append(t.Rows, []string{band, q.name, q.unit, strconv.FormatInt(q.p.N, 10), f(q.p.P5), f(q.p.P25), f(q.p.P50), f(q.p.P75), f(q.p.P95)})
			band = ""
		}
	}
	add("all", append(quantities(&n.Measured), shares(n.OfScheduled, n.OfExpected)...))
	if len(n.Bands) > 1 {
		for i := range n.Bands {
			b := &n.Bands[i]
			add(bandName(b), append(quantities(&b.Measured), shares(b.OfScheduled, b.OfExpected)...))
		}
	}
	return t
}

func binTable(title, level, unit string, bins []walk.Bin) *render.Table {
	t := &render.Table{Title: title, Columns: []render.Column{
		{Header: level + " from", Unit: unit, Align: render.Number}, {Header: "n", Align: render.Number},
		{Header: "25 %", Unit: "Mbit/s", Align: render.Number}, {Header: "50 %", Unit: "Mbit/s", Align: render.Number}, {Header: "75 %", Unit: "Mbit/s", Align: render.Number},
		{Header: "expected", Unit: "Mbit/s", Align: render.Number},
	}}
	for _, b := range bins {
		t.Rows = append(t.Rows, []string{number(b.Low, 0), strconv.FormatInt(b.N, 10), number(b.P25, 1), number(b.P50, 1), number(b.P75, 1), optional(b.Expected, 1)})
	}
	t.DropEmpty()
	return t
}

// bandBlocks has what follows from distance and from rates, of one band.
func bandBlocks(n *walk.Network, b *walk.Band) []render.Block {
	name := bandName(b)
	var doc []render.Block
	if b.Fit != nil {
		f := b.Fit
		doc = append(doc, render.Section(name+": level and distance"), levelPlot(n, b), render.Facts{
			{Name: "samples", Value: strconv.FormatInt(f.N, 10), Remark: length(f.Least) + " to " + length(f.Most)},
			{Name: "slope", Value: number(f.Slope, 2), Unit: "dB", Remark: "a decade of distance, " + number(f.SlopeLow, 2) + " to " + number(f.SlopeHigh, 2)},
			{Name: "at " + length(f.Reference), Value: number(f.Intercept, 1), Unit: "dBm", Remark: number(f.InterceptLow, 1) + " to " + number(f.InterceptHigh, 1)},
			{Name: "spread", Value: number(f.Sigma, 2), Unit: "dB", Remark: "standard deviation of the residuals, " + number(f.SigmaLow, 2) + " to " + number(f.SigmaHigh, 2)},
		}, render.Paragraph("Ranges are 95 % confidence intervals."), reachTable(b))
	}
	return append(doc, ratePlot(n, b))
}

func reachTable(b *walk.Band) *render.Table {
	t := &render.Table{Title: "Reach of " + bandName(b), Columns: []render.Column{
		{Header: "at least", Unit: "dBm", Align: render.Number}, {Header: "median", Unit: "m", Align: render.Number},
		{Header: "90 % of places", Unit: "m", Align: render.Number}, {Header: "remark"},
	}}
	for _, r := range b.Reach {
		remark := ""
		if r.Extrapolated {
			remark = "extrapolated beyond the samples"
		}
		t.Rows = append(t.Rows, []string{number(r.Level, 1), number(r.Median, 0), number(r.P90, 0), remark})
	}
	t.DropEmpty()
	return t
}

// offsets say how the bands of the site compare.
func offsets(n *walk.Network) []render.Block {
	if len(n.Offsets) == 0 {
		return nil
	}
	var points render.Points
	for _, o := range n.Offsets {
		points = append(points, offsetSentence(&o))
	}
	return []render.Block{render.Section("Bands compared"), points}
}

func offsetSentence(o *walk.Offset) string {
	s := o.Band + " is " + aside(o.Offset) + " " + o.Reference + " at " + length(o.At) + " (" + number(o.Low, 1) + " to " + number(o.High, 1) + " dB); frequency alone makes " + number(o.Expected, 1) + " dB: "
	if o.Within {
		return s + "consistent with one site and like transmit power."
	}
	return s + "more than " + number(cells.LevelMargin, 0) + " dB apart, so other antennas, power or another site."
}

func aside(db float64) string {
	if db < 0 {
		return number(-db, 1) + " dB below"
	}
	return number(db, 1) + " dB above"
}

func cellTable(n *walk.Network) *render.Table {
	t := &render.Table{Title: "Cells", Columns: []render.Column{
		{Header: "cell"}, {Header: "samples", Align: render.Number},
		{Header: "RSRP 5 %", Unit: "dBm", Align: render.Number}, {Header: "50 %", Unit: "dBm", Align: render.Number}, {Header: "95 %", Unit: "dBm", Align: render.Number},
		{Header: "SINR 50 %", Unit: "dB", Align: render.Number}, {Header: "down 50 %", Unit: "Mbit/s", Align: render.Number},
		{Header: "slope", Unit: "dB", Align: render.Number}, {Header: "spread", Unit: "dB", Align: render.Number},
	}}
	total := 0
	for i := range n.Bands {
		for j := range n.Bands[i].Cells {
			total++
			if len(t.Rows) == shownRows {
				continue
			}
			c := &n.Bands[i].Cells[j]
			row := []string{c.Name, strconv.FormatInt(c.Samples, 10), "", "", "", median(c.SINR, 1), median(c.Down, 1), "", ""}
			if p := c.RSRP; p != nil {
				row[2], row[3], row[4] = number(p.P5, 1), number(p.P50, 1), number(p.P95, 1)
			}
			if c.Fit != nil {
				row[7], row[8] = number(c.Fit.Slope, 1), number(c.Fit.Sigma, 1)
			}
			t.Rows = append(t.Rows, row)
		}
	}
	t.Title = headed(t.Title, len(t.Rows), total)
	t.DropEmpty()
	return t
}

// shownRows bounds the tables for people; JSON and CSV have more.
const shownRows = 100

func headed(title string, shown, of int) string {
	if shown == of {
		return title
	}
	return title + ": the first " + strconv.Itoa(shown) + " of " + strconv.Itoa(of)
}

func carrierTable(n *walk.Network) *render.Table {
	t := &render.Table{Title: "Carriers", Columns: []render.Column{
		{Header: "carrier"}, {Header: "samples", Align: render.Number}, {Header: "share", Unit: "%", Align: render.Number},
		{Header: "came", Align: render.Number}, {Header: "went", Align: render.Number},
	}}
	for _, u := range n.Carriers[:min(len(n.Carriers), shownRows)] {
		t.Rows = append(t.Rows, []string{u.Carrier, strconv.FormatInt(u.Samples, 10), number(100*u.Share, 1), strconv.FormatInt(u.Came, 10), strconv.FormatInt(u.Went, 10)})
	}
	t.Title = headed(t.Title, len(t.Rows), len(n.Carriers))
	return t
}

// spotColumns and spotCells say where and when something is.
func spotColumns() []render.Column {
	return []render.Column{{Header: "time"}, {Header: "from site", Unit: "m", Align: render.Number}, {Header: "way", Unit: "m", Align: render.Number}, {Header: "place"}}
}

func spotCells(s *walk.Spot) []string {
	place := ""
	switch {
	case s.Lat != nil:
		place = number(*s.Lat, 5) + ", " + number(*s.Lon, 5)
	case s.X != nil:
		place = number(*s.X, 0) + " m E, " + number(*s.Y, 0) + " m N"
	}
	return []string{s.Time, optional(s.Distance, 0), optional(s.Way, 0), place}
}

func changeTable(n *walk.Network) *render.Table {
	t := &render.Table{Title: "Cell changes", Columns: append(spotColumns(),
		render.Column{Header: "from"}, render.Column{Header: "to"},
		render.Column{Header: "before", Unit: "dBm", Align: render.Number}, render.Column{Header: "after", Unit: "dBm", Align: render.Number}, render.Column{Header: "remark"})}
	for i := range n.Changes[:min(len(n.Changes), shownRows)] {
		c := &n.Changes[i]
		remark := ""
		if c.PingPong {
			remark = "ping-pong"
		}
		t.Rows = append(t.Rows, append(spotCells(&c.Spot), c.From, c.To, optional(c.Before, 1), optional(c.After, 1), remark))
	}
	t.Title = headed(t.Title, len(t.Rows), int(n.ChangeCount))
	t.DropEmpty()
	return t
}

func gapTable(n *walk.Network) *render.Table {
	t := &render.Table{Title: "Gaps", Columns: append(spotColumns(),
		render.Column{Header: "kind"}, render.Column{Header: "length", Unit: "m", Align: render.Number}, render.Column{Header: "time", Unit: "s", Align: render.Number})}
	for i := range n.Gaps[:min(len(n.Gaps), shownRows)] {
		g := &n.Gaps[i]
		kind := "no coverage"
		if g.Kind == walk.NoSamples {
			kind = "no samples"
		}
		t.Rows = append(t.Rows, append(spotCells(&g.Spot), kind, optional(g.Metres, 0), optional(g.Seconds, 0)))
	}
	t.Title = headed(t.Title, len(t.Rows), int(n.GapCount))
	t.DropEmpty()
	return t
}
