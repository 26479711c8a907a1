package throughput

import (
	"spectally/bands"
	"spectally/ca"
)

// searcher looks through the sets of candidates for the one with the greatest weight
// that the device can take: depth first, with the heaviest candidate first, and
// without the sets that cannot become the best.
type searcher struct {
	*serving
	name   ca.Name // the configuration that has to hold; none if zero
	bounds [3]bound
	caps   map[bands.ID]int // carriers that the configuration has in a band
	rest   []int64          // the weights of all candidates from i on
	anchor bool             // an E-UTRA carrier has to stay
	best   selection
	steps  int
}

// maxSteps bounds a search. It ends far below it except where dozens of carriers of
// different widths stand against a limit of megahertz.
const maxSteps = 1 << 18

// search returns the best set for a configuration, or the one given if none is
// better.
func (s *serving) search(n ca.Name, best selection) selection {
	f := s.searcherOf(n)
	f.best = best
	f.rest = make([]int64, len(s.offered)+1)
	for i := len(s.offered) - 1; i >= 0; i-- {
		f.rest[i] = f.rest[i+1] + s.offered[i].weight
	}
	f.walk(0, selection{}, [3]used{})
	if f.steps >= maxSteps {
		s.served.Complete = false
	}
	return f.best
}

func (s *serving) searcherOf(n ca.Name) *searcher {
	f := &searcher{serving: s, name: n, bounds: s.device.bounds(), anchor: s.needsAnchor()}
	if !n.IsZero() {
		f.caps = make(map[bands.ID]int)
		for _, c := range n.Components() {
			f.caps[c.Band] += c.Carriers()
		}
	}
	return f
}

// within tells whether a set keeps within the bounds and caps.
func (f *searcher) within(set uint64) bool {
	var u [3]used
	for i := range f.offered {
		if set>>i&1 == 0 {
			continue
		}
		var ok bool
		if u, ok = f.with(i, set, u); !ok {
			return false
		}
	}
	return true
}

// searchSingle returns the best single carrier, or the set given if that is better:
// one carrier needs no configuration.
func (s *serving) searchSingle(best selection) selection {
	f := s.searcherOf(ca.Name{})
	for i := range s.offered {
		if w := s.offered[i].weight; w > best.weight && f.within(1<<i) && f.stands(1<<i) {
			best = selection{1 << i, w}
		}
	}
	return best
}

// needsAnchor tells whether an E-UTRA carrier has to stay beside NR.
func (s *serving) needsAnchor() bool {
	if s.site.assessment.Kind != ca.KindENDC {
		return false
	}
	for i := range s.offered {
		if c := &s.offered[i]; c.Band.RAT == bands.LTE && !c.extra {
			return true
		}
	}
	return false
}

// walk decides on candidate i and those behind it.
func (f *searcher) walk(i int, have selection, u [3]used) {
	if f.steps++; f.steps > maxSteps || have.weight+f.rest[i] <= f.best.weight {
		return
	}
	if i == len(f.offered) {
		if f.stands(have.set) && allows(f.name, f.combination(have.set)) {
			f.best = have
		}
		return
	}
	if with, ok := f.with(i, have.set, u); ok {
		f.walk(i+1, selection{have.set | 1<<i, have.weight + f.offered[i].weight}, with)
	}
	f.walk(i+1, have, u)
}

// with adds candidate i to what a set has; false if that goes beyond a bound, or if
// the same carrier was left out before.
func (f *searcher) with(i int, set uint64, u [3]used) ([3]used, bool) {
	c := &f.offered[i]
	for j := i - 1; j >= 0 && f.offered[j].weight == c.weight; j-- {
		if set>>j&1 == 0 && !c.IsPlaced() && f.offered[j].Carrier == c.Carrier {
			return u, false
		}
	}
	if f.caps != nil {
		n := 1
		for j := range i {
			if set>>j&1 == 1 && f.offered[j].Band == c.Band {
				n++
			}
		}
		if n > f.caps[c.Band] {
			return u, false
		}
	}
	for k := range f.bounds {
		b := &f.bounds[k]
		if !b.of(c) {
			continue
		}
		u[k].carriers, u[k].width = u[k].carriers+1, u[k].width+c.width
		if !b.holds(u[k]) {
			return u, false
		}
	}
	return u, true
}

// stands tells whether a set can stand: supplementary carriers beside others of their
// technology, and with an anchor where one is needed.
func (f *searcher) stands(set uint64) bool {
	var whole, extra [bands.NR + 1]bool
	for i := range f.offered {
		if set>>i&1 == 1 {
			c := &f.offered[i]
			whole[c.Band.RAT] = whole[c.Band.RAT] || !c.extra
			extra[c.Band.RAT] = extra[c.Band.RAT] || c.extra
		}
	}
	for rat := range whole {
		if extra[rat] && !whole[rat] {
			return false
		}
	}
	return !f.anchor || whole[bands.LTE]
}
