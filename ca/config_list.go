package ca

import (
	"slices"
	"strings"
	"sync/atomic"

	"spectally/bands"
	"spectally/data"
)

// entry is a configuration of a list. Its texts are parts of the embedded file.
type entry struct {
	name     string // canonical
	printed  string // as the table prints it
	lines    string // its lines in the file
	table    *data.ListTable
	kind     Kind
	carriers uint8  // downlink carriers
	next     *entry // another of the same name
	sets     atomic.Pointer[setTable]
	widest   atomic.Int32 // see Configuration.MaxDL; 0 until it is known
}

// list is the index over configurations of one family: all of them, or those that have
// certain bands.
type list struct {
	entries []*entry // in the order of the tables
	byName  map[string]*entry
	// bySize holds all entries by rank: those with fewer carriers first, else as
	// they stand. byBand holds, for every band, the ranks of the entries that have
	// it, in rising order; it is nil if only some of the family are here.
	bySize []*entry
	byBand [][]int32
}

const bandSlots = maxBand + 1

func bandSlot(id bands.ID) int { return int(id.RAT-bands.LTE)*bandSlots + int(id.Number) }

// withBands yields the entries that have all the bands, of which there is at least one,
// by rank.
func (l *list) withBands(slots []int, yield func(*entry) bool) {
	if l.byBand == nil {
		for _, e := range l.bySize {
			if every(slots, func(slot int) bool { return hasBand(e.name, slot) }) && !yield(e) {
				return
			}
		}
		return
	}
	lists := make([][]int32, 0, 8)
	for _, s := range slots {
		lists = append(lists, l.byBand[s])
	}
	slices.SortFunc(lists, func(a, b []int32) int { return len(a) - len(b) })
ranks:
	for _, rank := range lists[0] {
		for i := 1; i < len(lists); i++ {
			at, found := slices.BinarySearch(lists[i], rank)
			lists[i] = lists[i][at:]
			if !found {
				continue ranks
			}
		}
		if !yield(l.bySize[rank]) {
			return
		}
	}
}

// hasBand tells whether a name has a band.
func hasBand(name string, slot int) bool {
	for s := scanName(name); ; {
		p, ok := s.next()
		if !ok {
			return false
		}
		if bandSlot(p.band) == slot {
			return true
		}
	}
}

// inOrderNR reports whether the NR bands of a name, joined ones apart, stand in
// rising order.
func inOrderNR(name string) bool {
	last := uint16(0)
	for s := scanName(name); ; {
		p, ok := s.next()
		if !ok {
			return true
		}
		if p.band.RAT != bands.NR || p.joined {
			continue
		}
		if p.band.Number < last {
			return false
		}
		last = p.band.Number
	}
}

// dualKind tells EN-DC from NE-DC by the technology that a name has first.
func dualKind(name string) Kind {
	t := strings.TrimPrefix(name, "DC_")
	if t[0] == 'n' || strings.HasPrefix(strings.TrimLeft(t, "0123456789"), "(n)") && t[0] != '(' {
		return KindNEDC
	}
	return KindENDC
}

// bandIndex gathers the bands of entries in the order of the entries.
type bandIndex struct {
	slots []uint16
	ends  []int32 // where the slots of each entry end
}

// add notes the bands of the next entry and returns its downlink carriers.
func (x *bandIndex) add(name string) uint8 {
	begin, carriers := len(x.slots), 0
	for s := scanName(name); ; {
		p, ok := s.next()
		if !ok {
			break
		}
		if !supplementary(p.band) {
			carriers += p.carriers()
		}
		slot := uint16(bandSlot(p.band))
		known := false
		for _, other := range x.slots[begin:] {
			known = known || other == slot
		}
		if !known {
			x.slots = append(x.slots, slot)
		}
	}
	x.ends = append(x.ends, int32(len(x.slots)))
	return uint8(carriers)
}

// bySize returns the places of entries by the number of their carriers.
func bySize(entries []*entry) []int32 {
	var place [257]int32
	for _, e := range entries {
		place[int(e.carriers)+1]++
	}
	for i := 1; i < len(place); i++ {
		place[i] += place[i-1]
	}
	order := make([]int32, len(entries))
	for i, e := range entries {
		order[place[e.carriers]] = int32(i)
		place[e.carriers]++
	}
	return order
}

// byBand lists the ranks of the entries of every band.
func (x *bandIndex) byBand(order []int32) [][]int32 {
	count := make([]int32, 2*bandSlots)
	for _, s := range x.slots {
		count[s]++
	}
	all := make([]int32, 0, len(x.slots))
	lists := make([][]int32, 2*bandSlots)
	for s, n := range count {
		if n > 0 {
			lists[s] = all[len(all) : len(all) : len(all)+int(n)]
			all = all[:len(all)+int(n)]
		}
	}
	for rank, n := range order {
		for _, s := range x.slots[x.ends[n]:x.ends[n+1]] {
			lists[s] = append(lists[s], int32(rank))
		}
	}
	return lists
}
