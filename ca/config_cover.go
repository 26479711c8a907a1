package ca

import (
	"slices"
	"sync"

	"spectally/bands"
)

// shape is a name as the rules of fallback see it.
type shape struct {
	components []Component
	joined     Joined
	kind       Kind
	carriers   int
}

func shapeOf(n Name) shape {
	p := n.Parts()
	s := shape{append(p.LTE, p.NR...), p.Joined, n.kind, 0}
	for _, c := range s.components {
		if !supplementary(c.Band) {
			s.carriers += c.Carriers()
		}
	}
	return s
}

// shapeBuffer holds the shape of an entry while it is looked at, so that going
// through many of them allocates nothing.
type shapeBuffer struct {
	parts      [2 * maxComponents]part
	components [2 * maxComponents]Component
	blocks     [2 * maxBlocks]Class
}

// read returns the shape of an entry; it holds until the next call.
func (b *shapeBuffer) read(e *entry) shape {
	s := shape{kind: e.kind, carriers: int(e.carriers)}
	n := 0
	for scan := scanName(e.name); n < len(b.parts); n++ {
		p, ok := scan.next()
		if !ok {
			break
		}
		if supplementary(p.band) {
			return shapeOf(Name{e.name, e.kind}) // few, and their cells matter
		}
		if p.joined {
			s.joined.Band = p.band.Number
			if p.band.RAT == bands.LTE {
				s.joined.LTE = Class(p.classes)
			} else {
				s.joined.NR = Class(p.classes)
			}
		}
		b.parts[n] = p
	}
	used, free := 0, b.blocks[:0]
	for i := range b.parts[:n] {
		id := b.parts[i].band
		if slices.ContainsFunc(b.components[:used], func(c Component) bool { return c.Band == id }) {
			continue
		}
		start := len(free)
		for _, p := range b.parts[i:n] {
			if p.band != id {
				continue
			}
			for blocks := p.blocks(); ; {
				c, ok := blocks.next()
				if !ok {
					break
				}
				free = append(free, c)
			}
		}
		b.components[used] = Component{Band: id, Blocks: free[start:len(free):len(free)]}
		used++
	}
	s.components = b.components[:used]
	return s
}

// coversKind tells whether a configuration of one kind can fall back to another:
// to its own kind, or to the master cell group alone.
func coversKind(have, want Kind) bool {
	switch want {
	case KindLTE, KindLTECA:
		return have == KindLTECA || have == KindENDC
	case KindNR, KindNRCA:
		return have == KindNRCA || have == KindNEDC || have == KindSUL
	}
	return have == want
}

// covers tells whether want results from have by leaving carriers out: a band,
// a sub-block, or carriers of a sub-block, which leads to a lower class. In NR
// that class has to be in the same fallback group (TS 38.101-1 Table 5.3A.5-1,
// TS 38.101-2 Table 5.3A.4-1; TS 38.101-1 clause 5.5A.0, TS 36.101 clause 4.3A).
func (have *shape) covers(want *shape) bool {
	if want.carriers > have.carriers || !coversKind(have.kind, want.kind) {
		return false
	}
	if want.joined != (Joined{}) {
		return have.coversJoined(want)
	}
	if id, shared := have.joinedShared(want); shared {
		// Carriers of both technologies that do not join: they may be what is
		// left when the joined ones of either are dropped.
		h := *have
		h.joined = Joined{}
		h.components = without(have.components, id, have.joined.LTE)
		if h.covers(want) {
			return true
		}
		id.RAT = bands.NR
		h.components = without(have.components, id, have.joined.NR)
		return h.covers(want)
	}
	for i := range want.components {
		if !have.coversComponent(&want.components[i]) {
			return false
		}
	}
	return true
}

func (have *shape) coversComponent(want *Component) bool {
	for i := range have.components {
		h := &have.components[i]
		if h.Band == want.Band && (h.Cell == want.Cell || want.Cell == bands.ID{}) && h.Shared == want.Shared {
			return coversBlocks(want.Band, h.Blocks, want.Blocks)
		}
	}
	return false
}

// joinedShared returns the E-UTRA band of have's joined carriers if want has
// carriers of both technologies there.
func (have *shape) joinedShared(want *shape) (bands.ID, bool) {
	if have.joined == (Joined{}) {
		return bands.ID{}, false
	}
	id := bands.ID{RAT: bands.LTE, Number: have.joined.Band}
	both := 0
	for i := range want.components {
		if want.components[i].Band.Number == id.Number {
			both++
		}
	}
	return id, both == 2
}

func (have *shape) coversJoined(want *shape) bool {
	h, w := have.joined, want.joined
	lte, nr := bands.ID{RAT: bands.LTE, Number: w.Band}, bands.ID{RAT: bands.NR, Number: w.Band}
	if h.Band != w.Band || !lowerClass(lte, h.LTE, w.LTE) || !lowerClass(nr, h.NR, w.NR) {
		return false
	}
	rest := func(s *shape, j Joined) shape {
		r := *s
		r.joined = Joined{}
		r.components = without(without(s.components, lte, j.LTE), nr, j.NR)
		return r
	}
	hr, wr := rest(have, h), rest(want, w)
	for i := range wr.components {
		if !hr.coversComponent(&wr.components[i]) {
			return false
		}
	}
	return true
}

// coversBlocks tells whether every sub-block of want can be got from another one
// of have.
func coversBlocks(id bands.ID, have, want []Class) bool {
	if len(want) > len(have) {
		return false
	}
	if slices.Equal(have, want) {
		return true
	}
	return unmatched(id, have, want) == 0
}

// unmatched returns how many sub-blocks of want are left over in the best
// assignment to those of have: a matching by augmenting paths.
func unmatched(id bands.ID, have, want []Class) int {
	var owner [maxBlocks]int // of every sub-block of have: 1 + the one of want
	left := 0
	for w := range want {
		var seen [maxBlocks]bool
		var place func(w int) bool
		place = func(w int) bool {
			for h := range have {
				if seen[h] || !lowerClass(id, have[h], want[w]) {
					continue
				}
				seen[h] = true
				if owner[h] == 0 || place(owner[h]-1) {
					owner[h] = w + 1
					return true
				}
			}
			return false
		}
		if !place(w) {
			left++
		}
	}
	return left
}

// lowerClass tells whether a sub-block of class have can fall back to class want
// by leaving carriers out, or has it already.
func lowerClass(id bands.ID, have, want Class) bool {
	if have == want {
		return true
	}
	if want.carriers(id) >= have.carriers(id) {
		return false
	}
	return id.RAT == bands.LTE || groupsOf(id, have)&groupsOf(id, want) != 0
}

// groupsOf returns the fallback groups of an NR class as bits. Group 3 of FR1 is
// for shared-spectrum bands only.
func groupsOf(id bands.ID, c Class) uint8 {
	t := classGroups()
	if rangeFR2(id) {
		return t.fr2[c]
	}
	groups := t.fr1[c]
	if b, err := bands.Lookup(id); err != nil || !b.IsShared() {
		groups &^= 1 << 3
	}
	return groups
}

type groupTables struct{ fr1, fr2 map[Class]uint8 }

var classGroups = sync.OnceValue(func() groupTables {
	read := func(rows []ClassRow) map[Class]uint8 {
		groups := map[Class]uint8{}
		for _, r := range rows {
			for _, g := range r.Groups {
				groups[r.Class] |= 1 << g
			}
		}
		return groups
	}
	t := classRows()
	return groupTables{read(t.fr1), read(t.fr2)}
})
