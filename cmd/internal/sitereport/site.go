package sitereport

import (
	"spectally/bands"
	"spectally/cmd/internal/render"
	"spectally/throughput/exact"
	"spectally/throughput/site"
)

// sitePart has the sectors side by side, the users, the data, and the link.
func (s *study) sitePart() []render.Block {
	return []render.Block{
		render.Part{Text: "The site", Detail: counted(s.capacity.SectorCount(), "sector")},
		s.totalTable(), s.totalChart(), s.userTable(), s.volumeTable(), s.backhaulTable(),
		render.Section("What limits"), s.limits(),
	}
}

// totalTable has the sum of every sector and of the site.
func (s *study) totalTable() *render.Table {
	t := &render.Table{Title: "Capacity", Columns: append([]render.Column{
		{Header: "sector", Typed: true},
		{Header: "direction"},
		{Header: "width", Unit: "MHz", Align: render.Number},
	}, rateColumns()...)}
	row := func(name string, d bands.Direction, c *site.Capacity) {
		if c.Width > 0 {
			t.Rows = append(t.Rows, []string{name, directionWord(d), c.Width.MHz(), mbpsText(c.User.Scheduled), mbpsText(c.Cell.Scheduled), mbpsText(c.Full), mbpsText(c.Mean), mbpsText(c.Edge)})
		}
	}
	for i := range s.capacity.Sectors {
		c := &s.capacity.Sectors[i]
		for _, d := range directions {
			row(s.rowName(i), d, c.In(d))
		}
	}
	for _, d := range directions {
		row("the site", d, s.capacity.In(d))
	}
	return t
}

// rowName is the name of a sector beside the figures of one of several alike.
func (s *study) rowName(i int) string {
	if s.capacity.Sectors[i].Count > 1 {
		return s.SectorName(i) + ", each"
	}
	return s.SectorName(i)
}

const capacityLegend = "Solid: the mean of the busy hour. Hatched: the scheduled peak of one phone. Hollow: the scheduled peak of the cell."

// capacityBars are the figures that compare sectors and builds.
func capacityBars(c *site.Capacity, cells string) []render.Bar {
	return []render.Bar{
		{Name: "busy hour", Value: mbpsText(c.Mean)},
		{Name: "one phone", Value: mbpsText(c.User.Scheduled), Fill: render.Hatched},
		{Name: cells, Value: mbpsText(c.Cell.Scheduled), Fill: render.Hollow},
	}
}

func (s *study) totalChart() *render.Bars {
	b := &render.Bars{Title: "Downlink of each sector", Unit: "Mbit/s", Of: "sector", Legend: capacityLegend}
	for i := range s.capacity.Sectors {
		if c := s.capacity.Sectors[i].In(bands.Downlink); c.Width > 0 {
			b.Groups = append(b.Groups, render.BarGroup{Name: s.SectorName(i), Bars: capacityBars(c, "cell")})
		}
	}
	return b
}

// userTable has how many users the sectors and the site serve.
func (s *study) userTable() *render.Table {
	t := &render.Table{Title: "Users in the busy hour", Columns: []render.Column{
		{Header: "sector", Typed: true},
		{Header: "active at once", Align: render.Number},
		{Header: "served", Align: render.Number},
		{Header: "decided by"},
	}}
	row := func(name string, u *site.Users) {
		if u.Given {
			t.Rows = append(t.Rows, []string{name, itoa(int(u.Active)), itoa(int(u.Served)), "the " + u.By.String()})
		}
	}
	for i := range s.capacity.Sectors {
		row(s.rowName(i), &s.capacity.Sectors[i].Users)
	}
	row("the site", &s.capacity.Users)
	return t
}

// volumeTable has the data that the site moves.
func (s *study) volumeTable() *render.Table {
	v := &s.capacity.Volume
	t := &render.Table{Title: "Data", Columns: []render.Column{
		{Header: "in"},
		{Header: "downlink", Unit: "GB", Align: render.Number},
		{Header: "uplink", Unit: "GB", Align: render.Number},
	}}
	for _, r := range [...]struct {
		name string
		of   site.DirectionBytes
	}{{"the busy hour, " + percent(v.Share) + " % of the day", v.BusyHour}, {"a day", v.Day}, {"a month of " + itoa(site.DaysOfMonth) + " days", v.Month}} {
		t.Rows = append(t.Rows, []string{r.name, bytesText(r.of.Downlink), bytesText(r.of.Uplink)})
	}
	return t
}

// backhaulTable has what the link needs against what it carries.
func (s *study) backhaulTable() *render.Table {
	b := &s.capacity.Backhaul
	overhead := "no overhead"
	if over := b.Factor.Add(exact.Whole(-1)); over.Num > 0 {
		overhead = percent(over) + " % overhead"
	}
	t := &render.Table{Title: "Backhaul, with " + overhead, Columns: []render.Column{
		{Header: "direction"},
		{Header: "one peak", Unit: "Mbit/s", Align: render.Number},
		{Header: "busy hour", Unit: "Mbit/s", Align: render.Number},
		{Header: "decided by"},
		{Header: "need", Unit: "Mbit/s", Align: render.Number},
		{Header: "link", Unit: "Mbit/s", Align: render.Number},
		{Header: "enough"},
		{Header: "carried", Unit: "Mbit/s", Align: render.Number},
	}}
	for _, d := range directions {
		if s.capacity.In(d).Width == 0 {
			continue
		}
		l := b.In(d)
		by, link, enough := "the busy hour", "", ""
		if l.ByPeak {
			by = "the peak"
		}
		if !l.Link.IsZero() {
			link, enough = mbpsText(l.Link), "yes"
			if !l.Enough {
				enough = "no"
			}
		}
		t.Rows = append(t.Rows, []string{directionWord(d), mbpsText(l.Peak), mbpsText(l.Means), by, mbpsText(l.Need), link, enough, mbpsText(l.Delivered)})
	}
	t.DropEmpty()
	return t
}

func (s *study) limits() render.Points {
	var points render.Points
	for _, l := range s.capacity.Limits() {
		points = append(points, l.Direction.String()+", "+limitWords[l.Kind]+": "+l.Text)
	}
	return points
}

var limitWords = map[site.LimitKind]string{
	site.LimitBackhaul:     "the backhaul",
	site.LimitBackhaulPeak: "the backhaul at its peak",
	site.LimitLayers:       "layers",
	site.LimitSpectrum:     "spectrum",
}
