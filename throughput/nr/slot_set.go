package nr

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/throughput/internal/words"
)

// SlotSet is a set of slot numbers. The zero SlotSet is empty. Sets are
// values: no method changes one.
type SlotSet struct{ ranges []slotRange } // in rising order, neither touching nor overlapping

type slotRange struct{ first, last int }

// maxSlotNumber is the last slot of the 1024 frames that are numbered at
// 960 kHz.
const maxSlotNumber = 1024*640 - 1

// Slots is the set of the slots first to last; empty if last is below first.
func Slots(first, last int) SlotSet {
	if last < first {
		return SlotSet{}
	}
	return SlotSet{[]slotRange{{first, last}}}
}

// ParseSlotSet reads slot numbers and ranges with blanks between them, in any
// order: "0 3-4 8-9". An empty text is the empty set.
func ParseSlotSet(s string) (SlotSet, error) {
	var list []slotRange
	for field := range strings.FieldsSeq(s) {
		from, to, isRange := strings.Cut(field, "-")
		if !isRange {
			to = from
		}
		first, ok1 := words.Digits(from)
		last, ok2 := words.Digits(to)
		if !ok1 || !ok2 || last < first || last > maxSlotNumber {
			return SlotSet{}, &bands.ValueError{Param: "slots", Got: field,
				Allowed: "numbers and ranges such as 0 3-4, up to " + strconv.Itoa(maxSlotNumber)}
		}
		list = append(list, slotRange{int(first), int(last)})
	}
	return joinSlots(list), nil
}

// joinSlots sorts ranges and joins those that touch or overlap; it keeps list.
func joinSlots(list []slotRange) SlotSet {
	slices.SortFunc(list, func(a, b slotRange) int { return a.first - b.first })
	joined := list[:0]
	for _, r := range list {
		if n := len(joined); n > 0 && r.first <= joined[n-1].last+1 {
			joined[n-1].last = max(joined[n-1].last, r.last)
		} else {
			joined = append(joined, r)
		}
	}
	return SlotSet{joined}
}

// Union is the set of the slots that are in s or t.
func (s SlotSet) Union(t SlotSet) SlotSet {
	return joinSlots(slices.Concat(s.ranges, t.ranges))
}

// Contains tells whether a slot is in the set.
func (s SlotSet) Contains(slot int) bool {
	for _, r := range s.ranges {
		if slot <= r.last {
			return slot >= r.first
		}
	}
	return false
}

// Len is the number of slots in the set.
func (s SlotSet) Len() int {
	n := 0
	for _, r := range s.ranges {
		n += r.last - r.first + 1
	}
	return n
}

// Equal tells whether s and t hold the same slots.
func (s SlotSet) Equal(t SlotSet) bool { return slices.Equal(s.ranges, t.ranges) }

// String writes the set as [ParseSlotSet] reads it.
func (s SlotSet) String() string {
	var b []byte
	for i, r := range s.ranges {
		if i > 0 {
			b = append(b, ' ')
		}
		b = strconv.AppendInt(b, int64(r.first), 10)
		if r.last > r.first {
			b = strconv.AppendInt(append(b, '-'), int64(r.last), 10)
		}
	}
	return string(b)
}

// slotCursor walks through a set for slots that are asked in rising order.
type slotCursor struct{ ranges []slotRange }

// at tells whether a slot is in the set, and the first slot after it for which the
// answer may be another.
func (c *slotCursor) at(slot int) (in bool, end int) {
	for len(c.ranges) > 0 && c.ranges[0].last < slot {
		c.ranges = c.ranges[1:]
	}
	switch {
	case len(c.ranges) == 0:
		return false, maxSlotNumber + 1
	case c.ranges[0].first > slot:
		return false, c.ranges[0].first
	}
	return true, c.ranges[0].last + 1
}
