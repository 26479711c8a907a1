package walk

import (
	"fmt"
	"math"
	"strings"
	"time"

	"spectally/cmd/internal/geodesic"
	"spectally/cmd/internal/samples"
)

// spot is a sample on its way through a collector.
type spot struct {
	s           *samples.Sample
	at          geodesic.Place // where the place is Geographic
	distance    float64
	hasDistance bool
}

// stop is what is kept of a sample for those that follow.
type stop struct {
	at          int64
	timed       bool
	place       samples.Place
	point       geodesic.Place // where the place is Geographic; kept of the last alone
	distance    float64
	hasDistance bool
	way         float64 // metres from the first
}

// way is how the samples of a network follow each other.
type way struct {
	began, placed bool
	count         int64 // stops
	first, last   stop
	// seen is the last stop with a place and a time, jumps how many samples after it
	// were refused for being too far from it.
	seen  stop
	jumps int

	serving   *cell // of the last sample that had one
	rsrp      int16
	previous  *cell // that served before it
	leftAt    int64
	carriers  *samples.Serving
	run       int64 // samples with these carriers
	inGap     bool  // since gapFrom
	gapFrom   stop
	changes   []Change
	gaps      []Gap
	counts    struct{ changes, pingPongs, gaps, backwards int64 }
	strip     strip
	points    []Point
	every     int // one of so many samples is a point
	untilNext int
}

// Limits of how a receiver can move: faster than a train of the highest speed, with room
// for the error of its position. Common practice, no source.
const (
	fastest     = 150.0 // m/s
	uncertainty = 100.0 // m
	mostJumps   = 3     // refused in a row; then the earlier place was wrong
)

// between is how far two places are apart in metres; false if that is not known.
func between(a samples.Place, p *geodesic.Place, b samples.Place, q *geodesic.Place) (float64, bool) {
	switch {
	case a.Kind != b.Kind || a.Kind == samples.Nowhere:
		return 0, false
	case a.Kind == samples.Planar:
		return math.Hypot(a.A-b.A, a.B-b.B), true
	}
	return p.Distance(q), true
}

// jump is how far a sample is from the last place in metres, -1 if that is not known,
// and the reason why it cannot be there; empty if it can.
func (w *way) jump(here *spot) (step float64, reason string) {
	s := here.s
	far, known := between(w.seen.place, &w.seen.point, s.Place, &here.at)
	if !known {
		far = -1
	}
	if known && s.Timed && w.seen.timed {
		seconds := math.Abs(float64(s.At-w.seen.at)) / float64(time.Second)
		if far > fastest*seconds+uncertainty && w.jumps < mostJumps {
			w.jumps++
			return far, fmt.Sprintf("%.0f m from the sample before in %.1f s: faster than %.0f m/s", far, seconds, fastest)
		}
	}
	w.jumps = 0
	if s.Place.Kind != samples.Nowhere {
		w.seen = stop{at: s.At, timed: s.Timed, place: s.Place, point: here.at}
	}
	return far, ""
}

// travel takes a sample as the next on the way, so many metres from the last place.
func (n *network) travel(here *spot, step float64, serving *cell, set *Settings) {
	w := &n.way
	s := here.s
	now := stop{at: s.At, timed: s.Timed, place: s.Place, distance: here.distance, hasDistance: here.hasDistance, way: w.last.way}
	n.carry(s)
	w.count++
	if !w.began {
		w.began, w.first = true, now
	} else {
		if now.timed && w.last.timed && now.at < w.last.at {
			w.counts.backwards++
			return
		}
		if step >= 0 {
			now.way += step
			w.placed = true
		}
		if now.timed && w.last.timed && now.at-w.last.at > int64(set.Pause) {
			w.closeGap(&w.last)
			w.addGap(w.gapBetween(NoSamples, &w.last, &now))
		}
	}
	covered := serving != nil && (s.RSRP == samples.None || s.RSRP >= set.GapLevel)
	switch {
	case covered:
		w.closeGap(&now)
		w.hold(serving, &now, s.RSRP, set)
	case !w.inGap:
		w.inGap, w.gapFrom = true, now
	}
	w.strip.add(w, &now, serving, s.RSRP)
	w.point(&now, s, serving)
	w.last = now
}

// hold takes note of the serving cell, and of a change to it.
func (w *way) hold(serving *cell, now *stop, rsrp int16, set *Settings) {
	known := serving.cellKey != cellKey{channel: samples.Missing, pci: samples.Missing}
	if known && w.serving != nil && w.serving != serving {
		back := w.previous == serving && now.timed && w.last.timed && now.at-w.leftAt <= int64(set.PingPong)
		w.counts.changes++
		if back {
			w.counts.pingPongs++
		}
		if len(w.changes) < mostListed {
			w.changes = append(w.changes, Change{Spot: w.spot(now), From: w.serving.name, To: serving.name, Before: decibels(w.rsrp), After: decibels(rsrp), PingPong: back})
		}
		w.previous, w.leftAt = w.serving, now.at
	}
	if known {
		w.serving = serving
	}
	w.rsrp = rsrp
}

func (w *way) closeGap(now *stop) {
	if !w.inGap {
		return
	}
	w.inGap = false
	w.addGap(w.gapBetween(NoCoverage, &w.gapFrom, now))
}

func (w *way) gapBetween(kind GapKind, from, to *stop) Gap {
	g := Gap{Spot: w.spot(from), Kind: kind}
	if from.place.Kind != samples.Nowhere && to.place.Kind != samples.Nowhere {
		g.Metres = pointer(rounded(to.way-from.way, 1))
	}
	if from.timed && to.timed {
		g.Seconds = pointer(rounded(float64(to.at-from.at)/float64(time.Second), 3))
	}
	return g
}

func (w *way) addGap(g Gap) {
	w.counts.gaps++
	if len(w.gaps) < mostListed {
		w.gaps = append(w.gaps, g)
	}
}

// spot says where and when a stop is.
func (w *way) spot(at *stop) Spot {
	var s Spot
	if at.timed {
		s.Time = time.Unix(0, at.at).UTC().Format(time.RFC3339Nano)
	}
	if at.hasDistance {
		s.Distance = pointer(rounded(at.distance, 1))
	}
	if w.placed {
		s.Way = pointer(rounded(at.way, 1))
	}
	place := at.place
	switch place.Kind {
	case samples.Geographic:
		s.Lat, s.Lon = &place.A, &place.B
	case samples.Planar:
		s.X, s.Y = &place.A, &place.B
	}
	return s
}

// carry counts how carriers come and go. What a sample has is counted when that
// changes.
func (n *network) carry(s *samples.Sample) {
	w := &n.way
	same := s.Serving == w.carriers || s.Serving != nil && w.carriers != nil && s.Serving.Text == w.carriers.Text
	if same {
		w.run++
		return
	}
	n.settle()
	before, now := names(w.carriers), names(s.Serving)
	for _, name := range now {
		if !contains(before, name) && w.began {
			n.useOf(name).Came++
		}
	}
	for _, name := range before {
		if !contains(now, name) {
			n.useOf(name).Went++
		}
	}
	w.carriers, w.run = s.Serving, 1
}

// settle adds the samples of the present carriers to their counts.
func (n *network) settle() {
	for _, name := range names(n.way.carriers) {
		n.useOf(name).Samples += n.way.run
	}
	n.way.run = 0
}

func (n *network) useOf(name string) *CarrierUse {
	u := n.uses[name]
	if u == nil {
		if len(n.uses) >= mostUses {
			name = "others"
			if u = n.uses[name]; u != nil {
				return u
			}
		}
		u = &CarrierUse{Carrier: name}
		n.uses[name] = u
	}
	return u
}

// names are the carriers, each once.
func names(s *samples.Serving) []string {
	if s == nil {
		return nil
	}
	var list []string
	for i := range s.Carriers {
		if name := s.Carriers[i].Name(); !contains(list, name) {
			list = append(list, name)
		}
	}
	return list
}

func contains(list []string, name string) bool {
	for _, s := range list {
		if strings.EqualFold(s, name) {
			return true
		}
	}
	return false
}
