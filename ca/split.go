package ca

import (
	"encoding/binary"
	"slices"

	"spectally/bands"
)

// layoutBlock is a sub-block with the class that its carriers form.
type layoutBlock struct {
	class  Class
	widths BlockWidths
}

// splits lists the ways in which the carriers of a band can form sub-blocks, those
// with fewer blocks first. whole is false if there are more than can be listed.
func (a *Assessment) splits(g *Group) (list [][]layoutBlock, whole bool) {
	var units []unit // known blocks, then single carriers
	for _, b := range g.Blocks {
		units = append(units, unit{BlockWidths{Carriers: a.widths(b.Carriers), Ordered: true}, b.Carriers})
	}
	ranged := false
	for n, i := range g.Unplaced {
		units = append(units, unit{BlockWidths{Carriers: a.widths(g.Unplaced[n : n+1])}, g.Unplaced[n : n+1]})
		ranged = ranged || !a.Carriers[i].Centres.IsZero()
	}
	s := splitter{band: g.Band, placed: len(g.Blocks)}
	if ranged {
		s.fits = a.fits
	}
	s.split(nil, units)
	slices.SortStableFunc(s.ways, func(x, y []BlockWidths) int { return len(x) - len(y) })
	whole = !s.cut
	for _, way := range s.ways {
		classified, all := a.classify(g.Band, way)
		whole = whole && all
		for _, blocks := range classified {
			if slices.ContainsFunc(list, func(b []layoutBlock) bool { return alike(b, blocks) }) {
				continue
			}
			if len(list) == maxFormed {
				return list, false
			}
			list = append(list, blocks)
		}
	}
	return list, whole
}

// unit is carriers that stand in one sub-block, with their places in the assessment.
type unit struct {
	BlockWidths
	members []int
}

// alike tells whether two ways have the same classes with the same widths.
func alike(a, b []layoutBlock) bool {
	return slices.EqualFunc(a, b, func(x, y layoutBlock) bool {
		return x.class == y.class && slices.Equal(x.widths.Carriers, y.widths.Carriers)
	})
}

// classify gives each block of a way a class that its carriers form, in every way;
// none if a block forms no class. whole is false if there are more than can be listed.
func (a *Assessment) classify(b *bands.Band, way []BlockWidths) (list [][]layoutBlock, whole bool) {
	list, whole = [][]layoutBlock{nil}, true
	for _, w := range way {
		var next [][]layoutBlock
		for _, class := range Classes(b, w.Carriers) {
			for _, head := range list {
				if len(next) == maxFormed {
					whole = false
					break
				}
				next = append(next, append(slices.Clip(head), layoutBlock{class, w}))
			}
		}
		list = next
	}
	for _, blocks := range list {
		slices.SortStableFunc(blocks, func(x, y layoutBlock) int { return x.class.compare(y.class) })
	}
	return list, whole
}

// splitter walks through the ways to put units together in blocks. Ways that differ
// only by which of two alike carriers stands where are one, so that sixteen equal
// carriers are sixteen counts and not sixteen things.
type splitter struct {
	band   *bands.Band
	placed int
	// fits tells whether carriers can lie so that the units are their sub-blocks; nil
	// where every way can be, since nothing is known of where they lie.
	fits  func([]unit) bool
	ways  [][]BlockWidths
	seen  map[string]bool
	steps int
	cut   bool
}

const maxSteps = 5_000

func (s *splitter) split(blocks, rest []unit) {
	if s.steps++; s.steps > maxSteps || len(s.ways) >= maxFormed {
		s.cut = true
		return
	}
	if len(rest) == 0 {
		if s.fits != nil && !s.fits(blocks) || slices.ContainsFunc(blocks, func(b unit) bool { return len(Classes(s.band, b.Carriers)) == 0 }) {
			return
		}
		way := make([]BlockWidths, len(blocks))
		for i := range blocks {
			way[i] = blocks[i].BlockWidths
		}
		s.ways = append(s.ways, way)
		return
	}
	next, tail := rest[0], rest[1:]
	if len(blocks) >= s.placed && len(blocks) > 0 { // an unplaced carrier may join any block
		if s.fits == nil && s.visited(blocks, rest) {
			return
		}
		for i := range blocks {
			if s.fits == nil && slices.ContainsFunc(blocks[:i], func(b unit) bool { return slices.Equal(b.Carriers, blocks[i].Carriers) }) {
				continue // alike
			}
			joined := slices.Clone(blocks)
			joined[i] = unit{
				BlockWidths{Carriers: append(slices.Clip(joined[i].Carriers), next.Carriers...)},
				append(slices.Clip(joined[i].members), next.members...),
			}
			s.split(joined, tail)
		}
	}
	s.split(append(slices.Clip(blocks), next), tail)
}

// visited tells whether blocks of the same widths have been reached with as many
// carriers left, whatever the order, and notes that they have.
func (s *splitter) visited(blocks, rest []unit) bool {
	parts := make([]string, 0, len(blocks))
	for _, b := range blocks {
		w := slices.Clone(b.Carriers)
		slices.Sort(w)
		parts = append(parts, widthKey(w))
	}
	slices.Sort(parts)
	key := make([]byte, 0, 64)
	for _, p := range parts {
		key = append(append(key, p...), '|')
	}
	key = append(key, '/')
	for _, r := range rest {
		key = append(append(key, widthKey(r.Carriers)...), '|')
	}
	if s.seen[string(key)] {
		return true
	}
	if s.seen == nil {
		s.seen = make(map[string]bool)
	}
	s.seen[string(key)] = true
	return false
}

func widthKey(widths []bands.Frequency) string {
	key := make([]byte, 0, 8*len(widths))
	for _, w := range widths {
		key = binary.AppendUvarint(key, uint64(w))
	}
	return string(key)
}
