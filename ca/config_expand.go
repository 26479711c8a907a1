package ca

import (
	"slices"

	"spectally/bands"
)

// Widest returns the widest channel bandwidths that the standard lists for the
// carriers of a name: those of the set with the widest downlink total, in a
// combination that the set admits. For EN-DC and NE-DC each member has its
// widest. For one carrier it is the widest width of the band; for a name that is
// not listed, but a fallback, every carrier has the widest width that the
// listed configuration gives its band. A UE and a network may have less: it is
// an upper bound.
//
// It reports false if the standard does not have the name, or not its sets; of
// EN-DC and NE-DC it looks at the members alone, see [StatusOf] for the whole.
func Widest(n Name) (Widths, bool) {
	components := n.Components()
	switch {
	case n.IsZero():
		return Widths{}, false
	case n.kind == KindLTE || n.kind == KindNR:
		w := bandWidths(components[0].Band).widest()
		return widthsOf(components, [][]int32{{w}}), w != 0
	case (n.kind == KindENDC || n.kind == KindNEDC) && !withinOneBand(n):
		return widestOfMembers(n, components)
	}
	c, ok := Find(n)
	if !ok {
		return widestFallback(n, components)
	}
	e, _ := c.setEntry()
	if e == nil {
		return Widths{}, false
	}
	var best *setRow
	var most int32
	rows := e.setRows()
	for i := range rows {
		if w := c.widestRow(e, &rows[i]); w > most {
			best, most = &rows[i], w
		}
	}
	if best == nil {
		return Widths{}, false
	}
	filled := make([][]int32, len(components))
	list := c.fillRow(e, best, most)
	if list == nil {
		return Widths{}, false
	}
	if best.form == rowOfBlocks {
		filled[0] = best.join(list)
	} else {
		for i, k := range components {
			for x := range best.cells {
				if c.band(best.cells[x].band) == k.Band {
					filled[i] = list[x]
				}
			}
		}
	}
	w := widthsOf(components, filled)
	if best.form == rowOfDual {
		w.Lower = best.lower
	}
	return w, true
}

// widthsOf puts the widths of each component's carriers, in units of 100 kHz,
// into its sub-blocks.
func widthsOf(components []Component, filled [][]int32) Widths {
	w := Widths{Components: make([][]BlockWidths, len(components))}
	for i, k := range components {
		rest := filled[i]
		for _, class := range k.Blocks {
			b := BlockWidths{Ordered: true}
			for range class.carriers(k.Band) {
				if len(rest) > 0 {
					b.Carriers = append(b.Carriers, bands.Frequency(rest[0])*widthUnit)
					rest = rest[1:]
				}
			}
			w.Components[i] = append(w.Components[i], b)
		}
	}
	return w
}

// fillRow chooses widths for the carriers of every cell of a row so that the
// downlink total is as given; nil if the row does not allow that total.
func (c Configuration) fillRow(e *entry, r *setRow, total int32) [][]int32 {
	filled := make([][]int32, len(r.cells))
	var sum int32
	for i := range r.cells {
		x := &r.cells[i]
		w := c.widestCell(x)
		filled[i] = c.fillCell(x, w)
		if !supplementary(x.band) {
			sum += w
		}
	}
	if sum == total {
		return filled // the usual case: every carrier has its widest
	}
	class := c.rowClass(e, r)
	choices := make([][]int32, len(r.cells)) // the totals each cell may have
	rests := make([][]int32, len(r.cells)+1) // what the cells from i on may have together
	rests[len(r.cells)] = []int32{0}
	for i := len(r.cells) - 1; i >= 0; i-- {
		rests[i] = rests[i+1]
		if x := &r.cells[i]; !supplementary(x.band) {
			choices[i] = c.sumsOfCell(x, class)
			rests[i] = addSums(rests[i+1], choices[i])
		}
	}
	if _, ok := slices.BinarySearch(rests[0], total); !ok {
		return nil
	}
	for i := range r.cells {
		for _, w := range slices.Backward(choices[i]) {
			if _, ok := slices.BinarySearch(rests[i+1], total-w); ok {
				filled[i] = c.fillCell(&r.cells[i], w)
				total -= w
				break
			}
		}
	}
	return filled
}

// join puts the widths of the cells of a row in one band together in the order
// of the sub-blocks of a name. A row may have them in another: E-UTRA rows are in
// order of frequency.
func (r *setRow) join(filled [][]int32) []int32 {
	order := make([]int, len(r.cells))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return r.cells[a].class().compare(r.cells[b].class()) })
	var list []int32
	for _, i := range order {
		list = append(list, filled[i]...)
	}
	return list
}

// fillCell chooses widths for the carriers of a cell so that their total is as
// given, which the cell allows.
func (c Configuration) fillCell(x *cell, total int32) []int32 {
	switch {
	case x.fixed != nil:
		return x.fixed
	case x.nested == nil:
		return []int32{total}
	}
	rows := x.nested.setRows()
	for i := range rows {
		if rows[i].bcs != x.bcs {
			continue
		}
		if w := c.widestRow(x.nested, &rows[i]); w != total {
			if _, ok := slices.BinarySearch(c.sumsOfRow(x.nested, &rows[i]), total); !ok {
				continue
			}
		}
		if list := c.fillRow(x.nested, &rows[i], total); list != nil {
			return rows[i].join(list)
		}
	}
	return nil
}

// widestOfMembers puts the widest widths of the members together; a part within
// one band comes last and has the last word on its carriers.
func widestOfMembers(n Name, components []Component) (Widths, bool) {
	w := Widths{Components: make([][]BlockWidths, len(components))}
	for _, m := range membersOf(n.kind, n.Parts()) {
		inner, ok := Widest(m.Name)
		if !ok {
			if m.Name.kind == KindENDC || m.Name.kind == KindNEDC {
				continue // not listed: each technology for itself
			}
			return Widths{}, false
		}
		for j, k := range m.components {
			i := slices.IndexFunc(components, func(c Component) bool { return c.Band == k.Band })
			w.Components[i] = inner.Components[j]
		}
		if inner.Lower != 0 {
			w.Lower = inner.Lower
		}
	}
	return w, true
}

// widestFallback gives every carrier the widest width that a configuration of
// which the name is a fallback has for its component.
func widestFallback(n Name, components []Component) (Widths, bool) {
	want, as90 := shapeIn41(n)
	list := fallbacksOf(&want, as90, 1)
	if len(list) == 0 {
		return Widths{}, false
	}
	c := list[0]
	e, _ := c.setEntry()
	if e == nil {
		return Widths{}, false
	}
	m := matcher{c: c, components: make([]matchComponent, 1)}
	filled := make([][]int32, len(components))
	for i, k := range components {
		m.components[0].band = k.Band
		if c.as90 && k.Band == bandN90 {
			m.components[0].band = bandN41
		}
		var union widthSet
		for _, bcs := range e.setNumbers() {
			union |= m.unionOf(e, uint8(bcs), 0)
		}
		for range k.Carriers() {
			filled[i] = append(filled[i], union.widest())
		}
	}
	return widthsOf(components, filled), true
}
