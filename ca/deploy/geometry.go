package deploy

import (
	"slices"
	"sync"

	"spectally/bands"
	"spectally/ca"
)

// geometry is what the layouts of a band need to know of it, worked out once.
type geometry struct {
	band   *bands.Band
	lead   bands.Direction // the one in which carriers are laid out
	paired bool
	// widths are those of the lead direction, those that fill most first.
	widths []width
	// nominal holds the spacing of contiguous carriers by the indexes of two widths,
	// reach how far an aggregated channel goes beyond the centres at its ends.
	nominal [][]bands.Frequency
	reach   [][]ends
	// tolerance is how far from nominal contiguous carriers may be, overlap the most
	// that two of them save against their widths.
	tolerance, overlap bands.Frequency
	run                int                            // the most carriers of a bandwidth class
	parts              [bands.Uplink + 1][]bands.Span // all that may be used, if limited
	syncs              []sync0
}

type ends struct{ below, above bands.Frequency }

// width is a channel bandwidth with what goes with it.
type width struct {
	bands.ChannelWidth
	fill       bands.Frequency // the spectrum of its resource blocks
	ulFill     bands.Frequency // and that of the most that its uplink can have
	raster, ul raster
	both       bool              // the uplink may have it too
	uplinks    []bands.Frequency // other widths of the uplink, the widest first
}

// sync0 is an entry of the synchronisation raster.
type sync0 struct {
	at, scs bands.Frequency
	narrow  bool
	number  bands.GSCN
}

var geometries sync.Map // of bands.ID: *geometry

func geometryOf(b *bands.Band) *geometry {
	if g, ok := geometries.Load(b.ID); ok {
		return g.(*geometry)
	}
	g, _ := geometries.LoadOrStore(b.ID, newGeometry(b))
	return g.(*geometry)
}

func newGeometry(b *bands.Band) *geometry {
	g := &geometry{band: b, lead: bands.Downlink, paired: b.Duplex == bands.FDD}
	if !b.Has(bands.Downlink) {
		g.lead = bands.Uplink
	}
	for _, f := range b.WidthsIn(g.lead, 0) {
		w, ok := b.Width(b.DefaultSpacing(f), f)
		if !ok || !w.Allows(g.lead) || w.Marks&bands.SCellOnly != 0 {
			continue
		}
		g.widths = append(g.widths, g.newWidth(w))
	}
	slices.SortStableFunc(g.widths, func(x, y width) int {
		if x.fill != y.fill {
			return int(y.fill - x.fill)
		}
		return int(x.Width - y.Width)
	})
	g.space()
	for _, d := range [...]bands.Direction{bands.Downlink, bands.Uplink} {
		g.parts[d] = usableParts(b, d)
	}
	for _, c := range ca.ClassRows(b) {
		g.run = max(g.run, c.Carriers)
	}
	for _, r := range b.SyncRasters() {
		for _, n := range r.Entries() {
			if f, err := n.Frequency(); err == nil {
				g.syncs = append(g.syncs, sync0{f, r.SCS, r.Narrow, n})
			}
		}
	}
	slices.SortFunc(g.syncs, func(x, y sync0) int { return int(x.at - y.at) })
	return g
}

func (g *geometry) newWidth(w bands.ChannelWidth) width {
	x := width{
		ChannelWidth: w,
		fill:         bands.Frequency(12*w.ResourceBlocks) * w.SCS,
		raster:       rasterOf(g.band, g.lead, w),
	}
	if !g.paired {
		x.both = g.band.Duplex == bands.TDD && w.Allows(bands.Uplink)
		return x
	}
	x.both = w.Allows(bands.Uplink)
	x.ul = rasterOf(g.band, bands.Uplink, w)
	for _, p := range g.band.WidthPairs() {
		if p.Downlink == w.Width && p.Duplex == bands.FDD && !slices.Contains(x.uplinks, p.Uplink) {
			if u, ok := g.band.Width(w.SCS, p.Uplink); ok && u.Allows(bands.Uplink) {
				x.uplinks = append(x.uplinks, p.Uplink)
			}
		}
	}
	slices.Sort(x.uplinks)
	slices.Reverse(x.uplinks)
	if x.both {
		x.ulFill = x.fill
	}
	for _, up := range x.uplinks {
		u, _ := g.band.Width(w.SCS, up)
		x.ulFill = max(x.ulFill, bands.Frequency(12*u.ResourceBlocks)*w.SCS)
	}
	return x
}

// space works out spacings and reaches of every two widths.
func (g *geometry) space() {
	n := len(g.widths)
	g.nominal, g.reach = make([][]bands.Frequency, n), make([][]ends, n)
	for i := range n {
		g.nominal[i], g.reach[i] = make([]bands.Frequency, n), make([]ends, n)
		for j := range n {
			a, b := g.widths[i].Width, g.widths[j].Width
			s, err := ca.NominalSpacing(g.band, a, b)
			if err != nil {
				s.Nominal = (a + b) / 2
			}
			g.nominal[i][j] = s.Nominal
			g.tolerance = max(g.tolerance, s.Tolerance)
			g.overlap = max(g.overlap, (a+b)/2-s.Nominal+s.Tolerance)
			below, above, err := ca.AggregatedReach(g.band, []bands.Frequency{a, b})
			if err != nil {
				below, above = a/2, b/2
			}
			g.reach[i][j] = ends{max(below, a/2), max(above, b/2)}
		}
	}
}

// usableParts lists the parts of a band that everybody has to keep to; none if there
// is no such limit. Parts that touch are one.
func usableParts(b *bands.Band, d bands.Direction) []bands.Span {
	var list []bands.Span
	for _, p := range b.Parts() {
		if p.Region != "all" || d == bands.Downlink && !p.Downlink || d == bands.Uplink && !p.Uplink {
			continue
		}
		if n := len(list) - 1; n >= 0 && list[n].High == p.Span.Low {
			list[n].High = p.Span.High
			continue
		}
		list = append(list, p.Span)
	}
	return list
}

// mayStand tells whether the standard lets a channel be used at its place in a
// direction.
func (g *geometry) mayStand(d bands.Direction, centre, w bands.Frequency) bool {
	channel := bands.Around(centre, w)
	if list := g.parts[d]; len(list) > 0 && !slices.ContainsFunc(list, func(s bands.Span) bool { return s.Covers(channel) }) {
		return false
	}
	fault, ok := g.band.PlaceFault(d, centre, w)
	return !ok || fault.WiderUE
}

// entry finds the entry of the synchronisation raster nearest to the centre of a
// carrier whose SS/PBCH block lies inside its resource blocks and on its subcarrier
// grid: SS_REF and the carrier centre are both centres of subcarriers (TS 38.101-1
// clauses 5.4.2.2 and 5.4.3.2), 15 kHz apart or a multiple in FR1, 60 kHz in FR2
// (k_SSB of TS 38.211 clause 7.4.3.1, from memory). A band without a synchronisation
// raster asks for none.
func (g *geometry) entry(centre bands.Frequency, w *width) (bands.GSCN, bool) {
	if len(g.syncs) == 0 {
		return 0, true
	}
	grid := 15 * bands.KHz
	if g.band.Range.IsFR2() {
		grid = 60 * bands.KHz
	}
	narrow := w.Width == 3*bands.MHz
	var best sync0
	found := false
	i, _ := slices.BinarySearchFunc(g.syncs, centre-w.Width/2, func(s sync0, f bands.Frequency) int { return int(s.at - f) })
	for ; i < len(g.syncs) && g.syncs[i].at <= centre+w.Width/2; i++ {
		s := &g.syncs[i]
		apart := s.at - centre
		if s.narrow != narrow || apart%grid != 0 || found && max(apart, -apart) >= max(best.at-centre, centre-best.at) {
			continue
		}
		blocks, scs := w.ResourceBlocks, w.SCS
		if own, ok := g.band.Width(s.scs, w.Width); ok {
			blocks, scs = own.ResourceBlocks, own.SCS
		}
		half := bands.Frequency(6*blocks) * scs
		room := bands.Span{Low: centre - half - scs/2, High: centre + half - scs/2}
		block := bands.SSBSpan(s.at, s.scs)
		if narrow { // 12 resource blocks of the 20 are sent
			block.Low, block.High = block.Low+48*s.scs, block.High-48*s.scs
		}
		if room.Covers(block) {
			best, found = *s, true
		}
	}
	return best.number, found
}
