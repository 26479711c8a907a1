package ca

import (
	"slices"
	"strings"

	"spectally/bands"
)

// MaxDL returns the widest total of downlink channel bandwidths that any set of
// the configuration really allows: the limits of bandwidth classes, the stated
// maxima and the spectrum and widths of the bands cut the printed lists. For EN-DC and NE-DC of several bands it is the sum
// over the members. Zero if the sets are not known.
func (c Configuration) MaxDL() bands.Frequency {
	if c.as90 {
		return bands.Frequency(c.widestUnits()) * widthUnit
	}
	w := c.record().widest.Load()
	if w == 0 {
		if w = c.widestUnits(); w == 0 {
			w = -1
		}
		c.record().widest.Store(w)
	}
	return bands.Frequency(max(w, 0)) * widthUnit
}

func (c Configuration) widestUnits() int32 {
	if e, _ := c.setEntry(); e != nil {
		return c.widestOf(e)
	}
	if c.record().kind != KindENDC && c.record().kind != KindNEDC {
		return 0
	}
	if lte := memberText(c.record().name, bands.LTE); lte != "" && !c.record().shares() {
		return c.addKnown(c.widestMember(lte, KindLTECA), c.widestMember(memberText(c.record().name, bands.NR), KindNRCA))
	}
	return c.widestShared()
}

// addKnown adds two totals; unknown if one is.
func (c Configuration) addKnown(a, b int32) int32 {
	if a == 0 || b == 0 {
		return 0
	}
	return a + b
}

// widestMember returns the widest total of the carriers of one technology,
// written as in a name without its prefix.
func (c Configuration) widestMember(text string, kind Kind) int32 {
	if p, _ := firstPart(text); p.classes == "A" && strings.IndexByte(text, '-') < 0 {
		return bandWidths(c.band(p.band)).widest()
	}
	e := familyOf(kind).find("CA_" + text)
	if e == nil && kind == KindNRCA {
		if e = sulFamily.find("SUL_" + text); e == nil {
			e = sulFamily.find("CA_" + text)
		}
	}
	if e == nil {
		return 0
	}
	return int32(Configuration{entry: e, as90: c.as90}.MaxDL() / widthUnit)
}

// shares reports whether both technologies have carriers in one band.
func (e *entry) shares() bool {
	for s := scanName(e.name); ; {
		p, ok := s.next()
		if !ok || p.band.RAT == bands.NR && e.kind == KindENDC {
			return false
		}
		if p.joined || p.band.RAT == bands.LTE && hasBand(e.name, bandSlot(bands.ID{RAT: bands.NR, Number: p.band.Number})) {
			return true
		}
	}
}

// widestShared returns the widest total of EN-DC and NE-DC with a band that both
// technologies have: that band as a whole, the others from the members.
func (c Configuration) widestShared() int32 {
	var within []bands.ID    // the bands that both have, as far as listed
	var shared, most int32   // their widest totals, and those of their NR carriers alone
	var whole, rest [2]int32 // of E-UTRA and of NR, with and without those bands
	members := c.Members()
	for _, m := range members {
		if (m.Name.kind == KindENDC || m.Name.kind == KindNEDC) && m.Listed {
			shared += int32(m.Configuration.MaxDL() / widthUnit)
			most += m.Configuration.widestNR()
			for _, k := range m.components {
				within = append(within, k.Band)
			}
		}
	}
	for _, m := range members {
		if m.Name.kind == KindENDC || m.Name.kind == KindNEDC {
			continue
		}
		first := m.components[0].Band
		i := int(first.RAT - bands.LTE)
		switch {
		case m.Listed:
			e, _ := m.Configuration.setEntry()
			whole[i], rest[i] = m.Configuration.widestOf(e), m.Configuration.widestWithout(e, within)
		case m.Name.kind == KindLTE || m.Name.kind == KindNR:
			whole[i] = bandWidths(first).widest()
			if !slices.Contains(within, first) {
				rest[i] = whole[i]
			}
		default:
			return 0
		}
	}
	// The maximum of an E-UTRA set counts its carriers in the shared band too.
	return min(rest[0]+shared, whole[0]+most) + rest[1]
}

// widestNR returns the widest total of the NR carriers of EN-DC within one band.
func (c Configuration) widestNR() int32 {
	e, _ := c.setEntry()
	if e == nil {
		return 0
	}
	var most int32
	rows := e.setRows()
	for i := range rows {
		for k := range rows[i].cells {
			if x := &rows[i].cells[k]; x.band.RAT == bands.NR {
				most = max(most, c.widestCell(x))
			}
		}
	}
	return most
}

// widestWithout returns the widest total of the bands that are not among those
// given, over all sets.
func (c Configuration) widestWithout(e *entry, not []bands.ID) int32 {
	if len(not) == 0 {
		return c.widestOf(e)
	}
	var best int32
	for i := range e.setRows() {
		r := &e.setRows()[i]
		var sum int32
		for k := range r.cells {
			if id := c.band(r.cells[k].band); !slices.Contains(not, id) {
				sum += c.widestCell(&r.cells[k])
			}
		}
		best = max(best, sum)
	}
	return best
}

// widestOf returns the widest total over all sets of an entry.
func (c Configuration) widestOf(e *entry) int32 {
	var best int32
	rows := e.setRows()
	for i := range rows {
		best = max(best, c.widestRow(e, &rows[i]))
	}
	return best
}

// widestRow returns the widest downlink total of a row. In most rows every
// carrier may have its widest width; only where that breaks a limit all possible
// totals are gone through.
func (c Configuration) widestRow(e *entry, r *setRow) int32 {
	class := c.rowClass(e, r)
	var sum int32
	for i := range r.cells {
		x := &r.cells[i]
		if supplementary(x.band) {
			continue
		}
		w := c.widestCell(x)
		if w == 0 || class != nil && class.Widest != 0 && int64(w) > int64(class.Widest/widthUnit) {
			return c.widestSum(e, r)
		}
		sum += w
	}
	if most := c.mostOf(r); most != 0 && sum > most || class != nil && !classHolds(class, sum) {
		return c.widestSum(e, r)
	}
	return sum
}

// mostOf returns the most that the carriers of a row can have together: the stated
// maximum, or the spectrum of the one band that they are in, if that is less; 0 is no
// limit.
func (c Configuration) mostOf(r *setRow) int32 {
	if r.form != rowOfBlocks {
		return r.max // a cell of several carriers has a row of its own
	}
	b, err := bands.Lookup(c.band(r.cells[0].band))
	if err != nil {
		return r.max
	}
	room := int32(b.Span(lead(b)).Width() / widthUnit)
	if r.max == 0 {
		return room
	}
	return min(r.max, room)
}

// widestSum goes through all totals of a row. A maximum that none of them keeps
// is the widest by itself: the table contradicts itself then.
func (c Configuration) widestSum(e *entry, r *setRow) int32 {
	if sums := c.sumsOfRow(e, r); len(sums) > 0 {
		return sums[len(sums)-1]
	}
	return r.max
}

// rowClass returns the bandwidth class that limits the carriers of a row: that
// of an NR configuration of contiguous carriers in one band; nil for all others.
// E-UTRA classes count resource blocks and cut none of the printed rows.
func (c Configuration) rowClass(e *entry, r *setRow) *ClassRow {
	if r.form != rowOfBlocks || len(r.cells) < 2 || r.cells[0].band.RAT != bands.NR {
		return nil
	}
	p, _ := firstPart(e.name)
	if p.classes[0] < 'A' { // several sub-blocks begin with a count
		return nil
	}
	if strings.IndexByte(p.classes, '-') >= 0 {
		return nil
	}
	return classRowOf(c.band(p.band), Class(p.classes))
}

// classRowOf finds the row of a class in the table that holds for a band; nil if
// there is no such band or class.
func classRowOf(id bands.ID, class Class) *ClassRow {
	b, err := bands.Lookup(id)
	if err != nil {
		return nil
	}
	rows := classesOf(b)
	for i := range rows {
		if rows[i].Class == class {
			return &rows[i]
		}
	}
	return nil
}

// classHolds tells whether a sum of widths lies within an NR class.
func classHolds(class *ClassRow, sum int32) bool {
	s := int64(sum) * int64(widthUnit)
	return (s > class.Over || class.Inclusive && s == class.Over) && s <= class.Max
}

// widestCell returns the widest total that a cell allows by itself.
func (c Configuration) widestCell(x *cell) int32 {
	switch {
	case x.nested != nil:
		return c.widestSet(x.nested, x.bcs)
	case x.fixed != nil:
		var sum int32
		for _, w := range x.fixed {
			sum += w
		}
		return sum
	case x.ref != "":
		return 0
	}
	return c.widthsOf(x).widest()
}

// widthsOf returns the widths of one carrier in a cell that its band has: a few rows
// print others.
func (c Configuration) widthsOf(x *cell) widthSet {
	id := c.band(x.band)
	return x.allowed(id) & bandWidths(id)
}

// widestSet returns the widest total over the alternatives of one set.
func (c Configuration) widestSet(e *entry, bcs uint8) int32 {
	t := e.setTable()
	if !c.as90 {
		if w := t.widest[bcs].Load(); w != 0 {
			return w
		}
	}
	var best int32
	for i := range t.rows {
		if t.rows[i].bcs == bcs {
			best = max(best, c.widestRow(e, &t.rows[i]))
		}
	}
	if !c.as90 {
		t.widest[bcs].Store(best)
	}
	return best
}

// sumsOfRow returns every downlink total that a row allows, in rising order.
func (c Configuration) sumsOfRow(e *entry, r *setRow) []int32 {
	class, most := c.rowClass(e, r), c.mostOf(r)
	sums := []int32{0}
	for i := range r.cells {
		if x := &r.cells[i]; !supplementary(x.band) {
			sums = addSums(sums, c.sumsOfCell(x, class))
		}
	}
	return slices.DeleteFunc(sums, func(s int32) bool {
		return most != 0 && s > most || class != nil && !classHolds(class, s)
	})
}

// addSums returns every sum of one of a and one of b, in rising order.
func addSums(a, b []int32) []int32 {
	sums := make([]int32, 0, len(a)*len(b))
	for _, x := range a {
		for _, y := range b {
			sums = append(sums, x+y)
		}
	}
	slices.Sort(sums)
	return slices.Compact(sums)
}

// sumsOfCell returns every total that a cell allows by itself; class may limit
// the width of each carrier.
func (c Configuration) sumsOfCell(x *cell, class *ClassRow) []int32 {
	if x.fixed != nil {
		return []int32{c.widestCell(x)}
	}
	if x.ref != "" {
		var sums []int32
		if x.nested != nil {
			rows := x.nested.setRows()
			for i := range rows {
				if rows[i].bcs == x.bcs {
					sums = append(sums, c.sumsOfRow(x.nested, &rows[i])...)
				}
			}
		}
		slices.Sort(sums)
		return slices.Compact(sums)
	}
	var sums []int32
	for _, w := range c.widthsOf(x).list() {
		if class == nil || class.Widest == 0 || w <= class.Widest {
			sums = append(sums, int32(w/widthUnit))
		}
	}
	return sums
}
