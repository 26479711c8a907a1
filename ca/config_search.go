package ca

import (
	"cmp"
	"slices"

	"spectally/bands"
)

// Query says which configurations [Search] finds. The zero Query finds all.
type Query struct {
	// With lists bands that a configuration has to have. Band n90 stands for
	// n41, see [Find].
	With []bands.ID
	// Only leaves out configurations with any other band than those of With.
	Only bool
	// Without lists bands that it must not have.
	Without []bands.ID
	// Kinds lists the kinds that are searched, all if there are none.
	Kinds []Kind
	// MinCarriers and MaxCarriers bound the number of downlink carriers; a
	// MaxCarriers of zero does not.
	MinCarriers, MaxCarriers int
	// MinDL is the least total of downlink channel bandwidths that a set has to
	// allow.
	MinDL bands.Frequency
	// Uplink is an uplink that the standard has to allow with it; see
	// [Configuration.AllowsUplink].
	Uplink Name
	// FreeOfInterference leaves out configurations in which a product of uplinks can fall
	// on a downlink; see [Configuration.MayInterfere].
	FreeOfInterference bool
}

// Search returns the listed configurations that a query asks for, those with the
// widest downlink total first, then those with fewer carriers, then as the tables
// list them. A name that is listed in several ways is found as often.
func Search(q Query) []Configuration {
	s := newSearch(q)
	var found []Configuration
	for _, f := range familiesOf(q.Kinds) {
		l := f.with(bandFilter{slots: s.with})
		if len(s.with) == 0 {
			found = slices.Grow(found, len(l.bySize))
			for _, e := range l.bySize {
				found = s.add(found, e)
			}
			continue
		}
		l.withBands(s.with, func(e *entry) bool {
			found = s.add(found, e)
			return true
		})
	}
	return widestFirst(found)
}

// widestFirst sorts configurations by falling total, then by rising number of
// carriers, then as they stand. The keys are made once: 28 thousand may be found.
func widestFirst(found []Configuration) []Configuration {
	type key struct {
		narrow   int32
		carriers uint8
		at       int32
	}
	keys := make([]key, len(found))
	for i, c := range found {
		keys[i] = key{-int32(c.MaxDL() / widthUnit), c.entry.carriers, int32(i)}
	}
	slices.SortFunc(keys, func(a, b key) int {
		switch {
		case a.narrow != b.narrow:
			return cmp.Compare(a.narrow, b.narrow)
		case a.carriers != b.carriers:
			return cmp.Compare(a.carriers, b.carriers)
		}
		return cmp.Compare(a.at, b.at)
	})
	sorted := make([]Configuration, len(found))
	for i, k := range keys {
		sorted[i] = found[k.at]
	}
	return sorted
}

type search struct {
	Query
	with    []int // the bands that it must have
	without [2 * bandSlots]bool
	as90    bool
}

func newSearch(q Query) *search {
	s := &search{Query: q}
	slot := func(id bands.ID) int {
		if id == bandN90 {
			id = bandN41
		}
		return bandSlot(id)
	}
	if q.Only && len(q.With) > 0 {
		for i := range s.without {
			s.without[i] = true
		}
	}
	for _, id := range q.With {
		if n := slot(id); !slices.Contains(s.with, n) {
			s.with = append(s.with, n)
			s.without[n] = false
		}
		s.as90 = s.as90 || id == bandN90
	}
	for _, id := range q.Without {
		s.without[slot(id)] = true
	}
	return s
}

func (s *search) add(found []Configuration, e *entry) []Configuration {
	n := int(e.carriers)
	if n < s.MinCarriers || s.MaxCarriers > 0 && n > s.MaxCarriers || !wanted(s.Kinds, e.kind) {
		return found
	}
	if s.Only || len(s.Without) > 0 {
		for scan := scanName(e.name); ; {
			p, ok := scan.next()
			if !ok {
				break
			}
			if s.without[bandSlot(p.band)] {
				return found
			}
		}
	}
	c := Configuration{e, s.as90}
	if !c.hasName() || s.MinDL > 0 && c.MaxDL() < s.MinDL {
		return found
	}
	if !s.Uplink.IsZero() {
		if _, ok := c.AllowsUplink(s.Uplink); !ok {
			return found
		}
	}
	if s.FreeOfInterference && c.MayInterfere(0) {
		return found
	}
	return append(found, c)
}
