package nr

import (
	"spectally/bands"
	"spectally/throughput/internal/precoding"
)

// slotCounter sorts the slots of a period into kinds, run by run: a TDD pattern
// repeats so often in 20 ms at the wider spacings that slot by slot takes long.
type slotCounter struct {
	schedule    *Schedule
	result      *Scheduled
	slots       int // of the period
	out, shared slotCursor
	sounding    int    // slots that still get SRS
	kindAt      []int8 // the kind of each slot, from 1; nil where it is not wanted
}

// count sorts the slots of the period into kinds.
func (s *Schedule) count(r *Scheduled, slots int, kindAt []int8) {
	c := slotCounter{s, r, slots, slotCursor{s.LeftOut.ranges}, slotCursor{s.Shared.ranges}, s.SoundingSlots, kindAt}
	if s.Pattern.IsZero() {
		c.add(0, slots, slotSymbols, false)
		return
	}
	for start := 0; start < slots; {
		for i := range s.Pattern.parts {
			part := &s.Pattern.parts[i]
			special := start + int(part.dl)
			up := special + int(part.special)
			if s.Direction == bands.Downlink {
				c.add(start, int(part.dl), slotSymbols, false)
				c.add(special, min(1, int(part.special)), int(part.dlSymbols), true)
			} else {
				c.add(up-1, min(1, int(part.special)), int(part.ulSymbols), true)
				c.add(up, int(part.ul), slotSymbols, false)
			}
			start = up + int(part.ul)
		}
	}
}

// add counts n slots from first that have a number of symbols of the direction.
func (c *slotCounter) add(first, n, symbols int, special bool) {
	if symbols == 0 || special && c.schedule.FullSlotsOnly {
		return
	}
	for end := min(first+n, c.slots); first < end; {
		isOut, outEnd := c.out.at(first)
		isShared, sharedEnd := c.shared.at(first)
		next := min(end, outEnd, sharedEnd)
		if !isOut {
			c.addAlike(first, next-first, symbols, special, isShared)
		}
		first = next
	}
}

// addAlike counts n slots from first, shared or not.
func (c *slotCounter) addAlike(first, n, symbols int, special, shared bool) {
	s := c.schedule
	blocks := s.ResourceBlocks
	if shared {
		blocks -= s.SharedBlocks
	}
	if s.Direction == bands.Downlink {
		c.put(first, n, symbols-s.ControlSymbols, blocks, special)
		return
	}
	blocks -= s.ControlBlocks
	if !special {
		sounded := min(n, c.sounding)
		c.put(first, sounded, symbols-s.SoundingSymbols, blocks, false)
		c.sounding -= sounded
		first, n = first+sounded, n-sounded
	}
	c.put(first, n, symbols, blocks, special)
}

// put finds or adds the kind of slot and counts n of it from first.
func (c *slotCounter) put(first, n, symbols, blocks int, special bool) {
	if c.schedule.precoded() {
		blocks = precoding.Blocks(blocks)
	}
	if n == 0 || symbols < c.schedule.leastSymbols(special) || blocks <= 0 {
		return
	}
	r := c.result
	at := 0
	for at < r.n && (r.kinds[at].Symbols != symbols || r.kinds[at].PRB != blocks || r.kinds[at].Special != special) {
		at++
	}
	k := &r.kinds[at]
	if at == r.n {
		k.Symbols, k.PRB, k.Special = symbols, blocks, special
		r.n++
	}
	k.Slots += n
	if c.kindAt != nil {
		for i := range n {
			c.kindAt[first+i] = int8(at + 1)
		}
	}
}
