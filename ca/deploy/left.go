package deploy

import (
	"spectally/bands"
)

// Reason is why spectrum of a block is left over.
type Reason uint8

// The reasons.
const (
	OutsideBand Reason = iota + 1 // the band does not reach so far
	OffRaster                     // a wider channel would fit but for the channel raster
	NoEntry                       // but for the synchronisation raster
	NoPlace                       // but for the places that the standard keeps channels from
	TooNarrow                     // less than the narrowest channel
	NoWidth                       // the widths of the band do not add up to more
	Chosen                        // another layout uses more
)

// String says the reason in a few words.
func (r Reason) String() string {
	return [...]string{"", "outside the band", "off the channel raster", "no entry of the synchronisation raster",
		"kept clear by the standard", "narrower than any channel", "no widths add up to more", "left by this choice"}[r]
}

// Left is spectrum that a layout leaves, and why.
type Left struct {
	Width  bands.Frequency
	Reason Reason
	// Instead are the widths that would fit but for the raster, the entry or the
	// place; Over is how far they pass an edge at the nearest place of the raster.
	Instead []bands.Frequency
	Over    bands.Frequency
	// Narrowest is the narrowest channel of the band.
	Narrowest bands.Frequency
}

// Why says why no carrier of the band fits into the room.
func (r *Room) Why() []Left {
	l := Layout{Unused: r.blockLead().Width()}
	return r.left(&l)
}

func (r *Room) blockLead() bands.Span {
	if r.g.lead == bands.Uplink && !r.Block.Uplink.IsZero() {
		return r.Block.Uplink
	}
	return r.Block.Downlink
}

// left says why a layout leaves spectrum.
func (r *Room) left(l *Layout) []Left {
	var list []Left
	rest := l.Unused
	if outside := r.blockLead().Width() - r.lead().Width(); outside > 0 {
		list = append(list, Left{Width: outside, Reason: OutsideBand})
		rest -= outside
	}
	if rest <= 0 {
		return list
	}
	narrowest := bands.Frequency(0)
	for i := range r.g.widths {
		if w := r.g.widths[i].Width; narrowest == 0 || w < narrowest {
			narrowest = w
		}
	}
	x := Left{Width: rest, Narrowest: narrowest, Reason: NoWidth}
	switch {
	case len(l.Traits) > 0 && l.Traits[0] != Most:
		x.Reason = Chosen
	case r.better(l, &x):
	case rest < narrowest:
		x.Reason = TooNarrow
	}
	return append(list, x)
}

// better finds widths that would fill more if rasters and places did not matter, and
// says what keeps them out.
func (r *Room) better(l *Layout, x *Left) bool {
	s := search{room: r, limit: maxCarriers, loose: true, found: len(l.Carriers) > 0, value: l.Filled}
	for i := range l.Carriers {
		s.order = append(s.order, r.g.index(l.Carriers[i].width(r.g.lead)))
	}
	s.run(nil)
	if s.value <= l.Filled {
		return false
	}
	for _, k := range s.order {
		x.Instead = append(x.Instead, r.g.widths[k].Width)
	}
	f := fitter{room: r, seq: s.order, joints: r.g.joints(s.order)}
	x.Over = f.overshoot()
	switch {
	case x.Over > 0:
		x.Reason = OffRaster
	case f.lacksEntry():
		x.Reason = NoEntry
	default:
		x.Reason = NoPlace
	}
	return true
}

// overshoot is how far the sequence passes an edge of the room at the place of the
// raster that is nearest to fitting; zero if it fits at one.
func (f *fitter) overshoot() bands.Frequency {
	limits := f.room.limits(f.room.g.lead)
	first := &f.room.g.widths[f.seq[0]].raster
	f.centres = make([]bands.Frequency, len(f.seq))
	ideal := limits.Low + f.reach(0).below
	best := farAway
	if at, ok := first.below(ideal); ok {
		best = ideal - at
	}
	if at, ok := first.from(ideal); ok {
		if top, _ := f.line(at); top-limits.High < best {
			best = max(0, top-limits.High)
		}
	}
	return best
}

// lacksEntry tells whether a carrier finds no entry of the synchronisation raster at
// any place of the sequence.
func (f *fitter) lacksEntry() bool {
	g, limits := f.room.g, f.room.limits(f.room.g.lead)
	if g.lead == bands.Uplink || len(g.syncs) == 0 {
		return false
	}
	first := &g.widths[f.seq[0]].raster
	for at, ok := first.from(limits.Low + f.reach(0).below); ok; at, ok = first.from(at + 1) {
		top, _ := f.line(at)
		if top > limits.High {
			break
		}
		if f.entries() {
			return false
		}
	}
	return true
}

func (f *fitter) entries() bool {
	for i, k := range f.seq {
		if _, ok := f.room.g.entry(f.centres[i], &f.room.g.widths[k]); !ok {
			return false
		}
	}
	return true
}
