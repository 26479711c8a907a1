package ca

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
)

// Widths says which channel bandwidths the carriers of a name have.
type Widths struct {
	// Components holds, for every component of [Name.Components], its sub-blocks
	// in the order of [Component.Blocks].
	Components [][]BlockWidths
	// Lower is the technology whose carriers are lower in frequency where E-UTRA
	// and NR have the same band; zero if that is not known.
	Lower bands.RAT
}

// BlockWidths holds the channel bandwidths of the carriers of a sub-block: in the
// downlink, or in the uplink of a supplementary uplink.
type BlockWidths struct {
	Carriers []bands.Frequency
	// Ordered tells that the carriers stand in rising order of frequency. E-UTRA
	// sets within one band are given in that order; if it is not known any order
	// will do.
	Ordered bool
}

const (
	maxMatched = 128 // carriers that are matched; the standard has up to twenty
	maxCells   = 64  // cells of a row are bits of a word
)

// matchBlock is a sub-block to be matched.
type matchBlock struct {
	class    Class
	carriers []matchCarrier
	ordered  bool
}

type matchCarrier struct {
	bit   widthSet // empty if no band has the width
	units int32    // of 100 kHz
}

// matchComponent is a component to be matched, under the band that the list has.
type matchComponent struct {
	band   bands.ID
	blocks []matchBlock
}

// matcher compares the carriers of a name with the sets of a configuration.
type matcher struct {
	c Configuration
	// fallback allows cells that no carrier takes: the name is a fallback of the
	// configuration.
	fallback   bool
	lower      bands.RAT
	components []matchComponent
}

// newMatcher brings the widths of components into the form that is compared.
func newMatcher(c Configuration, components []Component, w Widths) (*matcher, error) {
	m := &matcher{c: c, lower: w.Lower}
	if err := checkShape(components, w); err != nil {
		return nil, err
	}
	blocks, carriers := 0, 0
	for i := range w.Components {
		blocks += len(w.Components[i])
		for j := range w.Components[i] {
			carriers += len(w.Components[i][j].Carriers)
		}
	}
	m.components = make([]matchComponent, len(components))
	allBlocks := make([]matchBlock, blocks)
	allCarriers := make([]matchCarrier, carriers)
	for i, k := range components {
		id := k.Band
		if c.as90 && id == bandN90 {
			id = bandN41
		}
		n := len(k.Blocks)
		m.components[i] = matchComponent{id, allBlocks[:n:n]}
		allBlocks = allBlocks[n:]
		for j, class := range k.Blocks {
			b := &w.Components[i][j]
			n := len(b.Carriers)
			m.components[i].blocks[j] = matchBlock{class, allCarriers[:n:n], b.Ordered}
			for x, f := range b.Carriers {
				allCarriers[x] = carrierOf(f)
			}
			allCarriers = allCarriers[n:]
		}
	}
	return m, nil
}

// checkShape wants a width for every carrier of the components.
func checkShape(components []Component, w Widths) error {
	if len(w.Components) != len(components) {
		return widthsError("components", len(w.Components), len(components))
	}
	blocks, carriers := 0, 0
	for i, k := range components {
		if len(w.Components[i]) != len(k.Blocks) {
			return widthsError("sub-blocks of "+k.Band.String(), len(w.Components[i]), len(k.Blocks))
		}
		for j, class := range k.Blocks {
			have, want := len(w.Components[i][j].Carriers), class.carriers(k.Band)
			if have != want {
				return widthsError("carriers of "+k.Band.String()+" class "+string(class), have, want)
			}
			carriers += have
		}
		blocks += len(k.Blocks)
	}
	if carriers > maxMatched || blocks > maxCells {
		return widthsError("carriers", carriers, maxMatched)
	}
	return nil
}

func carrierOf(f bands.Frequency) matchCarrier {
	units := int32(min(f/widthUnit, 1<<30))
	if f%widthUnit != 0 || units <= 0 {
		return matchCarrier{units: max(units, 0)}
	}
	return matchCarrier{widthBit(units), units}
}

func widthsError(what string, got, want int) error {
	return &bands.ValueError{Param: "widths", Got: strconv.Itoa(got) + " " + what, Allowed: strconv.Itoa(want)}
}

// fitsSet tells whether any alternative of a set admits the carriers.
func (m *matcher) fitsSet(e *entry, bcs uint8) bool {
	rows := e.setRows()
	for i := range rows {
		if rows[i].bcs == bcs && m.fitsRow(e, &rows[i]) {
			return true
		}
	}
	return false
}

func (m *matcher) fitsRow(e *entry, r *setRow) bool {
	switch r.form {
	case rowOfBlocks:
		return len(m.components) == 1 && m.fitsBlocks(e, r, m.components[0].blocks)
	case rowOfDual:
		if m.lower != 0 && m.lower != r.lower {
			return false
		}
	}
	if len(m.components) != len(r.cells) && !m.fallback {
		return false
	}
	for i := range m.components {
		k := &m.components[i]
		x := r.cell(k.band)
		if x == nil || !m.fitsCell(x, k.blocks) {
			return false
		}
	}
	return r.max == 0 || m.sum() <= r.max
}

// cell returns the cell of a band; nil if the row has none.
func (r *setRow) cell(id bands.ID) *cell {
	for i := range r.cells {
		if r.cells[i].band == id {
			return &r.cells[i]
		}
	}
	return nil
}

// sum adds the downlink widths of all carriers.
func (m *matcher) sum() int32 {
	var sum int32
	for i := range m.components {
		if !supplementary(m.components[i].band) {
			sum += sumOf(m.components[i].blocks)
		}
	}
	return sum
}

func sumOf(blocks []matchBlock) int32 {
	var sum int32
	for i := range blocks {
		for _, c := range blocks[i].carriers {
			sum += c.units
		}
	}
	return sum
}

// fitsCell tells whether a cell admits sub-blocks.
func (m *matcher) fitsCell(x *cell, blocks []matchBlock) bool {
	if x.nested != nil {
		rows := x.nested.setRows()
		for i := range rows {
			if rows[i].bcs == x.bcs && m.fitsBlocks(x.nested, &rows[i], blocks) {
				return true
			}
		}
		return false
	}
	if len(blocks) != 1 {
		return false
	}
	if x.fixed != nil {
		return m.fitsFixed(x.fixed, &blocks[0])
	}
	return len(blocks[0].carriers) == 1 && blocks[0].carriers[0].bit&x.allowed(m.c.band(x.band)) != 0
}

// fitsFixed compares carriers with fixed widths, in their order where it is known.
func (m *matcher) fitsFixed(fixed []int32, b *matchBlock) bool {
	if len(b.carriers) != len(fixed) && (!m.fallback || len(b.carriers) > len(fixed)) {
		return false
	}
	if b.ordered && len(b.carriers) == len(fixed) {
		for i, w := range fixed {
			if b.carriers[i].units != w {
				return false
			}
		}
		return true
	}
	var used uint64
	for _, c := range b.carriers {
		found := false
		for i, w := range fixed {
			if used&(1<<i) == 0 && w == c.units {
				used |= 1 << i
				found = true
				break
			}
		}
		if !found {
			return false
		}
	}
	return true
}

// fitsBlocks tells whether a row of one band admits sub-blocks.
func (m *matcher) fitsBlocks(e *entry, r *setRow, blocks []matchBlock) bool {
	if r.max != 0 && sumOf(blocks) > r.max {
		return false
	}
	if e.contiguous() {
		return len(blocks) == 1 && m.fitsContiguous(e, r, &blocks[0])
	}
	return m.fitsSeparate(r, blocks)
}

// contiguous tells whether an entry of one band is a single sub-block.
func (e *entry) contiguous() bool {
	s := scanName(e.name)
	p, _ := s.next()
	return s.rest == "" && p.classes[0] >= 'A' && strings.IndexByte(p.classes, '-') < 0
}

// fitsContiguous assigns the carriers of a sub-block to the cells of a row: in
// their order for E-UTRA if it is known, else in any.
func (m *matcher) fitsContiguous(e *entry, r *setRow, b *matchBlock) bool {
	n := len(b.carriers)
	if n > len(r.cells) || n < len(r.cells) && !m.fallback {
		return false
	}
	id := m.c.band(r.cells[0].band)
	var takes [maxCells]uint64 // for every carrier the cells that admit it
	for i, c := range b.carriers {
		for k := range r.cells {
			if c.bit&r.cells[k].allowed(id) != 0 {
				takes[i] |= 1 << k
			}
		}
	}
	if n == len(r.cells) {
		if b.ordered && id.RAT == bands.LTE {
			for i := range b.carriers {
				if takes[i]&(1<<i) == 0 {
					return false
				}
			}
			return true
		}
		if class := m.c.rowClass(e, r); class != nil {
			var sum int32
			for _, c := range b.carriers {
				sum += c.units
				if class.Widest != 0 && bands.Frequency(c.units)*widthUnit > class.Widest {
					return false
				}
			}
			if !classHolds(class, sum) {
				return false
			}
		}
	}
	return assignable(takes[:n])
}

// setNumbers returns the numbers of the sets of an entry in rising order.
func (e *entry) setNumbers() []int {
	var list []int
	rows := e.setRows()
	for i := range rows {
		if n := int(rows[i].bcs); !slices.Contains(list, n) {
			list = append(list, n)
		}
	}
	slices.Sort(list)
	return list
}
