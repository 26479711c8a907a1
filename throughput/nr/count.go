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
	sounding    int // slots that still get SRS
}

// count sorts the slots of the period into kinds.
func (s *Schedule) count(r *Scheduled, slots int) {
	c := slotCounter{s, r, slots, slotCursor{s.LeftOut.ranges}, slotCursor{s.Shared.ranges}, s.SoundingSlots}
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
			c.addAlike(next-first, symbols, special, isShared)
		}
		first = next
	}
}

// addAlike counts n slots, shared or not.
func (c *slotCounter) addAlike(n, symbols int, special, shared bool) {
	s := c.schedule
	blocks := s.ResourceBlocks
	if shared {
		blocks -= s.SharedBlocks
	}
	if s.Direction == bands.Downlink {
		c.put(n, symbols-s.ControlSymbols, blocks, special)
		return
	}
	blocks -= s.ControlBlocks
	if !special {
		sounded := min(n, c.sounding)
		c.put(sounded, symbols-s.SoundingSymbols, blocks, false)
		c.sounding -= sounded
		n -= sounded
	}
	c.put(n, symbols, blocks, special)
}

// put finds or adds the kind of slot and counts n of it.
func (c *slotCounter) put(n, symbols, blocks int, special bool) {
	if c.schedule.precoded() {
		blocks = precoding.Blocks(blocks)
	}
	if n == 0 || symbols < c.schedule.leastSymbols(special) || blocks <= 0 {
		return
	}
	r := c.result
	for i := range r.n {
		if k := &r.kinds[i]; k.Symbols == symbols && k.PRB == blocks && k.Special == special {
			k.Slots += n
			return
		}
	}
	k := &r.kinds[r.n]
	k.Symbols, k.PRB, k.Special, k.Slots = symbols, blocks, special, n
	r.n++
}
