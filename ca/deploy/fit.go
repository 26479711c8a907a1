package deploy

import (
	"spectally/bands"
	"spectally/ca"
)

// Run is carriers of a band that are contiguous, in rising frequency.
type Run []bands.Frequency

// Fit places runs of carriers into the room, in rising frequency and as low as they
// go; carriers of a run stand at the nominal spacing, runs apart from each other, with
// no spectrum between their edges if the raster allows. Of several places it takes the
// one with the most uplink. It is false if they do not fit.
func (r *Room) Fit(runs ...Run) (Layout, bool) {
	var f fitter
	f.room = r
	for _, run := range runs {
		for i, w := range run {
			k := r.g.index(w)
			if k < 0 {
				return Layout{}, false
			}
			f.seq = append(f.seq, k)
			switch {
			case len(f.seq) == 1 || i > 0:
				f.joints = append(f.joints, nominal)
			default:
				f.joints = append(f.joints, apart)
			}
		}
	}
	if len(f.seq) == 0 || !f.place() {
		return Layout{}, false
	}
	l := r.layout(f.best)
	l.Edges = f.edges
	return l, true
}

// index is the place of a width among those of the lead direction; -1 if the band does
// not have it.
func (g *geometry) index(w bands.Frequency) int {
	for i := range g.widths {
		if g.widths[i].Width == w {
			return i
		}
	}
	return -1
}

// joint is how a carrier stands to the one below it.
type joint uint8

const (
	nominal joint = iota // contiguous, at the nominal spacing
	beside               // not aggregated with it: the edges of the channels meet
	apart                // in a sub-block of its own, beyond the nominal spacing
)

// fitter looks for the place of a sequence of widths.
type fitter struct {
	room   *Room
	seq    []int   // indexes of widths, in rising frequency
	joints []joint // how each carrier stands to the one below it
	// loose leaves rasters and blocks aside: what would fit by widths alone.
	loose bool

	centres []bands.Frequency
	best    []Carrier
	edges   bands.Span // of the best, those of aggregated channels
}

// place finds the lowest place with the most uplink.
func (f *fitter) place() bool {
	g, limits := f.room.g, f.room.limits(f.room.g.lead)
	if f.room.g.band.IsShared() {
		limits = f.room.lead()
		limits.Low, limits.High = limits.Low-f.room.Tolerance, limits.High+f.room.Tolerance
	}
	limits.Low = max(limits.Low, f.room.floor)
	if limits.Low >= limits.High || !f.mayFit(limits) {
		return false
	}
	first := &g.widths[f.seq[0]].raster
	below := f.reach(0).below
	f.centres = make([]bands.Frequency, len(f.seq))
	if f.loose {
		top, ok := f.line(limits.Low + below)
		return ok && top <= limits.High
	}
	if top, _ := f.line(limits.Low + below); top > limits.High+2*bands.MHz {
		return false // by far, whatever the raster
	}
	most := bands.Frequency(-1)
	for at, ok := first.from(limits.Low + below); ok; at, ok = first.from(at + 1) {
		top, stands := f.line(at)
		if top > limits.High {
			break
		}
		if !stands {
			continue
		}
		list, up, full := f.carriers()
		if list == nil {
			continue
		}
		if up > most {
			most, f.best, f.edges = up, list, bands.Span{Low: at - below, High: top}
		}
		if full {
			break
		}
	}
	return most >= 0
}

// mayFit tells whether the widths are not too many for the room by far.
func (f *fitter) mayFit(limits bands.Span) bool {
	var sum bands.Frequency
	for i, k := range f.seq {
		sum += f.room.g.widths[k].Width
		if i > 0 && f.joints[i] == nominal {
			sum -= f.room.g.overlap
		}
	}
	return sum <= limits.Width()
}

// line puts the first carrier at a centre and the others behind it. It returns the
// upper edge of all, and false if a carrier finds no place on its raster.
func (f *fitter) line(at bands.Frequency) (top bands.Frequency, stands bool) {
	g := f.room.g
	f.centres[0] = at
	stands = true
	start := 0
	for i := 1; i < len(f.seq); i++ {
		a, b := f.seq[i-1], f.seq[i]
		next := f.centres[i-1] + g.nominal[a][b]
		places := &g.widths[b].raster
		if f.joints[i] != nominal {
			edge := f.centres[i-1] + f.reachFrom(start, i-1).above
			start = i
			next = edge + f.reach(i).below
			if f.joints[i] == apart {
				next = max(next, f.centres[i-1]+g.nominal[a][b]+g.tolerance+1)
			}
			if !f.loose {
				var ok bool
				if next, ok = places.from(next); !ok {
					return farAway, false
				}
			}
		} else if !f.loose && !places.has(next) {
			on, ok := places.from(next - g.tolerance)
			if !ok || on > next+g.tolerance {
				stands = false // the places of the other carriers still tell the upper edge
			} else {
				next = on
			}
		}
		f.centres[i] = next
	}
	last := len(f.seq) - 1
	return f.centres[last] + f.reachFrom(start, last).above, stands
}

// reach is how far the run that begins at carrier i goes beyond its ends.
func (f *fitter) reach(i int) ends {
	last := i
	for last+1 < len(f.seq) && f.joints[last+1] == nominal {
		last++
	}
	return f.reachFrom(i, last)
}

func (f *fitter) reachFrom(first, last int) ends {
	g := f.room.g
	a, b := f.seq[first], f.seq[last]
	switch {
	case first == last:
		half := g.widths[a].Width / 2
		return ends{half, half}
	case last > first+1 && g.band.ID.RAT == bands.LTE: // the widest counts, also inside
		widths := make([]bands.Frequency, 0, 8)
		for _, k := range f.seq[first : last+1] {
			widths = append(widths, g.widths[k].Width)
		}
		if below, above, err := ca.AggregatedReach(g.band, widths); err == nil {
			return ends{max(below, g.widths[a].Width/2), max(above, g.widths[b].Width/2)}
		}
	}
	return g.reach[a][b]
}

// carriers makes the carriers at their centres; none if one cannot stand there. up is
// the uplink that they have together, full tells that there cannot be more.
func (f *fitter) carriers() (list []Carrier, up bands.Frequency, full bool) {
	list = make([]Carrier, len(f.seq))
	full = true
	for i, k := range f.seq {
		w := &f.room.g.widths[k]
		c, ok := f.room.carrier(w, f.centres[i])
		if !ok {
			return nil, 0, false
		}
		list[i] = c
		up += c.Uplink
		full = full && (c.Uplink == w.Width || f.room.Uplink.IsZero() || !w.both && len(w.uplinks) == 0)
	}
	return list, up, full
}

// farAway is above every frequency.
const farAway = bands.Frequency(1) << 60
