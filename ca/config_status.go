package ca

import (
	"cmp"
	"slices"
	"strings"

	"spectally/bands"
)

// Status tells how a name stands to the lists.
type Status struct {
	Name Name
	// Alone tells that the name is one carrier, which no list needs to have.
	Alone bool
	// Listed holds the listings of the name; see [FindAll].
	Listed []Configuration
	// FallbackOf holds, for a name that is not listed, listed configurations of
	// which it is a fallback, those with the fewest carriers first and no more
	// than a few of them.
	FallbackOf []Configuration
}

// Supported reports whether the standard has the name in one of its ways.
func (s *Status) Supported() bool { return s.Alone || len(s.Listed) > 0 || len(s.FallbackOf) > 0 }

// NearMiss is a listed configuration that comes close to a name.
type NearMiss struct {
	Configuration Configuration
	Lacks         []Lack
}

// Lack is what a configuration has in a band in place of what a name asks for.
type Lack struct {
	Want Component
	Have Component // the zero Component if it does not have the band
}

// String says what is lacking: "without n79", "with n78A instead of n78(2A)".
func (l Lack) String() string {
	want := string(appendComponent(nil, l.Want))
	if l.Have.Band == (bands.ID{}) {
		return "without " + l.Want.Band.String()
	}
	have := string(appendComponent(nil, l.Have))
	if have == want {
		return "with " + want + " in another place"
	}
	return "with " + have + " instead of " + want
}

// Why says in words why the configuration does not hold for the name: what each [Lack]
// says.
func (m NearMiss) Why() string {
	if len(m.Lacks) == 0 {
		return "of another kind, or with carriers joined otherwise"
	}
	words := make([]string, len(m.Lacks))
	for i, l := range m.Lacks {
		words[i] = l.String()
	}
	return strings.Join(words, ", ")
}

const (
	maxFallbacks = 5
	maxNearest   = 3
)

// StatusOf finds out how a name stands to the lists. E-UTRA carriers may also be
// a fallback of EN-DC, NR carriers of NE-DC or of a configuration with a
// supplementary uplink.
func StatusOf(n Name) Status {
	s := Status{Name: n, Alone: n.kind == KindLTE || n.kind == KindNR}
	if s.Alone || n.IsZero() {
		return s
	}
	if s.Listed = FindAll(n); len(s.Listed) > 0 {
		return s
	}
	want, as90 := shapeIn41(n)
	s.FallbackOf = fallbacksOf(&want, as90, maxFallbacks)
	return s
}

// shapeIn41 returns the shape of a name with n41 in place of n90.
func shapeIn41(n Name) (shape, bool) {
	if strings.Contains(n.text, "n90") {
		if text := swapBand(n, bandN90, bandN41); text != "" {
			return shapeOf(Name{text, n.kind}), true
		}
	}
	return shapeOf(n), false
}

func (s *shape) slots() []int {
	slots := make([]int, len(s.components))
	for i, c := range s.components {
		slots[i] = bandSlot(c.Band)
	}
	return slots
}

// covering returns the families that may have configurations that cover a kind,
// that of the kind itself first.
func covering(k Kind) []*family {
	switch k {
	case KindLTE, KindLTECA:
		return []*family{lteFamily, endcFamily}
	case KindNR, KindNRCA:
		return []*family{nrFamily, sulFamily, endcFamily}
	}
	return []*family{familyOf(k)}
}

// fallbacksOf returns up to most listed configurations of which want is a
// fallback, those with the fewest carriers first.
func fallbacksOf(want *shape, as90 bool, most int) []Configuration {
	slots := want.slots()
	var buffer shapeBuffer
	var found []Configuration
	for _, f := range covering(want.kind) {
		before := len(found)
		f.with(bandFilter{slots: slots}).withBands(slots, func(e *entry) bool {
			if int(e.carriers) >= want.carriers && coversKind(e.kind, want.kind) {
				c := Configuration{e, as90}
				if have := buffer.read(e); have.covers(want) && c.hasName() {
					found = append(found, c)
				}
			}
			return len(found)-before < most
		})
		if len(found) >= most {
			break
		}
	}
	return found[:min(len(found), most)]
}

// NearestTo returns, for a name that is neither listed nor a fallback, the few
// listed configurations that come closest: those that have the most of its bands
// and, among them, leave the fewest sub-blocks and carriers uncovered, those with
// fewer carriers first.
func NearestTo(n Name) []NearMiss {
	if n.IsZero() {
		return nil
	}
	shape, as90 := shapeIn41(n)
	want := &shape
	type candidate struct {
		e       *entry
		lacking int
	}
	var best []candidate
	var buffer shapeBuffer
	most := 1 // bands
	for _, f := range covering(want.kind) {
		l := f.all()
		count := make([]uint8, len(l.bySize))
		for _, s := range want.slots() {
			for _, rank := range l.byBand[s] {
				count[rank]++
			}
		}
		for rank, n := range count {
			e := l.bySize[rank]
			if int(n) < most || !coversKind(e.kind, want.kind) || as90 && !(Configuration{e, as90}).hasName() {
				continue
			}
			if int(n) > most {
				most, best = int(n), best[:0]
			}
			have := buffer.read(e)
			c := candidate{e, have.lacking(want)}
			if len(best) == maxNearest && c.lacking >= best[maxNearest-1].lacking {
				continue
			}
			at, _ := slices.BinarySearchFunc(best, c, func(a, b candidate) int {
				if d := cmp.Compare(a.lacking, b.lacking); d != 0 {
					return d
				}
				return -1 // behind those that are as near
			})
			best = slices.Insert(best, at, c)
			best = best[:min(len(best), maxNearest)]
		}
	}
	near := make([]NearMiss, len(best))
	for i, c := range best {
		have := shapeOf(Name{c.e.name, c.e.kind})
		near[i] = NearMiss{Configuration{c.e, as90}, have.lacks(want)}
	}
	return near
}

// lacking weighs what of want is not covered: sub-blocks first, then carriers.
func (have *shape) lacking(want *shape) int {
	n := 0
	for i := range want.components {
		w := &want.components[i]
		h := have.component(w.Band)
		if h == nil {
			h = &Component{}
		}
		n += maxMatched * unmatched(w.Band, h.Blocks, w.Blocks)
		n += max(0, w.Carriers()-h.Carriers())
	}
	return n
}

// lacks lists the components of want that are not covered.
func (have *shape) lacks(want *shape) []Lack {
	var list []Lack
	for i := range want.components {
		w := &want.components[i]
		h := have.component(w.Band)
		switch {
		case h == nil:
			list = append(list, Lack{Want: *w})
		case !have.coversComponent(w):
			list = append(list, Lack{Want: *w, Have: *h})
		}
	}
	return list
}

func (have *shape) component(id bands.ID) *Component {
	for i := range have.components {
		if have.components[i].Band == id {
			return &have.components[i]
		}
	}
	return nil
}
