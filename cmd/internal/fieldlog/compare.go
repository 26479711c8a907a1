package fieldlog

import (
	"slices"

	"spectally/cmd/internal/render"
)

// compared is the row of a network beside the others.
func compared(n *NetworkReport) Compared {
	c := Compared{
		Network: n.Name, Carriers: len(n.Carriers),
		Downlink: n.Totals.Downlink, Uplink: n.Totals.Uplink, DownlinkEquivalent: n.Totals.Equivalent,
	}
	c.Max, c.Schedulable, c.Scheduled = n.Downlink.Max, n.Downlink.Schedulable, n.Downlink.Scheduled
	if m := n.Measured.Down; m != nil {
		c.BestDown = &m.Max
	}
	if p := headline(n.Places); p != nil {
		c.Place = p.Where
		if r := p.Down; r != nil {
			c.MedianDown, c.OfMax, c.OfScheduled = &r.Rate, r.OfMax, r.OfScheduled
			c.Efficiency, c.ActiveEfficiency = r.Efficiency, r.ActiveEfficiency
		}
		if p.Up != nil {
			c.MedianUp = &p.Up.Rate
		}
		c.Idle, c.Loaded, c.Added = p.Idle, p.LoadedDown, p.Added.Down
		if p.LoadedDown != nil && *p.LoadedDown > 0 {
			perMinute := 60_000 / *p.LoadedDown
			c.RoundTrips = &perMinute
		}
	}
	return c
}

// sourceList gathers the tables and clauses of a report in the order of their first
// mention.
type sourceList struct {
	list []render.Source
	seen map[render.Source]bool
}

func (l *sourceList) add(s render.Source) {
	if s == (render.Source{}) || l.seen[s] {
		return
	}
	if l.seen == nil {
		l.seen = make(map[render.Source]bool)
	}
	l.seen[s] = true
	l.list = append(l.list, s)
}

func (l *sourceList) network(of *network) {
	for _, s := range of.tables {
		l.add(s)
	}
	n := &of.report
	for i := range n.Findings {
		l.add(n.Findings[i].Source)
	}
	for i := range n.Assumptions {
		l.add(n.Assumptions[i].Source)
	}
	for i := range n.Cells.Clashes {
		l.add(n.Cells.Clashes[i].Source)
	}
	for _, m := range [...]*MeasuredRate{n.Measured.Down, n.Measured.Up} {
		if m != nil && m.AtMedian.Implied != nil {
			i := m.AtMedian.Implied
			for _, s := range slices.Concat(i.Options, i.Leanest) {
				l.add(render.Source{Spec: i.Source.Spec, Version: i.Source.Version, Table: s.Table})
			}
		}
	}
}

func (l *sourceList) working(steps []render.Step) {
	for i := range steps {
		l.add(steps[i].Source)
	}
}
