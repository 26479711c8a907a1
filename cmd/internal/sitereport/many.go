package sitereport

import (
	"math/big"

	"spectally/bands"
	"spectally/cmd/internal/render"
	"spectally/throughput/exact"
	"spectally/throughput/site"
)

// rowValue is a site among many as JSON shows it, with the names that one site has.
type rowValue struct {
	Name     string     `json:"name"`
	Line     int64      `json:"line"` // on which its rows begin
	Carriers int        `json:"carriers"`
	Total    totalValue `json:"site"`
	Limits   []rowLimit `json:"limits"`
}

type rowLimit struct {
	Direction string `json:"direction"`
	Kind      string `json:"kind"`
}

// SiteValue is a site among many for JSON: its totals, and what limits it. The line is
// where it stands in the input.
func SiteValue(line int64, c *site.SiteCapacity) any {
	v := &rowValue{Name: c.Name, Line: line, Carriers: carrierCount(c), Total: valueOfTotal(c), Limits: []rowLimit{}}
	for _, l := range c.Limits() {
		v.Limits = append(v.Limits, rowLimit{shortNames[l.Direction], string(l.Kind)})
	}
	return v
}

func valueOfTotal(c *site.SiteCapacity) totalValue {
	return totalValue{
		Sectors: c.SectorCount(), Downlink: valueOfCapacity(&c.Downlink), Uplink: valueOfCapacity(&c.Uplink),
		Backhaul: valueOfBackhaul(&c.Backhaul), Users: valueOfUsers(&c.Users), Volume: valueOfVolume(&c.Volume),
	}
}

// carrierCount is the number of carriers over all sectors, those of equal sectors
// counted one by one.
func carrierCount(c *site.SiteCapacity) int {
	n := 0
	for i := range c.Sectors {
		n += c.Sectors[i].Count * len(c.Sectors[i].Carriers)
	}
	return n
}

// SiteColumns are the columns of a site among many for CSV, SiteCells its cells.
func SiteColumns() []render.Column {
	list := []render.Column{{Key: "site", Typed: true}, {Key: "line"}, {Key: "sectors"}, {Key: "carriers"}}
	for _, d := range directions {
		for _, key := range [...]string{"width_mhz", "effective_mhz", "max_rate_mbps", "schedulable_mbps", "scheduled_mbps", "cell_max_rate_mbps", "cell_schedulable_mbps", "cell_scheduled_mbps", "full_load_mbps", "busy_hour_mbps", "edge_mbps",
			"backhaul_need_mbps", "link_mbps", "delivered_mbps", "day_gb", "month_gb", "limited_by"} {
			list = append(list, render.Column{Key: shortNames[d] + "_" + key})
		}
	}
	return append(list, render.Column{Key: "users_active"}, render.Column{Key: "users_served"})
}

// SiteCells are the cells of a site under SiteColumns.
func SiteCells(line int64, c *site.SiteCapacity) []string {
	row := append(make([]string, 0, 40), c.Name, string(decimals(exact.Whole(line), 1, 0)), itoa(c.SectorCount()), itoa(carrierCount(c)))
	for _, d := range directions {
		row = append(row, capacityCells(c.In(d))...)
		l, link := c.Backhaul.In(d), ""
		if !l.Link.IsZero() {
			link = string(mbps(l.Link))
		}
		row = append(row, string(mbps(l.Need)), link, string(mbps(l.Delivered)), string(gigabytes(*c.Volume.Day.In(d))), string(gigabytes(*c.Volume.Month.In(d))), limitOf(c, d))
	}
	return append(row, userCells(&c.Users)...)
}

// limitOf is the sort of limit that decides in a direction; empty if the site has no
// such direction.
func limitOf(c *site.SiteCapacity, d bands.Direction) string {
	for _, l := range c.Limits() {
		if l.Direction == d {
			return string(l.Kind)
		}
	}
	return ""
}

// Many gathers sites for people: the first of them as rows, and the sums over all.
type Many struct {
	most  int
	table render.Table
	sites int64
	short int64 // whose link carries less than they need
	sums  struct {
		sectors, carriers int64
		width             [2]bands.Frequency // by place in directions
		mean, need, day   [2]big.Int
		served            big.Int
		users             bool
		peak, edge        exact.Ratio
	}
}

// NewMany gathers sites, of which at most a number become rows.
func NewMany(rows int) *Many {
	return &Many{most: rows, table: render.Table{Title: "Each site in the busy hour, rates in Mbit/s", Columns: []render.Column{
		{Header: "site", Typed: true},
		{Header: "sectors", Align: render.Number},
		{Header: "MHz", Align: render.Number},
		{Header: "up", Align: render.Number},
		{Header: "peak", Align: render.Number},
		{Header: "mean", Align: render.Number},
		{Header: "up", Align: render.Number},
		{Header: "edge", Align: render.Number},
		{Header: "users", Align: render.Number},
		{Header: "GB/day", Align: render.Number},
		{Header: "need", Align: render.Number},
		{Header: "limit"},
	}}}
}

// Add takes a site.
func (m *Many) Add(c *site.SiteCapacity) {
	m.sites++
	if !Carried(c) {
		m.short++
	}
	s := &m.sums
	s.sectors += int64(c.SectorCount())
	s.carriers += int64(carrierCount(c))
	for i, d := range directions {
		s.width[i] += c.In(d).Width
		add(&s.mean[i], c.Backhaul.In(d).Means)
		add(&s.need[i], c.Backhaul.In(d).Need)
		s.day[i].Add(&s.day[i], big.NewInt(*c.Volume.Day.In(d)))
	}
	if c.Users.Given {
		s.users = true
		s.served.Add(&s.served, big.NewInt(c.Users.Served))
	}
	if d := &c.Downlink; d.Width > 0 {
		if d.User.Scheduled.Cmp(s.peak) > 0 {
			s.peak = d.User.Scheduled
		}
		if s.edge.IsZero() || d.Edge.Cmp(s.edge) < 0 {
			s.edge = d.Edge
		}
	}
	if len(m.table.Rows) < m.most {
		m.table.Rows = append(m.table.Rows, peopleCells(c))
	}
}

// add adds a rate in whole bit/s.
func add(sum *big.Int, r exact.Ratio) {
	if !r.IsZero() {
		sum.Add(sum, big.NewInt(r.Round()))
	}
}

// Carried tells whether the links of a site that are known carry what it needs.
func Carried(c *site.SiteCapacity) bool {
	return c.Backhaul.Downlink.Enough && c.Backhaul.Uplink.Enough
}

func peopleCells(c *site.SiteCapacity) []string {
	users, limit := "", limitOf(c, bands.Downlink)
	if c.Users.Given {
		users = thousands(c.Users.Served)
	}
	if limit == "" {
		limit = limitOf(c, bands.Uplink)
	}
	down, up := &c.Downlink, &c.Uplink
	rate := func(of *site.Capacity, r exact.Ratio, places int) string {
		if of.Width == 0 {
			return ""
		}
		return fixed(r, 1_000_000, places)
	}
	return []string{
		c.Name, itoa(c.SectorCount()), widthText(down.Width), widthText(up.Width), rate(down, down.User.Scheduled, 0), rate(down, down.Mean, 0), rate(up, up.Mean, 0), rate(down, down.Edge, mbpsPlaces),
		users, fixed(exact.Whole(c.Volume.Day.Downlink+c.Volume.Day.Uplink), 1_000_000_000, 0), rate(down, c.Backhaul.Downlink.Need, 0), shortLimits[site.LimitKind(limit)],
	}
}

// shortLimits are the limits in a word or two.
var shortLimits = map[site.LimitKind]string{
	site.LimitBackhaul: "link", site.LimitBackhaulPeak: "link peak", site.LimitLayers: "layers", site.LimitSpectrum: "spectrum",
}

func widthText(f bands.Frequency) string {
	if f == 0 {
		return ""
	}
	return f.MHz()
}

// What the columns mean, for people.
const manyLegend = "MHz and mean are those of the site in the downlink, with the uplink beside them; peak is the scheduled peak of one phone in the best sector, edge the rate at the cell edge of the worst; GB/day is both directions, need what the backhaul must carry towards the site. Limit: link carries less than the mean, link peak the mean but not one peak."

// Document shows the sites and their sums, with facts about the input behind them.
func (m *Many) Document(input render.Facts) []render.Block {
	doc := []render.Block{render.Title{Text: "Sites", Detail: "a planning estimate of each"}}
	if m.sites > 0 {
		t := m.table
		doc = append(doc, &t, render.Paragraph(manyLegend))
		if more := m.sites - int64(len(t.Rows)); more > 0 {
			doc = append(doc, render.Paragraph("Shown are the first "+thousands(int64(len(t.Rows)))+" sites; the sums hold all. CSV and JSON list the "+thousands(more)+" others too."))
		}
		doc = append(doc, render.Section("All sites"), m.facts())
	}
	doc = append(doc, render.Section("The input"), input)
	if m.sites > 0 {
		doc = append(doc, render.List{Kind: render.Cautions, Items: site.Cautions()})
	}
	return doc
}

func (m *Many) facts() render.Facts {
	s := &m.sums
	facts := render.Facts{
		{Name: "sites", Value: thousands(m.sites) + " with " + thousands(s.sectors) + " sectors and " + thousands(s.carriers) + " carriers of sectors"},
		{Name: "bandwidth", Value: s.width[0].MHz() + " MHz down, " + s.width[1].MHz() + " MHz up", Remark: "summed over sectors"},
		{Name: "busy hour", Value: scaled(&s.mean[0], 6) + " Mbit/s down, " + scaled(&s.mean[1], 6) + " Mbit/s up"},
	}
	if !s.peak.IsZero() {
		facts = append(facts,
			render.Fact{Name: "one phone", Value: rateText(s.peak) + " down", Remark: "at the best site"},
			render.Fact{Name: "cell edge", Value: rateText(s.edge) + " down", Remark: "at the worst site"})
	}
	if s.users {
		facts = append(facts, render.Fact{Name: "users", Value: thousandsOf(s.served.String()) + " served"})
	}
	facts = append(facts,
		render.Fact{Name: "data", Value: scaled(&s.day[0], 9) + " GB a day down, " + scaled(&s.day[1], 9) + " GB up"},
		render.Fact{Name: "backhaul", Value: scaled(&s.need[0], 6) + " Mbit/s down, " + scaled(&s.need[1], 6) + " Mbit/s up", Remark: "the needs of all sites, one by one"})
	if m.short > 0 {
		facts = append(facts, render.Fact{Name: "short links", Value: thousands(m.short), Remark: "sites whose link carries less than they need"})
	}
	return facts
}

// scaled writes n / 10^power with one decimal, halves up, and blanks between thousands.
func scaled(n *big.Int, power int64) string {
	unit := new(big.Int).Exp(big.NewInt(10), big.NewInt(power), nil)
	s := new(big.Rat).SetFrac(n, unit).FloatString(1)
	return thousandsOf(s[:len(s)-2]) + s[len(s)-2:]
}

func thousandsOf(s string) string {
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + " " + s[i:]
	}
	return s
}
