package nr

import (
	"slices"

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
	taken       []slotCursor
	sounding    int    // slots that still get SRS
	kindAt      []int8 // the kind of each slot, from 1; nil where it is not wanted
}

// count sorts the slots of the period into kinds.
func (s *Schedule) count(r *Scheduled, slots int, kindAt []int8) {
	c := slotCounter{schedule: s, result: r, slots: slots, out: slotCursor{s.LeftOut.ranges}, shared: slotCursor{s.Shared.ranges}, sounding: s.SoundingSlots, kindAt: kindAt}
	for i := range s.Taken {
		c.taken = append(c.taken, slotCursor{s.Taken[i].Slots.ranges})
	}
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
		next, taken := min(end, outEnd, sharedEnd), 0
		for i := range c.taken {
			isTaken, takenEnd := c.taken[i].at(first)
			if next = min(next, takenEnd); isTaken {
				taken += c.schedule.Taken[i].Elements
			}
		}
		if !isOut {
			c.addAlike(first, next-first, SlotKind{Special: special, Symbols: symbols, Taken: taken}, isShared)
		}
		first = next
	}
}

// addAlike counts n slots from first of a kind that has the symbols of the direction, shared
// or not.
func (c *slotCounter) addAlike(first, n int, k SlotKind, shared bool) {
	s := c.schedule
	k.PRB = s.ResourceBlocks
	if shared {
		k.PRB -= s.SharedBlocks
	}
	if s.Direction == bands.Downlink {
		k.Symbols -= s.ControlSymbols
		c.put(first, n, k)
		return
	}
	k.PRB -= s.ControlBlocks
	if !k.Special {
		sounded := min(n, c.sounding)
		with := k
		with.Symbols -= s.SoundingSymbols
		c.put(first, sounded, with)
		c.sounding -= sounded
		first, n = first+sounded, n-sounded
	}
	c.put(first, n, k)
}

// put finds or adds the kind of slot and counts n of it from first.
func (c *slotCounter) put(first, n int, k SlotKind) {
	if c.schedule.precoded() {
		k.PRB = precoding.Blocks(k.PRB)
	}
	if n == 0 || k.Symbols < c.schedule.leastSymbols(k.Special) || k.PRB <= 0 {
		return
	}
	r := c.result
	at := slices.IndexFunc(r.kinds, func(x SlotKind) bool {
		return x.Symbols == k.Symbols && x.PRB == k.PRB && x.Special == k.Special && x.Taken == k.Taken
	})
	if at < 0 {
		at = len(r.kinds)
		r.kinds = append(r.kinds, k)
	}
	r.kinds[at].Slots += n
	if c.kindAt != nil {
		for i := range n {
			c.kindAt[first+i] = int8(at + 1)
		}
	}
}
