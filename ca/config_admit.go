package ca

import (
	"math"
	"slices"

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

// Admit finds out which bandwidth combination sets of a name admit the widths of
// its carriers. A name that is not listed is compared with the configurations of
// which it is a fallback; Found is false if there are none. For EN-DC and NE-DC
// the E-UTRA part, the NR part and the parts within one band are compared each
// with their own sets.
//
// The error is a [bands.ValueError]: the widths do not have the components,
// sub-blocks and carriers of the name.
func Admit(n Name, w Widths) (Admission, error) {
	if n.IsZero() {
		return Admission{}, partError("", "a name such as CA_3A-7A")
	}
	if (n.kind == KindENDC || n.kind == KindNEDC) && !withinOneBand(n) {
		return admitMembers(n, w)
	}
	return admit(n, n.Components(), w)
}

// admit is [Admit] for a name that is not compared member by member.
func admit(n Name, components []Component, w Widths) (Admission, error) {
	if n.kind == KindLTE || n.kind == KindNR {
		return admitAlone(n, components, w)
	}
	c, ok := Find(n)
	if ok {
		return c.admit(n, components, w, false)
	}
	want, as90 := shapeIn41(n)
	best := Admission{Name: n}
	if err := checkShape(components, w); err != nil {
		return best, err
	}
	for _, most := range [...]int{maxFallbacks, math.MaxInt} { // in most cases a few will do
		for _, c := range fallbacksOf(&want, as90, most) {
			a, err := c.admit(n, components, w, true)
			if err != nil {
				return a, err
			}
			if !best.Found || len(a.Sets) > 0 {
				best = a
			}
			if len(a.Sets) > 0 {
				return best, nil
			}
		}
	}
	return best, nil
}

// Admit is [Admit] with a configuration that has been looked up.
func (c Configuration) Admit(w Widths) (Admission, error) {
	n := c.Name()
	if n.IsZero() || (n.kind == KindENDC || n.kind == KindNEDC) && !withinOneBand(n) {
		return Admit(n, w)
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
	p := n.Parts()
	components := append(slices.Clip(p.LTE), p.NR...)
	a := Admission{Name: n}
	a.Configuration, a.Found = Find(n)
	if a.Found {
		a.Source = a.Configuration.Source()
	}
	if err := checkShape(components, w); err != nil {
		return a, err
	}
	members := membersOf(n.kind, p)
	a.Members = make([]Admission, 0, len(members))
	for _, m := range members {
		inner := Widths{Lower: w.Lower, Components: make([][]BlockWidths, 0, len(m.components))}
		for _, k := range m.components {
			i := slices.IndexFunc(components, func(c Component) bool { return c.Band == k.Band })
			inner.Components = append(inner.Components, w.Components[i])
		}
		b, err := admit(m.Name, m.components, inner)
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

// limits appends the limits that a row puts on the widths.
func (m *matcher) limits(list []CarrierLimit, r *setRow) []CarrierLimit {
	if r.form == rowOfBlocks {
		return m.limitsOfCells(list, r.bcs, 0, r)
	}
	for i := range m.components {
		x := r.cell(m.components[i].band)
		list = m.limitsOfCell(list, r.bcs, i, x)
		if x.nested == nil {
			continue
		}
		rows := x.nested.setRows()
		for k := range rows {
			if rows[k].bcs == x.bcs {
				list = m.limitsOfCells(list, r.bcs, i, &rows[k])
			}
		}
	}
	return list
}

func (m *matcher) limitsOfCells(list []CarrierLimit, bcs uint8, component int, r *setRow) []CarrierLimit {
	for k := range r.cells {
		list = m.limitsOfCell(list, bcs, component, &r.cells[k])
	}
	return list
}

// limitsOfCell compares a cell for one carrier with the sub-blocks of one carrier.
func (m *matcher) limitsOfCell(list []CarrierLimit, bcs uint8, component int, x *cell) []CarrierLimit {
	for _, l := range x.limits {
		for j := range m.components[component].blocks {
			b := &m.components[component].blocks[j]
			if len(b.carriers) == 1 && l.Width == bands.Frequency(b.carriers[0].units)*widthUnit {
				list = append(list, CarrierLimit{int(bcs), Place{Component: component, Block: j}, l.Width, l.Limit})
			}
		}
	}
	return list
}
