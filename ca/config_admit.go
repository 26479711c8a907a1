package ca

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
)

// Admission says which bandwidth combination sets admit the widths of carriers.
type Admission struct {
	Name Name
	// Alone tells that the name is one carrier: its band decides, no set.
	Alone bool
	// Configuration is the listed configuration whose sets were compared, valid if
	// Found: that of the name, or for a name that is not listed one of which it is
	// a fallback.
	Configuration Configuration
	Found         bool
	// Source is the table that was compared: of the sets, or for one carrier the
	// channel bandwidths of its band.
	Source bands.Source
	// Sets holds the numbers of the sets that admit exactly these widths, in rising
	// order.
	Sets []int
	// Refusals says, where no set admits the widths, why not: an entry for every
	// set, the one that comes closest first.
	Refusals []Refusal
	// Limits holds what the notes of the tables limit in the sets that admit.
	Limits []CarrierLimit
	// Members holds, for EN-DC and NE-DC of several bands, the parts that are
	// compared instead: those of each technology and those within one band.
	Members []Admission
}

// Admitted reports whether the standard allows the widths: by a set, by the band
// of one carrier, or by every member. Where the sets are not known it does not
// say no.
func (a *Admission) Admitted() bool {
	for i := range a.Members {
		if !a.Members[i].Admitted() {
			return false
		}
	}
	return len(a.Refusals) == 0
}

// Refusal says why a set does not admit widths.
type Refusal struct {
	BCS     int // of one carrier alone: -1
	Misfits []Misfit
}

// CarrierLimit is a limit that a set puts on the use of a carrier's width.
type CarrierLimit struct {
	BCS   int
	At    Place
	Width bands.Frequency
	Limit Limit
}

// Place is a carrier of a name: the indexes of its component in [Name.Components],
// of its sub-block and of the carrier in it.
type Place struct{ Component, Block, Carrier int }

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

// String says the misfit in a clause: "n78 with 35 MHz: allowed are 10, 15 or 20
// MHz".
func (m Misfit) String() string {
	if m.At.Component < 0 {
		return m.Total.String() + " in all: allowed are at most " + m.Max.String()
	}
	s := m.Band.String() + " with " + m.Width.String()
	if m.Together {
		s += " beside its other carriers"
	}
	if len(m.Allowed) == 0 {
		return s + ": the set has no such carrier"
	}
	return s + ": allowed are " + bands.ListMHz(m.Allowed)
}

// Admit finds out which bandwidth combination sets of a name admit the widths of
// its carriers. A name that is not listed is compared with the configurations of
// which it is a fallback; Found is false if there are none. For EN-DC and NE-DC
// the E-UTRA part, the NR part and the parts within one band are compared each
// with their own sets.
//
// The error is a [bands.ValueError]: the widths do not have the components,
// sub-blocks and carriers of the name.
func Admit(n Name, w Widths) (Admission, error) {
	if (n.kind == KindENDC || n.kind == KindNEDC) && !withinOneBand(n) {
		return admitMembers(n, w)
	}
	components := n.Components()
	if n.kind == KindLTE || n.kind == KindNR {
		return admitAlone(n, components, w)
	}
	c, ok := Find(n)
	if ok {
		return c.admit(n, components, w, false)
	}
	want, as90 := shapeIn41(n)
	best := Admission{Name: n}
	if _, err := newMatcher(c, components, w); err != nil {
		return best, err
	}
	for _, c := range fallbacksOf(&want, as90, maxFallbacks) {
		a, err := c.admit(n, components, w, true)
		if err != nil {
			return a, err
		}
		if !best.Found || len(a.Sets) > 0 {
			best = a
		}
		if len(a.Sets) > 0 {
			break
		}
	}
	return best, nil
}

// Admit is [Admit] with a configuration that has been looked up.
func (c Configuration) Admit(w Widths) (Admission, error) {
	n := c.Name()
	if (n.kind == KindENDC || n.kind == KindNEDC) && !withinOneBand(n) {
		return admitMembers(n, w)
	}
	return c.admit(n, n.Components(), w, false)
}

func withinOneBand(n Name) bool {
	number := uint16(0)
	for s := scanName(n.text); ; {
		p, ok := s.next()
		if !ok {
			return true
		}
		if number != 0 && p.band.Number != number {
			return false
		}
		number = p.band.Number
	}
}

// admitMembers compares the parts of EN-DC and NE-DC.
func admitMembers(n Name, w Widths) (Admission, error) {
	components := n.Components()
	a := Admission{Name: n}
	a.Configuration, a.Found = Find(n)
	if a.Found {
		a.Source = a.Configuration.Source()
	}
	if _, err := newMatcher(a.Configuration, components, w); err != nil {
		return a, err
	}
	for _, m := range membersOf(n) {
		inner := Widths{Lower: w.Lower}
		for _, k := range m.Name.Components() {
			i := slices.IndexFunc(components, func(c Component) bool { return c.Band == k.Band })
			inner.Components = append(inner.Components, w.Components[i])
		}
		b, err := Admit(m.Name, inner)
		if err != nil {
			return a, err
		}
		a.Members = append(a.Members, b)
	}
	return a, nil
}

// admitAlone compares one carrier with the widths of its band.
func admitAlone(n Name, components []Component, w Widths) (Admission, error) {
	a := Admission{Name: n, Alone: true}
	m, err := newMatcher(Configuration{}, components, w)
	if err != nil {
		return a, err
	}
	id := components[0].Band
	b, err := bands.Lookup(id)
	if err != nil {
		return a, err
	}
	a.Source = b.WidthSource()
	allowed := bandWidths(id)
	if m.components[0].blocks[0].carriers[0].bit&allowed == 0 {
		a.Refusals = []Refusal{{-1, []Misfit{{Band: id, Width: w.Components[0][0].Carriers[0], Allowed: allowed.list()}}}}
	}
	return a, nil
}

// admit compares the widths with the sets of a configuration.
func (c Configuration) admit(n Name, components []Component, w Widths, fallback bool) (Admission, error) {
	a := Admission{Name: n, Configuration: c, Found: true}
	m, err := newMatcher(c, components, w)
	if err != nil {
		return a, err
	}
	m.fallback = fallback
	e, source := c.setEntry()
	if e == nil {
		a.Source = c.Source()
		return a, nil
	}
	a.Source = source
	done := uint16(0)
	rows := e.setRows()
	for i := range rows {
		r := &rows[i]
		if done&(1<<r.bcs) == 0 && m.fitsRow(e, r) {
			done |= 1 << r.bcs
			a.Sets = append(a.Sets, int(r.bcs))
			a.Limits = m.limits(a.Limits, r)
		}
	}
	slices.Sort(a.Sets)
	if len(a.Sets) == 0 {
		a.Refusals = m.refusals(e, components)
	}
	return a, nil
}

// limits appends the limits that a row of bands puts on the widths.
func (m *matcher) limits(list []CarrierLimit, r *setRow) []CarrierLimit {
	if r.form != rowOfBands {
		return list
	}
	for i := range m.components {
		x := r.cell(m.components[i].band)
		for _, l := range x.limits {
			b := &m.components[i].blocks[0]
			if l.Width == bands.Frequency(b.carriers[0].units)*widthUnit {
				list = append(list, CarrierLimit{int(r.bcs), Place{Component: i}, l.Width, l.Limit})
			}
		}
	}
	return list
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
