package ca

import (
	"iter"

	"spectally/bands"
)

// Among yields the listed configurations that have no other bands than those given, of
// the kinds given, of all kinds if there are none, in the order of the tables. Those
// with n41 are not listed again for n90.
func Among(ids []bands.ID, kinds ...Kind) iter.Seq[Configuration] {
	var has [2 * bandSlots]bool
	for _, id := range ids {
		has[bandSlot(id)] = true
	}
	return func(yield func(Configuration) bool) {
		for _, f := range familiesOf(kinds) {
			for _, e := range f.all().entries {
				if wanted(kinds, e.kind) && e.among(&has) && !yield(Configuration{entry: e}) {
					return
				}
			}
		}
	}
}

func (e *entry) among(has *[2 * bandSlots]bool) bool {
	for s := scanName(e.name); ; {
		p, ok := s.next()
		if !ok {
			return true
		}
		if !has[bandSlot(p.band)] {
			return false
		}
	}
}

// NamedBlock is a run of contiguous carriers of a configuration.
type NamedBlock struct {
	Band  bands.ID
	Class Class
	// Joined tells that it is contiguous with carriers of the other technology, as in
	// DC_(n)41AA.
	Joined bool
}

// NamedBlocks yields the sub-blocks of the configuration as its name has them, without
// taking the name to pieces. A supplementary uplink is one of them.
func (c Configuration) NamedBlocks() iter.Seq[NamedBlock] {
	return func(yield func(NamedBlock) bool) {
		for s := scanName(c.record().name); ; {
			p, ok := s.next()
			if !ok {
				return
			}
			for b := p.blocks(); ; {
				class, ok := b.next()
				if !ok {
					break
				}
				if !yield(NamedBlock{c.band(p.band), class, p.joined}) {
					return
				}
			}
		}
	}
}

// Carriers is the number of carriers of the class in a band; zero if it has no such
// class.
func (c Class) Carriers(id bands.ID) int { return c.carriers(id) }
