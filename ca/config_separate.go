package ca

import (
	"math/bits"
	"strings"
)

// fitsSeparate assigns sub-blocks to the cells of a row, in any order.
func (m *matcher) fitsSeparate(r *setRow, blocks []matchBlock) bool {
	if m.fallback {
		return m.fallsSeparate(r, blocks)
	}
	var takes [maxCells]uint64 // for every sub-block the cells that admit it
	rest := blocks
	if len(r.cells) < len(blocks) { // a cell stands for several sub-blocks
		for k := range r.cells {
			x := &r.cells[k]
			if x.nested == nil || x.nested.contiguous() {
				continue
			}
			p, _ := firstPart(x.nested.name)
			var taken, left []matchBlock
			for _, b := range rest {
				if strings.Contains(p.classes, string(b.class)) {
					taken = append(taken, b)
				} else {
					left = append(left, b)
				}
			}
			if !m.fitsCell(x, taken) {
				return false
			}
			rest = left
		}
	}
	cells := 0
	for k := range r.cells {
		x := &r.cells[k]
		if x.nested != nil && !x.nested.contiguous() {
			continue
		}
		cells++
		for i := range rest {
			if x.class() == rest[i].class && m.fitsCell(x, rest[i:i+1]) {
				takes[i] |= 1 << k
			}
		}
	}
	return cells == len(rest) && assignable(takes[:len(rest)])
}

// class returns the class of the sub-block that a cell stands for, of the first
// if it stands for several.
func (x *cell) class() Class {
	if x.nested == nil {
		return "A"
	}
	p, _ := firstPart(x.nested.name)
	b := p.blocks()
	c, _ := b.next()
	return c
}

// fallsSeparate assigns sub-blocks to some of the cells of a row.
func (m *matcher) fallsSeparate(r *setRow, blocks []matchBlock) bool {
	var takes [maxCells]uint64
	slot := 0
	for k := range r.cells {
		x := &r.cells[k]
		if x.nested == nil || x.nested.contiguous() {
			for i := range blocks {
				if slot < maxCells && lowerClass(x.band, x.class(), blocks[i].class) && m.fitsCell(x, blocks[i:i+1]) {
					takes[i] |= 1 << slot
				}
			}
			slot++
			continue
		}
		// A cell of several sub-blocks: each by itself.
		for _, w := range nestedWidths(x, m.c.band(x.band)) {
			for i := range blocks {
				if slot < maxCells && len(blocks[i].carriers) == 1 && blocks[i].carriers[0].bit&w != 0 {
					takes[i] |= 1 << slot
				}
			}
			slot++
		}
	}
	return assignable(takes[:len(blocks)])
}

// assignable tells whether every member can have a cell of its own, given the
// cells that each may take: a matching by augmenting paths.
func assignable(takes []uint64) bool {
	var free uint64 // what a simple choice leaves over
	var owner [maxCells]int8
	free = ^uint64(0)
	for i, cells := range takes {
		if cells == 0 {
			return false
		}
		if open := cells & free; open != 0 {
			k := bits.TrailingZeros64(open)
			free &^= 1 << k
			owner[k] = int8(i)
			continue
		}
		seen := uint64(0)
		if !augment(takes, i, &free, &seen, &owner) {
			return false
		}
	}
	return true
}

func augment(takes []uint64, i int, free, seen *uint64, owner *[maxCells]int8) bool {
	for {
		open := takes[i] &^ *seen
		if open == 0 {
			return false
		}
		k := bits.TrailingZeros64(open)
		*seen |= 1 << k
		if *free&(1<<k) != 0 {
			*free &^= 1 << k
			owner[k] = int8(i)
			return true
		}
		if augment(takes, int(owner[k]), free, seen, owner) {
			owner[k] = int8(i)
			return true
		}
	}
}
