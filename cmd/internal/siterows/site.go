package siterows

import (
	"cmp"
	"errors"
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/throughput/site"
)

// planner works out groups. It is for one goroutine at a time.
type planner struct {
	layout   *layout
	planner  *site.Planner
	values   []map[string]value // of each column, by text
	carriers carriers
	// What the rows at hand have told of their site.
	told    []told
	sectors []sector
	last    string // the sector of the row before
}

// told is what a column says of a site or sector, and the line that says so.
type told struct {
	value value
	text  string
	line  int64 // 0 if nothing is told
}

// sector is what is known of a sector.
type sector struct {
	name   string
	told   []told
	radios []site.Radio
	lines  []int64 // of the rows that the radios are from
}

// keptValues is how many values of a column a planner remembers, keptCarriers how many
// carriers.
const (
	keptValues   = 512
	keptCarriers = 4096
)

func newPlanner(l *layout) *planner {
	p := &planner{layout: l, planner: site.NewPlanner(keptCarriers), values: make([]map[string]value, len(l.columns)), carriers: newCarriers()}
	for i := range p.values {
		p.values[i] = make(map[string]value)
	}
	return p
}

// outcome is what became of a group.
type outcome struct {
	site   *Site // nil if there is none
	faults []Fault
	counts Counts
}

func (o *outcome) fault(line int64, err error) {
	o.faults = append(o.faults, Fault{line, err})
	o.counts.Refused++
}

// plan works out a group.
func (p *planner) plan(g *group) outcome {
	out := outcome{counts: Counts{Rows: int64(len(g.rows)) + g.more}}
	p.told, p.sectors, p.last = make([]told, len(p.layout.columns)), p.sectors[:0], ""
	own, good := 0, 0
	for i := range g.rows {
		r := &g.rows[i]
		if r.site == g.name && g.name != "" {
			own++
		}
		if err := p.row(r, g.before > 0); err != nil {
			out.fault(r.line, err)
		} else {
			good++
		}
	}
	switch all := int64(own) + g.more; {
	case g.name == "":
		return out
	case g.before > 0:
		out.fault(g.begin, &bands.ValueError{Param: "site", Got: short(g.name), Allowed: "a site whose rows stand together: this one's begin on line " + strconv.FormatInt(g.before, 10) + ", and it is worked out without the " + rowCount(all) + " from here on"})
		out.counts.Refused = out.counts.Rows
		return out
	case g.more > 0:
		out.fault(g.moreAt, &bands.ValueError{Param: "site", Got: short(g.name), Allowed: "a site of at most " + strconv.Itoa(maxRows) + " rows: this one has " + strconv.FormatInt(all, 10)})
	case good == own:
		site, line, err := p.finish(g)
		if err == nil {
			out.site, out.counts.Sites = site, 1
			return out
		}
		out.fault(line, err)
		slices.SortStableFunc(out.faults, func(a, b Fault) int { return cmp.Compare(a.Line, b.Line) })
	}
	out.counts.Without = 1
	out.counts.Left = out.counts.Rows - out.counts.Refused
	return out
}

func rowCount(n int64) string {
	if n == 1 {
		return "1 row"
	}
	return strconv.FormatInt(n, 10) + " rows"
}

// row reads a row. Of a site whose rows do not stand together nothing is read.
func (p *planner) row(r *row, apart bool) error {
	switch {
	case r.fault != "":
		return errors.New(r.fault)
	case r.site == "":
		return p.layout.columns[columnSite].fault("")
	case apart:
		return nil
	}
	var faults []string
	refuse := func(err error) { faults = append(faults, err.Error()) }
	name := p.layout.field(columnSector, r.fields)
	if name == "" {
		name = p.last // an empty field repeats the row before
	}
	p.last = name
	s, err := p.sector(name)
	if err != nil {
		return err
	}
	var radio site.Radio
	for i := range p.layout.columns {
		c := &p.layout.columns[i]
		text := p.layout.field(i, r.fields)
		if text == "" {
			if c.each && i != columnSite && (i != columnSector || name == "") { // the row before has those
				refuse(c.fault(""))
			}
			continue
		}
		v, err := p.value(i, text)
		if err != nil {
			refuse(err)
			continue
		}
		if c.of == ofRow {
			c.set(parts{radio: &radio}, v)
			continue
		}
		list, whose := p.told, "site"
		if c.of == ofSector {
			list, whose = s.told, "sector"
		}
		if t := &list[i]; t.line == 0 {
			*t = told{v, text, r.line}
		} else if t.value != v {
			refuse(&bands.ValueError{Param: c.name, Got: short(text), Allowed: short(t.text) + ", which " + lineOf(t.line) + " says of the " + whose + ", or nothing"})
		}
	}
	if text := p.layout.field(columnCarrier, r.fields); text != "" {
		carrier, err := p.carriers.read(text)
		if err != nil {
			refuse(err)
		}
		radio.Carriers = append(radio.Carriers, carrier)
	}
	if err := p.checkMeasured(&radio.Measured); err != nil {
		refuse(err)
	}
	if faults != nil {
		return errors.New(strings.Join(faults, "; "))
	}
	s.radios, s.lines = append(s.radios, radio), append(s.lines, r.line)
	return nil
}

// value reads a field.
func (p *planner) value(column int, text string) (value, error) {
	kept := p.values[column]
	if v, ok := kept[text]; ok {
		return v, nil
	}
	c := &p.layout.columns[column]
	v, err := c.read(c, text)
	if err != nil {
		return v, err
	}
	text = strings.Clone(text) // which is part of a row
	if v.text != "" {
		v.text = text
	}
	if len(kept) == keptValues {
		clear(kept)
	}
	kept[text] = v
	return v, nil
}

// checkMeasured wants to know where efficiencies are from. What belongs to them and
// stands alone is dropped.
func (p *planner) checkMeasured(m *site.Measured) error {
	if m.Downlink.IsZero() && m.Uplink.IsZero() && m.DownlinkEdge.IsZero() && m.UplinkEdge.IsZero() {
		*m = site.Measured{}
		return nil
	}
	if m.Origin == "" {
		return &bands.ValueError{Param: "origin", Got: "", Allowed: "where the efficiencies of the row are from"}
	}
	return nil
}

// sector finds the sector of a name, or begins it.
func (p *planner) sector(name string) (*sector, error) {
	i := slices.IndexFunc(p.sectors, func(s sector) bool { return s.name == name })
	if i < 0 {
		i = len(p.sectors)
		if i == maxSectors {
			return nil, &bands.ValueError{Param: "sector", Got: short(name), Allowed: "at most " + strconv.Itoa(maxSectors) + " sectors of a site"}
		}
		p.sectors = append(p.sectors, sector{name: name, told: make([]told, len(p.layout.columns))})
	}
	s := &p.sectors[i]
	if len(s.radios) == maxCarriers {
		return nil, &bands.ValueError{Param: "sector", Got: short(name), Allowed: "at most " + strconv.Itoa(maxCarriers) + " carriers of a sector"}
	}
	return s, nil
}

// finish puts the site together and plans it. With an error comes the line that it is
// about.
func (p *planner) finish(g *group) (*Site, int64, error) {
	plan := &site.Site{Name: strings.Clone(g.name), Sectors: make([]site.Sector, len(p.sectors))}
	fill := func(list []told, to parts) {
		for i := range list {
			if list[i].line != 0 {
				p.layout.columns[i].set(to, list[i].value)
			}
		}
	}
	fill(p.told, parts{site: plan})
	if plan.Backhaul.Uplink.IsZero() {
		plan.Backhaul.Uplink = plan.Backhaul.Downlink
	}
	for i := range p.sectors {
		s, to := &p.sectors[i], &plan.Sectors[i]
		to.Name, to.Radios = strings.Clone(s.name), s.radios
		fill(s.told, parts{sector: to})
		if s.told[columnEnvironment].line == 0 {
			return nil, s.lines[0], p.layout.columns[columnEnvironment].fault("")
		}
	}
	capacity, err := p.planner.Plan(plan)
	if err != nil {
		line, err := p.blame(g, err)
		return nil, line, err
	}
	return &Site{Line: g.begin, Rows: len(g.rows), Plan: plan, Capacity: capacity}, 0, nil
}

// columnsOf are the columns that hold what package throughput names so.
var columnsOf = map[string]string{
	"transmit ports": "ports", "receive ports": "ports", "ports of the measured efficiency": "measured_ports",
	"downlink layers over all users": "cell_layers", "uplink layers over all users": "ul_cell_layers",
	"busy-hour share": "busy_hour_percent",
}

// blame finds the row that an error of package throughput is about, and words it by its
// column.
func (p *planner) blame(g *group, err error) (int64, error) {
	of, ok := errors.AsType[*site.Error](err)
	if !ok {
		return g.begin, err
	}
	line, err := g.begin, of.Err
	if of.Sector > 0 {
		line = p.sectors[of.Sector-1].lines[max(0, of.Radio-1)]
	}
	v, isValue := errors.AsType[*bands.ValueError](err)
	switch {
	case of.Carrier > 0:
		err = carrierFault(of.Text, err)
	case isValue && columnsOf[v.Param] != "":
		named := *v
		named.Param = columnsOf[v.Param]
		named.Allowed = strings.TrimPrefix(v.Allowed, "0 (assumed) or ") // here nothing stands for it
		err = &named
	}
	return line, err
}
