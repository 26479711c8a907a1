package channel

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/spectrum"
)

func channelAnswer(c *channel) *render.Answer {
	findings := c.findings()
	a := &render.Answer{
		Value: func() any { return c.value() },
		Data:  c.data(),
		Refuted: slices.ContainsFunc(findings, func(f render.Finding) bool {
			return f.Severity == render.Error
		}),
	}
	a.Document = []render.Block{
		render.Title{Text: strings.Replace(c.String(), "@", " at ", 1), Detail: c.detail()},
		c.verdict(a.Refuted),
		c.carrierTable(),
		c.facts(),
		c.syncTable(),
	}
	if len(findings) > 0 {
		a.Document = append(a.Document, render.Section("Findings"), findings)
	}
	a.Document = append(a.Document, render.Explained(c.working), render.List{Kind: render.Assumptions, Items: c.assumptions()}, c.sources())
	return a
}

// detail says what the place is.
func (c *channel) detail() string {
	switch {
	case c.block != 0:
		return "SS/PBCH block"
	case c.band.Duplex == bands.TDD:
		return "carrier centre in uplink and downlink"
	}
	return c.asked.String() + " carrier centre"
}

func (c *channel) verdict(refuted bool) render.Verdict {
	raster := "the channel raster of " + c.band.ID.String()
	if c.block != 0 {
		raster = "the synchronisation raster of " + c.band.ID.String()
	}
	switch {
	case !refuted && c.onRaster:
		return render.Verdict{Tone: render.Good, Word: "allowed", Text: "The place is on " + raster + "."}
	case !refuted:
		return render.Verdict{Tone: render.Doubtful, Word: "allowed", Text: "The place is on the enhanced 10 kHz raster of " + c.band.ID.String() + " alone, not on the ordinary one."}
	case c.onRaster:
		return render.Verdict{Tone: render.Bad, Word: "not allowed", Text: "The place is on " + raster + ", but see the findings."}
	}
	return render.Verdict{Tone: render.Bad, Word: "not allowed", Text: "The place is not on " + raster + "."}
}

// carrierTable has a row for each direction, one for both in TDD.
func (c *channel) carrierTable() *render.Table {
	t := &render.Table{Columns: []render.Column{
		{Header: "direction"},
		{Header: spectrum.ChannelName(c.band.ID.RAT), Align: render.Number},
		{Header: "centre", Unit: "MHz", Align: render.Number},
		{Header: "from", Unit: "MHz", Align: render.Number},
		{Header: "to", Unit: "MHz", Align: render.Number},
	}}
	for _, d := range []bands.Direction{bands.Downlink, bands.Uplink} {
		f, ok := c.centre[d]
		if !ok || c.band.Duplex == bands.TDD && d == bands.Uplink {
			continue
		}
		name := d.String()
		if c.band.Duplex == bands.TDD && c.block == 0 {
			name = "both"
		}
		low, high := figures.EdgesText(c.span(d))
		t.Rows = append(t.Rows, []string{name, c.numberText(d), f.MHz(), low, high})
	}
	t.DropEmpty()
	return t
}

// numberText is the channel number in a direction; empty if there is none.
func (c *channel) numberText(d bands.Direction) string {
	n, ok := c.number[d]
	if !ok {
		return ""
	}
	return strconv.Itoa(int(n))
}

func (c *channel) facts() render.Facts {
	var facts render.Facts
	if w, ok := c.band.Width(c.scs, c.width); ok {
		source := render.Source(c.band.WidthSource())
		facts = append(facts,
			render.Fact{Name: "channel bandwidth", Value: c.width.MHz(), Unit: "MHz", Source: source},
			render.Fact{Name: "subcarrier spacing", Value: c.scs.KHz(), Unit: "kHz", Source: source},
			render.Fact{Name: "resource blocks", Value: strconv.Itoa(w.ResourceBlocks), Unit: "N_RB"})
		if w.GuardBand != 0 {
			facts = append(facts, render.Fact{Name: "minimum guard band", Value: w.GuardBand.KHz(), Unit: "kHz", Remark: "on each side"})
		}
	}
	if !c.onRaster && c.block == 0 {
		var near []string
		for _, n := range c.nearest {
			if f, err := c.band.ChannelFrequency(n); err == nil {
				near = append(near, strconv.Itoa(int(n))+" ("+f.MHz()+" MHz)")
			}
		}
		if len(near) > 0 {
			facts = append(facts, render.Fact{Name: "nearest allowed", Value: strings.Join(near, ", ")})
		}
	}
	return facts
}

func (c *channel) syncTable() *render.Table {
	t := &render.Table{Title: "Synchronisation raster", Columns: []render.Column{
		{Header: "GSCN", Align: render.Number},
		{Header: "SS_REF", Unit: "MHz", Align: render.Number},
		{Header: "NR-ARFCN", Align: render.Number},
		{Header: "SCS", Unit: "kHz", Align: render.Number},
		{Header: "case"},
		{Header: "note"},
	}}
	for _, e := range c.entries {
		number := ""
		if n, exact, err := bands.ARFCNNear(e.at); err == nil && exact {
			number = strconv.Itoa(int(n))
		}
		t.Rows = append(t.Rows, []string{strconv.Itoa(int(e.number)), e.at.MHz(), number, e.raster.SCS.KHz(), e.raster.Pattern, e.raster.Note})
		t.Source = render.Source(e.raster.Source)
	}
	t.DropEmpty()
	return t
}

func (c *channel) assumptions() []string {
	if !c.assumedSCS {
		return nil
	}
	return []string{"subcarrier spacing " + c.scs.String() + ", the usual one of " + c.band.ID.String() + " for this width, since none was given"}
}

// sources lists the tables that the answer is read from.
func (c *channel) sources() render.Sources {
	s := render.Sources{render.Source(c.band.Source), spectrum.RasterSource(c.band)}
	if c.band.ID.RAT == bands.NR {
		s = append(s, render.Source(bands.ARFCN(0).Source()))
	}
	if c.has(other(c.asked)) && len(c.band.Separations()) > 0 {
		s = append(s, render.Source(c.band.Separations()[0].Source))
	}
	if c.width != 0 {
		s = append(s, render.Source(c.band.WidthSource()))
	}
	for _, e := range c.entries {
		s = append(s, render.Source(e.raster.Source), render.Source(e.number.Source()))
	}
	return s
}

// data is the one row that CSV shows.
func (c *channel) data() *render.Table {
	t := &render.Table{Rows: [][]string{nil}}
	add := func(key, value string) {
		t.Columns = append(t.Columns, render.Column{Key: key, Header: key})
		t.Rows[0] = append(t.Rows[0], value)
	}
	centre := func(d bands.Direction) string {
		if f, ok := c.centre[d]; ok {
			return f.MHz()
		}
		return ""
	}
	add("band", c.band.ID.String())
	add("dl_channel", c.numberText(bands.Downlink))
	add("dl_mhz", centre(bands.Downlink))
	add("ul_channel", c.numberText(bands.Uplink))
	add("ul_mhz", centre(bands.Uplink))
	add("on_raster", strconv.FormatBool(c.onRaster))
	var near, gscn []string
	for _, n := range c.nearest {
		near = append(near, strconv.Itoa(int(n)))
	}
	for _, e := range c.entries {
		gscn = append(gscn, strconv.Itoa(int(e.number)))
	}
	add("nearest", strings.Join(near, " "))
	add("gscn", strings.Join(gscn, " "))
	for _, d := range []bands.Direction{bands.Downlink, bands.Uplink} {
		low, high := figures.EdgesText(c.span(d))
		add(d.Short()+"_low_mhz", low)
		add(d.Short()+"_high_mhz", high)
	}
	var width, scs, blocks, guard string
	if w, ok := c.band.Width(c.scs, c.width); ok {
		width, scs, blocks = w.Width.MHz(), w.SCS.KHz(), strconv.Itoa(w.ResourceBlocks)
		if w.GuardBand != 0 {
			guard = w.GuardBand.KHz()
		}
	}
	add("width_mhz", width)
	add("scs_khz", scs)
	add("n_rb", blocks)
	add("min_guard_band_khz", guard)
	return t
}
