package sitereport

import (
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/render"
	"spectally/throughput/site"
)

// changePart has what single changes would add, the best first.
func (s *study) changePart() []render.Block {
	if len(s.changes) == 0 {
		return nil
	}
	t := &render.Table{Title: "Single changes, the best first", Columns: []render.Column{
		{Header: "rank", Align: render.Number},
		{Header: "change"},
		{Header: "carried", Unit: "Mbit/s more", Align: render.Number},
		{Header: "air, down", Unit: "Mbit/s more", Align: render.Number},
		{Header: "air, up", Unit: "Mbit/s more", Align: render.Number},
		{Header: "link needs", Unit: "Mbit/s more", Align: render.Number},
	}}
	chart := &render.Bars{Title: "What single changes add in the busy hour", Unit: "Mbit/s", Of: "rank", Legend: "Solid: downlink that the link carries. Hollow: downlink on the air."}
	var notes []string
	of := make(map[string][]string) // ranks by note
	for i := range s.changes {
		w := &s.changes[i]
		t.Rows = append(t.Rows, []string{itoa(i + 1), w.Text, mbpsText(w.Delivered), mbpsText(w.Gain), mbpsText(w.UplinkGain), mbpsText(w.NeedGain)})
		if w.Note != "" {
			if _, known := of[w.Note]; !known {
				notes = append(notes, w.Note)
			}
			of[w.Note] = append(of[w.Note], itoa(i+1))
		}
		if i < mostBars && w.Gain.Num >= 0 && w.Delivered.Num >= 0 {
			chart.Groups = append(chart.Groups, render.BarGroup{Name: "rank " + itoa(i+1), Bars: []render.Bar{
				{Name: "carried", Value: mbpsText(w.Delivered)},
				{Name: "on the air", Value: mbpsText(w.Gain), Fill: render.Hollow},
			}})
		}
	}
	points := make(render.Points, len(notes))
	for i, note := range notes {
		points[i] = "Rank " + strings.Join(of[note], ", ") + ": " + note
	}
	return []render.Block{
		render.Part{Text: "What would add most", Detail: "each change by itself, in the busy hour"},
		t, points, chart,
	}
}

// mostBars is how many changes are drawn.
const mostBars = 8

// buildPart has the same spectrum with other antennas.
func (s *study) buildPart() []render.Block {
	peaks := &render.Table{Title: "What ports add", Columns: []render.Column{
		{Header: "ports", Align: render.Number},
		{Header: "array gain", Unit: "dB", Align: render.Number},
		{Header: "layers of one phone", Align: render.Number},
		{Header: "layers of a cell", Align: render.Number},
		{Header: "one phone", Unit: "Mbit/s", Align: render.Number},
		{Header: "all cells", Unit: "Mbit/s", Align: render.Number},
	}}
	means := &render.Table{Title: "What the site then carries", Columns: []render.Column{
		{Header: "ports", Align: render.Number},
		{Header: "busy hour, down", Unit: "Mbit/s", Align: render.Number},
		{Header: "busy hour, up", Unit: "Mbit/s", Align: render.Number},
		{Header: "users served", Align: render.Number},
		{Header: "downlink of a day", Unit: "GB", Align: render.Number},
		{Header: "link needs", Unit: "Mbit/s", Align: render.Number},
	}}
	chart := &render.Bars{Title: "Downlink of the site by ports", Unit: "Mbit/s", Of: "ports", Legend: "Solid: the mean of the busy hour. Hatched: the scheduled peak of one phone. Hollow: the scheduled peak of all cells."}
	var words render.Points
	for i := range s.builds {
		b := &s.builds[i]
		users := ""
		if b.Site.Users.Given {
			users = itoa(int(b.Site.Users.Served))
		}
		down := &b.Site.Downlink
		peaks.Rows = append(peaks.Rows, []string{
			itoa(b.Ports), levelText(b.ArrayGain), itoa(phoneLayers(b.Site)), itoa(cellLayers(b.Site)), mbpsText(down.User.Scheduled), mbpsText(down.Cell.Scheduled),
		})
		means.Rows = append(means.Rows, []string{
			itoa(b.Ports), mbpsText(down.Mean), mbpsText(b.Site.Uplink.Mean), users, bytesText(b.Site.Volume.Day.Downlink), mbpsText(b.Site.Backhaul.Downlink.Need),
		})
		if down.Width > 0 {
			chart.Groups = append(chart.Groups, render.BarGroup{Name: counted(b.Ports, "port"), Bars: capacityBars(down, "all cells")})
		}
		for _, text := range b.Text {
			words = append(words, counted(b.Ports, "port")+": "+text)
		}
	}
	means.DropEmpty()
	changes, stays := site.WhatPortsChange()
	return []render.Block{
		render.Part{Text: "Builds side by side", Detail: "every radio with as many ports in both directions"},
		peaks, means, chart,
		render.Section("What more ports change"), render.Points(changes),
		render.Section("What they don't"), render.Points(stays),
		render.Section("In this comparison"), words,
	}
}

// phoneLayers and cellLayers are the most of any downlink.
func phoneLayers(c *site.SiteCapacity) int {
	return mostOf(c, func(l *site.LinkCapacity) int { return l.UserLayers })
}

func cellLayers(c *site.SiteCapacity) int {
	return mostOf(c, func(l *site.LinkCapacity) int { return l.CellLayers })
}

func mostOf(c *site.SiteCapacity, of func(*site.LinkCapacity) int) int {
	most := 0
	for i := range c.Sectors {
		for k := range c.Sectors[i].Carriers {
			most = max(most, of(c.Sectors[i].Carriers[k].Link(bands.Downlink)))
		}
	}
	return most
}
