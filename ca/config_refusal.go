package ca

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
)

// Refusal says why a set does not admit widths.
type Refusal struct {
	BCS     int // of one carrier alone: -1
	Misfits []Misfit
}

// Misfit is a width that a set does not admit.
type Misfit struct {
	// At is the carrier; its Component is -1 where the total is at fault.
	At    Place
	Band  bands.ID
	Width bands.Frequency
	// Allowed lists the widths that would fit beside those of the other carriers
	// of the component, or, if none would, the widths that the set has for the
	// carrier at all; in rising order.
	Allowed []bands.Frequency
	// Together tells that the width itself is among those of the set, but not
	// beside the other carriers of the component: no row of the set has them
	// together, or their total breaks the limits of the class or the maximum.
	Together bool
	// Total and Max tell, where the total is at fault, what it is and what the
	// set allows at most.
	Total, Max bands.Frequency
}

// String says the misfit in a clause: "n78 with 35 MHz: must be 10, 15 or 20
// MHz".
func (m Misfit) String() string {
	if m.At.Component < 0 {
		return m.Total.String() + " in all: must be at most " + m.Max.String()
	}
	s := m.Band.String() + " with " + m.Width.String()
	if m.Together {
		s += " beside its other carriers"
	}
	if len(m.Allowed) == 0 {
		return s + ": the set has no such carrier"
	}
	return s + ": must be " + bands.ListMHz(m.Allowed)
}

// refusals says why none of the sets admits the carriers.
func (m *matcher) refusals(e *entry, components []Component) []Refusal {
	var list []Refusal
	for _, n := range e.setNumbers() {
		list = append(list, Refusal{n, m.refusal(e, uint8(n), components)})
	}
	slices.SortStableFunc(list, func(a, b Refusal) int { return cmp.Compare(len(a.Misfits), len(b.Misfits)) })
	return list
}

func (m *matcher) refusal(e *entry, bcs uint8, components []Component) []Misfit {
	all := make([]int, len(components))
	for i := range all {
		all[i] = i
	}
	if e.setRows()[0].form == rowOfDual {
		// The widths of both technologies depend on each other.
		return m.misfits(e, bcs, all, components, func() bool { return m.fitsSet(e, bcs) })
	}
	var list []Misfit
	for i := range all {
		list = append(list, m.misfits(e, bcs, all[i:i+1], components, func() bool { return m.fitsComponent(e, bcs, i) })...)
	}
	if len(list) == 0 {
		return m.totalMisfit(e, bcs)
	}
	return list
}

// misfits finds the carriers that a set does not admit among those of
// components that fits looks at together.
func (m *matcher) misfits(e *entry, bcs uint8, group []int, components []Component, fits func() bool) []Misfit {
	if fits() {
		return nil
	}
	var wrong, together, every []Misfit
	for _, i := range group {
		has := m.unionOf(e, bcs, i)
		for j := range m.components[i].blocks {
			b := &m.components[i].blocks[j]
			for x := range b.carriers {
				c := &b.carriers[x]
				given := *c
				f := Misfit{At: Place{i, j, x}, Band: components[i].Band, Width: bands.Frequency(given.units) * widthUnit}
				f.Together = given.bit&has != 0
				for _, w := range has.list() {
					*c = carrierOf(w)
					if fits() {
						f.Allowed = append(f.Allowed, w)
					}
				}
				*c = given
				helps := f.Allowed != nil
				if !helps {
					f.Allowed = has.list()
				}
				every = append(every, f)
				switch {
				case !f.Together:
					wrong = append(wrong, f)
				case helps:
					together = append(together, f)
				}
			}
		}
	}
	switch {
	case wrong != nil:
		return wrong
	case together != nil:
		return together
	}
	return every // more than one width would have to change
}

// fitsComponent tells whether a set admits a component by itself.
func (m *matcher) fitsComponent(e *entry, bcs uint8, component int) bool {
	k := &m.components[component]
	rows := e.setRows()
	for i := range rows {
		r := &rows[i]
		if r.bcs != bcs {
			continue
		}
		if r.form == rowOfBlocks {
			if m.fitsBlocks(e, r, k.blocks) {
				return true
			}
			continue
		}
		if x := r.cell(k.band); x != nil && m.fitsCell(x, k.blocks) {
			return true
		}
	}
	return false
}

// unionOf returns every width that a set has for any carrier of a component.
func (m *matcher) unionOf(e *entry, bcs uint8, component int) widthSet {
	id := m.components[component].band
	var union widthSet
	rows := e.setRows()
	for i := range rows {
		r := &rows[i]
		if r.bcs != bcs {
			continue
		}
		for k := range r.cells {
			x := &r.cells[k]
			if x.band != id {
				continue
			}
			for _, w := range x.fixed {
				union |= widthBit(w)
			}
			for _, w := range nestedWidths(x, m.c.band(id)) {
				union |= w
			}
			if x.ref == "" {
				union |= x.allowed(m.c.band(id))
			}
		}
	}
	return union
}

// totalMisfit tells of a total above the maximum of a set whose components fit
// each by itself.
func (m *matcher) totalMisfit(e *entry, bcs uint8) []Misfit {
	f := Misfit{At: Place{Component: -1}, Total: bands.Frequency(m.sum()) * widthUnit}
	rows := e.setRows()
	for i := range rows {
		if rows[i].bcs == bcs {
			f.Max = max(f.Max, bands.Frequency(rows[i].max)*widthUnit)
		}
	}
	return []Misfit{f}
}

// RefusalText says in a sentence why the nearest set refuses; empty if nothing
// is refused.
func (a *Admission) RefusalText() string {
	for i := range a.Members {
		if t := a.Members[i].RefusalText(); t != "" {
			return t
		}
	}
	if len(a.Refusals) == 0 {
		return ""
	}
	r := a.Refusals[0]
	words := make([]string, len(r.Misfits))
	for i, m := range r.Misfits {
		words[i] = m.String()
	}
	text := strings.Join(words, "; ")
	if r.BCS < 0 {
		return text
	}
	return "set " + strconv.Itoa(r.BCS) + " of " + a.Configuration.Name().String() + ": " + text
}
