package fieldlog

import "spectally/cmd/internal/render"

// compared is the row of a network beside the others.
func compared(n *NetworkReport) Compared {
	c := Compared{
		Network: n.Name, Carriers: len(n.Carriers),
		Downlink: n.Totals.Downlink, Uplink: n.Totals.Uplink, DownlinkEquivalent: n.Totals.Equivalent,
		Added: n.Latency.Added.Down, RoundTrips: n.Latency.RoundTrips.Down,
	}
	c.Max, c.Scheduled = n.Downlink.Max, n.Downlink.Scheduled
	if m := n.Measured.Down; m != nil {
		c.MedianDown, c.BestDown = &m.Median, &m.Max
		c.OfMax, c.OfScheduled = m.AtMedian.OfMax, m.AtMedian.OfScheduled
		c.Efficiency, c.ActiveEfficiency = m.AtMedian.Efficiency, m.AtMedian.ActiveEfficiency
	}
	if m := n.Measured.Up; m != nil {
		c.MedianUp = &m.Median
	}
	if s := n.Latency.Idle; s != nil {
		c.Idle = &s.Median
	}
	if s := n.Latency.LoadedDown; s != nil {
		c.Loaded = &s.Median
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
			l.add(m.AtMedian.Implied.Source)
		}
	}
}

func (l *sourceList) working(steps []render.Step) {
	for i := range steps {
		l.add(steps[i].Source)
	}
}
