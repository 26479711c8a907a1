package sitereport

import (
	"spectally/bands"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/siteplan"
	"spectally/throughput/exact"
	"spectally/throughput/site"
)

// Variant is a plan among several that are compared.
type Variant struct {
	Name     string
	Settings []string // that make it of the first; none for a plan of its own
	Plan     *siteplan.Plan
}

// compared is a variant with what it can carry.
type compared struct {
	Variant
	capacity *site.SiteCapacity
}

func compare(list []Variant) ([]compared, error) {
	var out []compared
	for _, v := range list {
		c, err := site.Plan(&v.Plan.Site)
		if err != nil {
			return nil, err
		}
		out = append(out, compared{v, c})
	}
	return out, nil
}

// Compare sets plans side by side: what each can carry, and what it has more than the
// first.
func Compare(list []Variant) (*render.Answer, error) {
	all, err := compare(list)
	if err != nil {
		return nil, err
	}
	table := comparison("Plans side by side", all, long)
	doc := []render.Block{render.Title{Text: list[0].Plan.Site.Name, Detail: itoa(len(list)) + " plans side by side"}}
	var names render.Facts
	var points render.Points
	for i := range all {
		names = append(names, render.Fact{Name: short(all, i), Value: all[i].Name})
		if limits := all[i].capacity.Limits(); len(limits) > 0 {
			points = append(points, short(all, i)+": "+limits[0].Text)
		}
	}
	doc = append(doc, names, comparison("Side by side", all, short), differences(all, short), comparisonBars(all))
	doc = append(doc, render.Section("What limits first"), points, render.List{Kind: render.Cautions, Items: site.Cautions()})
	return &render.Answer{Value: func() any { return plansValue{comparedValues(all)} }, Document: doc, Data: table}, nil
}

// long and short are what a plan is called in tables.
func long(all []compared, i int) string { return all[i].Name }
func short(_ []compared, i int) string  { return "plan " + itoa(i+1) }

func compareColumns() []render.Column {
	return []render.Column{
		{Key: "plan", Header: "plan", Typed: true},
		{Key: "dl_busy_hour_mbps", Header: "busy, down", Unit: "Mbit/s", Align: render.Number},
		{Key: "ul_busy_hour_mbps", Header: "up", Unit: "Mbit/s", Align: render.Number},
		{Key: "dl_scheduled_mbps", Header: "phone", Unit: "Mbit/s", Align: render.Number},
		{Key: "dl_edge_mbps", Header: "edge", Unit: "Mbit/s", Align: render.Number},
		{Key: "ul_edge_mbps", Header: "edge, up", Unit: "Mbit/s", Align: render.Number, Detail: true},
		{Key: "users_served", Header: "users", Align: render.Number},
		{Key: "dl_need_mbps", Header: "need", Unit: "Mbit/s", Align: render.Number},
		{Key: "link_enough", Header: "enough"},
	}
}

// comparison has a row for each plan.
func comparison(title string, all []compared, name func([]compared, int) string) *render.Table {
	t := &render.Table{Title: title, Columns: compareColumns()}
	for i := range all {
		c := all[i].capacity
		enough := ""
		if !c.Backhaul.Downlink.Link.IsZero() {
			enough = "no"
			if c.Backhaul.Downlink.Enough && c.Backhaul.Uplink.Enough {
				enough = "yes"
			}
		}
		users := ""
		if c.Users.Given {
			users = itoa(int(c.Users.Served))
		}
		t.Rows = append(t.Rows, []string{name(all, i), mbpsText(busy(c, bands.Downlink)), mbpsText(busy(c, bands.Uplink)), mbpsText(c.Downlink.User.Scheduled),
			mbpsText(c.Downlink.Edge), mbpsText(c.Uplink.Edge), users, mbpsText(c.Backhaul.Downlink.Need), enough})
	}
	t.DropEmpty()
	return t
}

// busy is what users get in the busy hour: no more than the link lets through.
func busy(c *site.SiteCapacity, d bands.Direction) exact.Ratio {
	if l := c.Backhaul.In(d); l.Delivered.Cmp(c.In(d).Mean) < 0 {
		return l.Delivered
	}
	return c.In(d).Mean
}

// differences has what each plan has more than the first.
func differences(all []compared, name func([]compared, int) string) *render.Table {
	t := &render.Table{Title: "More than " + name(all, 0), Columns: compareColumns()[:8]}
	first := all[0].capacity
	for i := 1; i < len(all); i++ {
		c := all[i].capacity
		users := ""
		if c.Users.Given && first.Users.Given {
			users = itoa(int(c.Users.Served) - int(first.Users.Served))
		}
		t.Rows = append(t.Rows, []string{name(all, i), more(busy(c, bands.Downlink), busy(first, bands.Downlink)), more(busy(c, bands.Uplink), busy(first, bands.Uplink)),
			more(c.Downlink.User.Scheduled, first.Downlink.User.Scheduled), more(c.Downlink.Edge, first.Downlink.Edge), more(c.Uplink.Edge, first.Uplink.Edge),
			users, more(c.Backhaul.Downlink.Need, first.Backhaul.Downlink.Need)})
	}
	t.DropEmpty()
	return t
}

// more writes a difference with its sign where it is negative.
func more(a, b exact.Ratio) string {
	minus := exact.Ratio{Num: -1, Den: 1}
	if a.Cmp(b) < 0 {
		return "-" + mbpsText(b.Add(a.Mul(minus)))
	}
	return mbpsText(a.Add(b.Mul(minus)))
}

func comparisonBars(all []compared) *render.Bars {
	b := &render.Bars{Title: "Busy hour", Unit: "Mbit/s", Of: "plan", Legend: "The mean of the busy hour, at most what the link carries, and the rate at the cell edge."}
	for i := range all {
		c := all[i].capacity
		b.Groups = append(b.Groups, render.BarGroup{Name: short(all, i), Bars: []render.Bar{
			{Name: "down", Value: mbpsText(busy(c, bands.Downlink)), Fill: render.Solid},
			{Name: "up", Value: mbpsText(busy(c, bands.Uplink)), Fill: render.Hatched},
			{Name: "edge, down", Value: mbpsText(c.Downlink.Edge), Fill: render.Hollow},
		}})
	}
	return b
}

type comparedValue struct {
	Name     string         `json:"name"`
	Settings []string       `json:"settings"`
	Downlink *capacityValue `json:"dl"`
	Uplink   *capacityValue `json:"ul"`
	Backhaul backhaulValue  `json:"backhaul"`
	Users    *usersValue    `json:"users"`
	Limits   []limitValue   `json:"limits"`
}

// plansValue is the answer about plans side by side.
type plansValue struct {
	Plans []comparedValue `json:"plans"`
}

func comparedValues(all []compared) []comparedValue {
	list := []comparedValue{}
	for i := range all {
		c := all[i].capacity
		v := comparedValue{Name: all[i].Name, Settings: present(all[i].Settings), Downlink: valueOfCapacity(&c.Downlink), Uplink: valueOfCapacity(&c.Uplink),
			Backhaul: valueOfBackhaul(&c.Backhaul), Users: valueOfUsers(&c.Users), Limits: []limitValue{}}
		for _, l := range c.Limits() {
			v.Limits = append(v.Limits, limitValue{shortNames[l.Direction], string(l.Kind), l.Text})
		}
		list = append(list, v)
	}
	return list
}

// optionPart has the options of the plan beside it, and when its sectors are full.
func (s *study) optionPart() []render.Block {
	if len(s.options) < 2 && s.Growth == 0 {
		return nil
	}
	doc := []render.Block{render.Part{Text: "What the planner thinks of"}}
	if len(s.options) > 1 {
		doc = append(doc, comparison("Options", s.options, long), differences(s.options, long))
	}
	if s.Growth > 0 {
		doc = append(doc, s.growthTable())
	}
	return doc
}

// full tells in how many months a sector is full with a variant, and in which direction
// first; false if it never is.
func (s *study) full(sector int, c *site.SiteCapacity) (months int, d bands.Direction, ok bool) {
	name := s.capacity.Sectors[sector].Name
	for i := range c.Sectors {
		if c.Sectors[i].Name != name || name == "" && i != sector {
			continue
		}
		for _, way := range directions {
			now, then := s.capacity.Sectors[sector].In(way).Full, c.Sectors[i].In(way).Full
			if now.IsZero() || then.IsZero() {
				continue
			}
			load := s.loadOf(sector, way).Float() * now.Float() / then.Float()
			if n, fills := siteplan.Months(load, s.Growth); fills && (!ok || n < months) {
				months, d, ok = n, way, true
			}
		}
		return months, d, ok
	}
	return 0, 0, false
}

// filling is when a sector is full.
type filling struct {
	Sector string `json:"sector"`
	First  string `json:"first"` // the direction that is full first; empty for never
	Months *int   `json:"months"`
	Month  string `json:"month"`
	Option string `json:"option"` // that buys most time
	More   *int   `json:"months_more"`
}

// growth is the whole of it for JSON.
type growth struct {
	Percent figures.Figure `json:"percent_a_year"`
	Sectors []filling      `json:"sectors"`
}

func (s *study) growthValue() *growth {
	if s.Growth == 0 {
		return nil
	}
	return &growth{trimmed(s.Growth, 4), s.fillings()}
}

func (s *study) fillings() []filling {
	var list []filling
	for i := range s.capacity.Sectors {
		months, d, ok := s.full(i, s.capacity)
		f := filling{Sector: s.SectorName(i)}
		if ok {
			f.First, f.Months, f.Month = shortNames[d], &months, s.Month(months)
			best := 0
			for k := 1; k < len(s.options); k++ {
				later, _, fills := s.full(i, s.options[k].capacity)
				if !fills {
					later = siteplan.Century
				}
				if later-months > best {
					best = later - months
					f.Option, f.More = s.options[k].Name, new(best)
				}
			}
		}
		list = append(list, f)
	}
	return list
}

// growthTable says when each sector is full, and which option buys most time.
func (s *study) growthTable() *render.Table {
	t := &render.Table{Title: "When the sectors are full, at " + string(trimmed(s.Growth, 4)) + " % more traffic a year", Columns: []render.Column{
		{Header: "sector", Typed: true}, {Header: "full first"}, {Header: "in months", Align: render.Number}, {Header: "month"},
		{Header: "most time with", Typed: true}, {Header: "months more", Align: render.Number},
	}}
	for _, f := range s.fillings() {
		row := []string{f.Sector, "never", "", f.Month, f.Option, ""}
		if f.Months != nil {
			row[1], row[2] = map[string]string{"dl": "downlink", "ul": "uplink"}[f.First], itoa(*f.Months)
		}
		if f.More != nil {
			row[5] = itoa(*f.More)
		}
		t.Rows = append(t.Rows, row)
	}
	t.DropEmpty()
	return t
}
