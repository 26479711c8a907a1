package walk

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"strings"
	"time"

	"spectally/bands"
	"spectally/cmd/internal/cells"
	"spectally/cmd/internal/samples"
	"spectally/cmd/internal/stats"
)

// Report works out what the samples tell.
func (c *Collector) Report() *Report {
	r := &Report{Files: []string{}, Networks: []Network{}, Samples: c.used, LeftOut: c.leftOut, LeftOutCount: c.left, Unjoined: c.unjoined}
	if r.LeftOut == nil {
		r.LeftOut = []LeftOut{}
	}
	switch site := c.set.Site; site.Kind {
	case samples.Geographic:
		r.Site = &Site{Lat: &site.A, Lon: &site.B}
	case samples.Planar:
		r.Site = &Site{X: &site.A, Y: &site.B}
	}
	for _, name := range slices.Sorted(maps.Keys(c.networks)) {
		if n := c.networks[name]; n.samples > 0 {
			r.Networks = append(r.Networks, c.network(n))
			c.grounds.expected = c.grounds.expected || r.Networks[len(r.Networks)-1].OfExpected != nil
		}
	}
	r.Notes, r.Assumptions, r.Cautions, r.Sources = c.notes(), c.assumptions(), c.cautions(), c.sources()
	return r
}

func (c *Collector) network(n *network) Network {
	w := &n.way
	n.settle()
	w.closeGap(&w.last)
	list := slices.SortedFunc(maps.Values(n.cells), compareCells)
	uses := make([]*use, 0, len(n.bands))
	out := Network{
		Name: n.name, Bands: []Band{}, Offsets: []Offset{}, Carriers: []CarrierUse{},
		Measured: measured(list), Changes: w.changes, ChangeCount: w.counts.changes, PingPongs: w.counts.pingPongs,
		Gaps: w.gaps, GapCount: w.counts.gaps, Backwards: w.counts.backwards,
		Strip: w.strip.finished(w), Points: w.points, Thinned: w.every,
	}
	out.Samples, out.Curve = n.samples, curve(list)
	if out.Changes == nil {
		out.Changes = []Change{}
	}
	if out.Gaps == nil {
		out.Gaps = []Gap{}
	}
	if w.placed {
		out.Way = pointer(rounded(w.last.way, 1))
	}
	if w.first.timed && w.last.timed {
		out.Seconds = pointer(rounded(float64(w.last.at-w.first.at)/float64(time.Second), 3))
	}
	var lines []bandLine
	for len(list) > 0 {
		b := list[0].band
		end := 1
		for end < len(list) && list[end].band == b {
			end++
		}
		band, line := c.band(b, list[:end])
		out.Bands = append(out.Bands, band)
		if line.fitted {
			lines = append(lines, line)
		}
		uses = append(uses, &b.use)
		list = list[end:]
	}
	out.OfScheduled, out.OfExpected, out.BySINR, out.ByRSRP = used(uses)
	out.Offsets = append(out.Offsets, offsets(lines)...)
	for _, u := range n.uses {
		u.Share = rounded(float64(u.Samples)/float64(n.samples), 4)
		out.Carriers = append(out.Carriers, *u)
	}
	slices.SortFunc(out.Carriers, func(a, b CarrierUse) int {
		return cmp.Or(cmp.Compare(b.Samples, a.Samples), strings.Compare(a.Carrier, b.Carrier))
	})
	return out
}

// compareCells orders cells by band, channel and identity.
func compareCells(a, b *cell) int {
	return cmp.Or(cmp.Compare(a.cellKey.band.RAT, b.cellKey.band.RAT), cmp.Compare(a.cellKey.band.Number, b.cellKey.band.Number),
		cmp.Compare(a.channel, b.channel), cmp.Compare(a.pci, b.pci))
}

// bandLine is the line fitted to a band.
type bandLine struct {
	name   string
	line   stats.Line
	fitted bool
	centre float64 // hertz
}

func (c *Collector) band(b *band, list []*cell) (Band, bandLine) {
	out := Band{Measured: measured(list), Reach: []Reach{}, Cells: []Cell{}, Scatter: b.dots()}
	if b.id != (bands.ID{}) {
		out.Band = b.id.String()
	}
	out.OfScheduled, out.OfExpected, out.BySINR, out.ByRSRP = used([]*use{&b.use})
	sums := stats.Sums{}
	for _, l := range list {
		sums.Merge(&l.fit)
		one := Cell{Name: l.name, Measured: measured([]*cell{l})}
		if l.channel != samples.Missing {
			one.Channel = &l.channel
		}
		if l.pci != samples.Missing {
			one.PCI = &l.pci
		}
		if line, ok := l.fit.Line(decade, hundredth); ok {
			one.Fit = fitOf(&line)
		}
		out.Cells = append(out.Cells, one)
	}
	line := bandLine{name: out.Band}
	if b.heard > 0 {
		line.centre = float64(b.centres) / float64(b.heard)
	}
	if line.line, line.fitted = sums.Line(decade, hundredth); line.fitted {
		out.Fit = fitOf(&line.line)
		out.Reach = c.reach(&line.line)
	}
	return out, line
}

// measured takes the distributions of cells together.
func measured(list []*cell) Measured {
	var m Measured
	levels := func(of func(*cell) *stats.Levels) *Percentiles {
		parts := make([]*stats.Levels, len(list))
		for i, c := range list {
			parts[i] = of(c)
		}
		n, q := stats.LevelQuantiles(parts, summary...)
		return percentiles(n, q, hundredth, true)
	}
	rates := func(of func(*cell) *stats.Rates) *Percentiles {
		parts := make([]*stats.Rates, len(list))
		for i, c := range list {
			parts[i] = of(c)
		}
		n, q, exact := stats.RateQuantiles(parts, summary...)
		return percentiles(n, q, 1000, exact)
	}
	for _, c := range list {
		m.Samples += c.samples
	}
	m.RSRP = levels(func(c *cell) *stats.Levels { return &c.rsrp })
	m.RSRQ = levels(func(c *cell) *stats.Levels { return &c.rsrq })
	m.SINR = levels(func(c *cell) *stats.Levels { return &c.sinr })
	m.Down = rates(func(c *cell) *stats.Rates { return &c.down })
	m.Up = rates(func(c *cell) *stats.Rates { return &c.up })
	m.Latency = rates(func(c *cell) *stats.Rates { return &c.latency })
	return m
}

// summary are the shares of Percentiles.
var summary = []float64{0.05, 0.25, 0.5, 0.75, 0.95}

// curve are 0, 1, 2 … 100 per cent of the levels of cells.
func curve(list []*cell) []float64 {
	parts, shares := make([]*stats.Levels, len(list)), make([]float64, 101)
	for i, c := range list {
		parts[i] = &c.rsrp
	}
	for i := range shares {
		shares[i] = float64(i) / 100
	}
	_, q := stats.LevelQuantiles(parts, shares...)
	levels := make([]float64, len(q))
	for i, v := range q {
		levels[i] = float64(v) / hundredth
	}
	return levels
}

// percentiles are the quantiles of the summary.
func percentiles(n int64, q []int32, unit float64, exact bool) *Percentiles {
	if n == 0 {
		return nil
	}
	p := &Percentiles{N: n, Exact: exact}
	for i, to := range [...]*float64{&p.P5, &p.P25, &p.P50, &p.P75, &p.P95} {
		*to = float64(q[i]) / unit
	}
	return p
}

// used takes together what bands were used for.
func used(list []*use) (ofScheduled, ofExpected *Percentiles, bySINR, byRSRP []Bin) {
	scheduled, expected := make([]*stats.Levels, len(list)), make([]*stats.Levels, len(list))
	sinr, rsrp := make([]*bins, len(list)), make([]*bins, len(list))
	for i, u := range list {
		scheduled[i], expected[i], sinr[i], rsrp[i] = &u.ofScheduled, &u.ofExpected, &u.bySINR, &u.byRSRP
	}
	return shares(scheduled), shares(expected), binsOf(sinr), binsOf(rsrp)
}

func shares(parts []*stats.Levels) *Percentiles {
	n, q := stats.LevelQuantiles(parts, summary...)
	return percentiles(n, q, wholeShare, true)
}

// binsOf takes bins of the same widths together; those that are empty are left out.
func binsOf(list []*bins) []Bin {
	out := []Bin{}
	for i := range list[0].list {
		var parts []*stats.Coarse
		sum, known := int64(0), int64(0)
		for _, b := range list {
			if one := b.list[i]; one != nil {
				parts = append(parts, &one.down)
				sum += one.expected
				known += one.known
			}
		}
		n, q := stats.CoarseQuantiles(parts, 0.25, 0.5, 0.75)
		if n == 0 {
			continue
		}
		low, step := float64(list[0].low)/hundredth, float64(list[0].step)/hundredth
		bin := Bin{Low: low + float64(i)*step, High: low + float64(i+1)*step, N: n, P25: float64(q[0]) / 1000, P50: float64(q[1]) / 1000, P75: float64(q[2]) / 1000}
		if known > 0 {
			bin.Expected = pointer(rounded(float64(sum)/float64(known)/1000, 3))
		}
		out = append(out, bin)
	}
	return out
}

// reference is the distance in metres at which the intercept of a fit is given.
func reference(l *stats.Line) float64 {
	if l.Most < 3 { // 1 km
		return 100
	}
	return 1000
}

const fitDigits = 4

func fitOf(l *stats.Line) *Fit {
	at := math.Log10(reference(l))
	slope, intercept, sigma := l.SlopeInterval(), l.IntervalAt(at), l.SigmaInterval()
	r := func(x float64) float64 { return rounded(x, fitDigits) }
	return &Fit{
		N: l.N, Slope: r(l.Slope), SlopeLow: r(slope.Low), SlopeHigh: r(slope.High),
		Intercept: r(l.At(at)), InterceptLow: r(intercept.Low), InterceptHigh: r(intercept.High), Reference: reference(l),
		Sigma: r(l.Sigma), SigmaLow: r(sigma.Low), SigmaHigh: r(sigma.High),
		Least: rounded(math.Pow(10, l.Least), 1), Most: rounded(math.Pow(10, l.Most), 1),
	}
}

// deviations90 is how many standard deviations below the median a level is that 90 % of
// places keep, if levels are normally distributed about it.
const deviations90 = 1.2815515655446004

// mostReach is the distance in metres beyond which a reach says nothing: far over any
// horizon.
const mostReach = 1e6

// reach is how far the levels asked for are kept; empty if the level does not fall with
// distance.
func (c *Collector) reach(l *stats.Line) []Reach {
	list := []Reach{}
	if l.Slope >= 0 {
		return list
	}
	for _, level := range c.set.Levels {
		y := float64(level) / hundredth
		at := func(y float64) float64 { return min(math.Pow(10, (y-l.At(0))/l.Slope), mostReach) }
		median, p90 := at(y), at(y+deviations90*l.Sigma)
		least, most := math.Pow(10, l.Least), math.Pow(10, l.Most)
		list = append(list, Reach{y, rounded(median, 1), rounded(p90, 1), median > most || p90 > most || median < least || p90 < least})
	}
	return list
}

// offsets compare the bands with that of the lowest frequency, in the middle of the
// distances that both have.
func offsets(list []bandLine) []Offset {
	list = slices.DeleteFunc(list, func(b bandLine) bool { return b.centre == 0 })
	if len(list) < 2 {
		return nil
	}
	low := slices.MinFunc(list, func(a, b bandLine) int { return cmp.Compare(a.centre, b.centre) })
	var out []Offset
	for _, b := range list {
		least, most := max(low.line.Least, b.line.Least), min(low.line.Most, b.line.Most)
		if b.name == low.name || least > most {
			continue
		}
		x := (least + most) / 2
		d, interval := low.line.Difference(&b.line, x)
		expected := -20 * math.Log10(b.centre/low.centre)
		out = append(out, Offset{
			Band: b.name, Reference: low.name, At: rounded(math.Pow(10, x), 1),
			Offset: rounded(d, fitDigits), Low: rounded(interval.Low, fitDigits), High: rounded(interval.High, fitDigits),
			Expected: rounded(expected, fitDigits), Within: math.Abs(d-expected) <= cells.LevelMargin,
		})
	}
	return out
}

func pointer[T any](x T) *T { return &x }

func decibels(level int16) *float64 {
	if level == samples.None {
		return nil
	}
	return pointer(float64(level) / hundredth)
}

func rounded(x float64, places int) float64 {
	unit := math.Pow(10, float64(places))
	return math.Round(x*unit) / unit
}
