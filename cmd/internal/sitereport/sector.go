package sitereport

import (
	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/render"
	"spectally/throughput/exact"
	"spectally/throughput/site"
)

// sectorPart is all that the report says of one sector.
func (s *study) sectorPart(i int) []render.Block {
	c := &s.capacity.Sectors[i]
	detail := sentence(c.Environment.String(), "load "+percent(s.loadOf(i, bands.Downlink))+" % down, "+percent(s.loadOf(i, bands.Uplink))+" % up")
	if c.Count > 1 {
		detail = sentence(counted(c.Count, "sector")+" alike, each with these figures", detail)
	}
	part := []render.Block{
		render.Part{Text: s.partName(i), Detail: detail},
		s.strip(i), s.phoneTable(i), s.phoneWords(i), s.cellTable(i), s.meanTable(i), s.edgeTable(i),
	}
	own := combination.InterferenceOf(s.together[i].Assessment)
	part = append(part, own.Fact())
	if faults := s.faults(i); len(faults) > 0 {
		part = append(part, render.Section("Findings for one phone on all carriers"), faults)
	}
	return part
}

// partName heads the part of a sector.
func (s *study) partName(i int) string {
	if name := s.Site.Sectors[i].Name; name != "" {
		return "Sector “" + name + "”"
	}
	return "Sector " + itoa(i+1)
}

// links visits the links of a sector, a carrier after the other.
func (s *study) links(i int, visit func(c *site.CarrierCapacity, d bands.Direction, l *site.LinkCapacity)) {
	carriers := s.capacity.Sectors[i].Carriers
	for k := range carriers {
		for _, d := range directions {
			if l := carriers[k].Link(d); !l.IsZero() {
				visit(&carriers[k], d, l)
			}
		}
	}
}

// phoneTable has what one phone can have of each carrier at most.
func (s *study) phoneTable(i int) *render.Table {
	t := &render.Table{Title: "Peak of one phone", Columns: []render.Column{
		{Header: "carrier"},
		{Header: "direction"},
		{Header: "ports"},
		{Header: "layers", Align: render.Number},
		{Header: "QAM", Align: render.Number},
		{Header: "maximum", Unit: "Mbit/s", Align: render.Number},
		{Header: "scheduled", Unit: "Mbit/s", Align: render.Number, Deciding: true},
		{Header: "note"},
	}}
	s.links(i, func(c *site.CarrierCapacity, d bands.Direction, l *site.LinkCapacity) {
		note := ""
		if !l.InUser {
			note = "not added"
		}
		t.Rows = append(t.Rows, []string{
			carrierName(&c.Carrier), directionWord(d), portsText(s.radioOf(i, c)), itoa(l.UserLayers), itoa(l.QAM), mbpsText(l.User.Max), mbpsText(l.User.Scheduled), note,
		})
	})
	s.sums(i, func(d bands.Direction, c *site.Capacity) {
		t.Rows = append(t.Rows, []string{"the sector", directionWord(d), "", "", "", mbpsText(c.User.Max), mbpsText(c.User.Scheduled), ""})
	})
	t.DropEmpty()
	return t
}

// cellTable has what the layers of all users can have of each carrier at most.
func (s *study) cellTable(i int) *render.Table {
	t := &render.Table{Title: "Peak of the cell, with the layers of all its users", Columns: []render.Column{
		{Header: "carrier"},
		{Header: "direction"},
		{Header: "layers", Align: render.Number},
		{Header: "maximum", Unit: "Mbit/s", Align: render.Number},
		{Header: "scheduled", Unit: "Mbit/s", Align: render.Number, Deciding: true},
	}}
	s.links(i, func(c *site.CarrierCapacity, d bands.Direction, l *site.LinkCapacity) {
		t.Rows = append(t.Rows, []string{carrierName(&c.Carrier), directionWord(d), itoa(l.CellLayers), mbpsText(l.Cell.Max), mbpsText(l.Cell.Scheduled)})
	})
	s.sums(i, func(d bands.Direction, c *site.Capacity) {
		t.Rows = append(t.Rows, []string{"the sector", directionWord(d), "", mbpsText(c.Cell.Max), mbpsText(c.Cell.Scheduled)})
	})
	return t
}

// meanTable has what each carrier yields in the busy hour, with the efficiency used.
func (s *study) meanTable(i int) *render.Table {
	t := &render.Table{Title: "Busy hour", Columns: []render.Column{
		{Header: "carrier"},
		{Header: "direction"},
		{Header: "effective", Unit: "MHz", Align: render.Number},
		{Header: "average", Unit: "bit/s/Hz", Align: render.Number},
		{Header: "from"},
		{Header: "full load", Unit: "Mbit/s", Align: render.Number},
		{Header: "busy hour", Unit: "Mbit/s", Align: render.Number},
		{Header: "limited by", Detail: true},
	}}
	s.links(i, func(c *site.CarrierCapacity, d bands.Direction, l *site.LinkCapacity) {
		t.Rows = append(t.Rows, []string{
			carrierName(&c.Carrier), directionWord(d), decimalsOfMHz(l.Effective), string(decimals(l.Average.Value, 1, 4)), efficiencyOrigin(&l.Average),
			mbpsText(l.Full), mbpsText(l.Mean), l.Bound.String(),
		})
	})
	s.sums(i, func(d bands.Direction, c *site.Capacity) {
		t.Rows = append(t.Rows, []string{"the sector", directionWord(d), decimalsOfMHz(c.Effective), "", "", mbpsText(c.Full), mbpsText(c.Mean), ""})
	})
	return t
}

// edgeTable has what a user at the cell edge has, with the efficiency used.
func (s *study) edgeTable(i int) *render.Table {
	t := &render.Table{Title: "Cell edge", Columns: []render.Column{
		{Header: "carrier"},
		{Header: "direction"},
		{Header: "5th percentile", Unit: "bit/s/Hz", Align: render.Number},
		{Header: "from"},
		{Header: "rate", Unit: "Mbit/s", Align: render.Number},
	}}
	s.links(i, func(c *site.CarrierCapacity, d bands.Direction, l *site.LinkCapacity) {
		t.Rows = append(t.Rows, []string{carrierName(&c.Carrier), directionWord(d), string(decimals(l.AtEdge.Value, 1, 4)), efficiencyOrigin(&l.AtEdge), mbpsText(l.Edge)})
	})
	s.sums(i, func(d bands.Direction, c *site.Capacity) {
		t.Rows = append(t.Rows, []string{"the sector", directionWord(d), "", "", mbpsText(c.Edge)})
	})
	return t
}

// sums visits the directions that a sector has.
func (s *study) sums(i int, visit func(d bands.Direction, c *site.Capacity)) {
	for _, d := range directions {
		if c := s.capacity.Sectors[i].In(d); c.Width > 0 {
			visit(d, c)
		}
	}
}

// decimalsOfMHz writes a width that is weighted by time, to two decimals.
func decimalsOfMHz(f bands.Frequency) string {
	return string(decimals(exact.Whole(int64(f)), int64(bands.MHz), 2))
}

// efficiencyOrigin says in a few words where an efficiency is from.
func efficiencyOrigin(e *site.Efficiency) string {
	switch e.Basis {
	case site.BasisMeasured:
		return "measured: " + e.Origin
	case site.BasisScaled:
		return "measured, scaled to these ports: " + e.Origin
	}
	return e.Source.Spec + ", " + e.Basis.String()
}

// phoneWords says whether one phone may use the carriers of the sector together.
func (s *study) phoneWords(i int) render.Paragraph {
	x := s.together[i]
	if len(x.Carriers) == 1 {
		return ""
	}
	if !x.Valid() {
		return "The standard does not have one phone on all these carriers together, for what stands under the findings, so the peak of one phone in the sector is a sum that no phone need reach."
	}
	if l, _ := x.Decisive(); l != nil {
		return render.Paragraph("One phone on all carriers is " + l.Name.String() + ", which the standard lists or has as a fallback of what it lists.")
	}
	return ""
}

const stripLegend = "MHz, all on one scale. Upper track: downlink. Lower track: uplink, hatched. A block over both tracks is TDD. A line joins the two directions of a carrier. The axis is broken where nothing lies. Figures in blocks are numbers of carriers."

// strip draws the spectrum of a sector.
func (s *study) strip(i int) *render.Spectrum {
	var lane []render.SpectrumBlock
	carriers := s.together[i].Carriers
	for k := range carriers {
		p := &carriers[k]
		if p.Info == nil {
			continue
		}
		block := func(use render.Use, d bands.Direction) {
			if p.Width(d) > 0 {
				lane = append(lane, render.SpectrumBlock{
					Band: p.Band.String(), Use: use, Within: p.Info.Span(d), Edges: spanOf(p, d),
					Channels: []render.Channel{{Carrier: k + 1, Width: p.Width(d), Edges: spanOf(p, d)}},
				})
			}
		}
		if p.Info.Duplex == bands.TDD {
			d := bands.Downlink
			if p.DownlinkWidth == 0 {
				d = bands.Uplink
			}
			block(render.BothUse, d)
			continue
		}
		block(render.DownlinkUse, bands.Downlink)
		block(render.UplinkUse, bands.Uplink)
	}
	return &render.Spectrum{Title: "Spectrum", Legend: stripLegend, Lanes: []render.Lane{{Blocks: lane}}}
}

// spanOf is where a channel lies; none where that is not known.
func spanOf(p *ca.Placed, d bands.Direction) bands.Span {
	if p.CentreIn(d) == 0 {
		return bands.Span{}
	}
	return p.Span(d)
}
