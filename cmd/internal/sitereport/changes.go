package sitereport

import (
	"slices"

	"spectally/bands"
	"spectally/cmd/internal/render"
	"spectally/throughput"
)

// changePart has what single changes would add, the best first.
func (s *study) changePart() []render.Block {
	if len(s.changes) == 0 {
		return nil
	}
	t := &render.Table{Title: "Single changes, the best first", Columns: []render.Column{
		{Header: "rank", Align: render.Number},
		{Header: "change"},
		{Header: "gets through", Unit: "Mbit/s more", Align: render.Number},
		{Header: "on the air down", Unit: "Mbit/s more", Align: render.Number},
		{Header: "on the air up", Unit: "Mbit/s more", Align: render.Number},
		{Header: "link needs", Unit: "Mbit/s more", Align: render.Number},
	}}
	chart := &render.Bars{Title: "What single changes add in the busy hour", Unit: "Mbit/s", Of: "change", Legend: "Solid: downlink that gets through the link. Hollow: downlink on the air."}
	var notes render.Points
	for i := range s.changes {
		w := &s.changes[i]
		t.Rows = append(t.Rows, []string{itoa(i + 1), w.Text, mbpsText(w.Delivered), mbpsText(w.Gain), mbpsText(w.UplinkGain), mbpsText(w.NeedGain)})
		if w.Note != "" && !slices.Contains(notes, w.Note) {
			notes = append(notes, w.Note)
		}
		if i < mostBars && w.Gain.Num >= 0 && w.Delivered.Num >= 0 {
			chart.Groups = append(chart.Groups, render.BarGroup{Name: w.Text, Bars: []render.Bar{
				{Name: "gets through", Value: mbpsText(w.Delivered)},
				{Name: "on the air", Value: mbpsText(w.Gain), Fill: render.Hollow},
			}})
		}
	}
	return []render.Block{
		render.Part{Text: "What would add most", Detail: "each change by itself, in the busy hour"},
		t, chart, notes,
	}
}

// mostBars is how many changes are drawn.
const mostBars = 8

// buildPart has the same spectrum with other antennas.
func (s *study) buildPart() []render.Block {
	t := &render.Table{Title: "The site with other antennas", Columns: []render.Column{
		{Header: "ports", Align: render.Number},
		{Header: "array gain", Unit: "dB", Align: render.Number},
		{Header: "layers", Unit: "one phone", Align: render.Number},
		{Header: "layers", Unit: "cell", Align: render.Number},
		{Header: "one phone", Unit: "Mbit/s", Align: render.Number},
		{Header: "cell", Unit: "Mbit/s", Align: render.Number},
		{Header: "busy hour down", Unit: "Mbit/s", Align: render.Number},
		{Header: "busy hour up", Unit: "Mbit/s", Align: render.Number},
		{Header: "users", Align: render.Number},
		{Header: "link needs", Unit: "Mbit/s", Align: render.Number},
	}}
	chart := &render.Bars{Title: "Downlink of the site by ports", Unit: "Mbit/s", Of: "ports", Legend: capacityLegend}
	var words render.Points
	for i := range s.builds {
		b := &s.builds[i]
		users := ""
		if b.Site.Users.Given {
			users = itoa(int(b.Site.Users.Served))
		}
		t.Rows = append(t.Rows, []string{
			itoa(b.Ports), levelText(b.ArrayGain), itoa(phoneLayers(b.Site)), itoa(cellLayers(b.Site)), mbpsText(b.Site.Downlink.User.Scheduled), mbpsText(b.Site.Downlink.Cell.Scheduled),
			mbpsText(b.Site.Downlink.Mean), mbpsText(b.Site.Uplink.Mean), users, mbpsText(b.Site.Backhaul.Downlink.Need),
		})
		if b.Site.Downlink.Width > 0 {
			chart.Groups = append(chart.Groups, render.BarGroup{Name: counted(b.Ports, "port"), Bars: capacityBars(&b.Site.Downlink)})
		}
		for _, text := range b.Text {
			words = append(words, counted(b.Ports, "port")+": "+text)
		}
	}
	t.DropEmpty()
	changes, stays := throughput.WhatPortsChange()
	return []render.Block{
		render.Part{Text: "Builds side by side", Detail: "every radio with as many ports in both directions"},
		t, chart,
		render.Section("What more ports change"), render.Points(changes),
		render.Section("What they don't"), render.Points(stays),
		render.Section("In this comparison"), words,
	}
}

// phoneLayers and cellLayers are the most of any downlink.
func phoneLayers(c *throughput.SiteCapacity) int {
	return mostOf(c, func(l *throughput.LinkCapacity) int { return l.UserLayers })
}

func cellLayers(c *throughput.SiteCapacity) int {
	return mostOf(c, func(l *throughput.LinkCapacity) int { return l.CellLayers })
}

func mostOf(c *throughput.SiteCapacity, of func(*throughput.LinkCapacity) int) int {
	most := 0
	for i := range c.Sectors {
		for k := range c.Sectors[i].Carriers {
			most = max(most, of(c.Sectors[i].Carriers[k].Link(bands.Downlink)))
		}
	}
	return most
}
