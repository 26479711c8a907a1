package ca

import (
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"spectally/bands"
	"spectally/data"
)

// entry is a configuration of a list. Its texts are parts of the embedded file.
type entry struct {
	name     string // canonical
	lines    string // its lines in the file
	table    *data.ListTable
	kind     Kind
	carriers uint8 // downlink carriers
	next     int32 // another entry of the same name; 0 is none
	sets     atomic.Pointer[setTable]
	widest   atomic.Int32 // see Configuration.MaxDL; 0 until it is known
}

// list is the index over the files of one family of configurations.
type list struct {
	entries []entry // the first is empty, so that 0 can stand for none
	byName  map[string]int32
	printed map[string]string // what a table prints where that is not canonical
	// bySize holds all entries by rank: those with fewer carriers first, else as
	// they stand. byBand holds, for every band, the ranks of the entries that have
	// it, in rising order.
	bySize []int32
	byBand [2 * bandSlots][]int32
}

const bandSlots = maxBand + 1

func bandSlot(id bands.ID) int { return int(id.RAT-bands.LTE)*bandSlots + int(id.Number) }

func lazyList(kind Kind, files ...string) func() *list {
	return sync.OnceValue(func() *list { return loadList(kind, files) })
}

var (
	lteList       = lazyList(KindLTECA, "ca_lte")
	nrList        = lazyList(KindNRCA, "ca_nr_intra", "ca_nr_inter", "ca_nr_mixed")
	endcList      = lazyList(KindENDC, "ca_endc")
	endcIntraList = lazyList(KindENDC, "ca_endc_intra")
	nrdcList      = lazyList(KindNRDC, "ca_nrdc")
	sulList       = lazyList(KindSUL, "ca_sul")
)

// listOf returns the list that has the configurations of a kind; nil if the
// kind is one carrier alone.
func listOf(k Kind) *list {
	switch k {
	case KindLTECA:
		return lteList()
	case KindNRCA:
		return nrList()
	case KindENDC, KindNEDC:
		return endcList()
	case KindNRDC:
		return nrdcList()
	case KindSUL:
		return sulList()
	}
	return nil
}

// loadList builds the index. Names are taken as they stand, with no more than
// their parts scanned; the few that are not canonical are parsed.
func loadList(kind Kind, files []string) *list {
	var tables []data.ListTable
	for _, f := range files {
		tables = append(tables, data.LazyList(f)()...)
	}
	size := 1
	for i := range tables {
		size += strings.Count(tables[i].Text, "\n") - strings.Count(tables[i].Text, "\n ")
	}
	l := &list{
		entries: make([]entry, size),
		byName:  make(map[string]int32, size),
		printed: map[string]string{},
	}
	x := bandIndex{ends: make([]int32, 1, size), slots: make([]uint16, 0, 4*size)}
	n := int32(1)
	for i := range tables {
		for name, lines := range tables[i].Entries() {
			e := &l.entries[n]
			e.name, e.lines, e.table, e.kind = l.canonical(kind, name), lines, &tables[i], kind
			if kind == KindENDC {
				e.kind = dualKind(name)
			}
			e.carriers = x.add(e.name)
			if first, ok := l.byName[e.name]; ok {
				l.append(first, n)
			} else {
				l.byName[e.name] = n
			}
			n++
		}
	}
	l.bySize = x.bySize(l.entries)
	l.byBand = x.byBand(l.bySize)
	return l
}

// ranked returns the entry of a rank.
func (l *list) ranked(rank int32) *entry { return &l.entries[l.bySize[rank]] }

// withBands yields the ranks of the entries that have all the bands, of which
// there is at least one, in rising order.
func (l *list) withBands(slots []int, yield func(rank int32) bool) {
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
		if !yield(rank) {
			return
		}
	}
}

// append hangs entry n behind the others of its name.
func (l *list) append(first, n int32) {
	for l.entries[first].next != 0 {
		first = l.entries[first].next
	}
	l.entries[first].next = n
}

// canonical returns the canonical form of a printed name. Only the tables of
// NE-DC have names that are not in order.
func (l *list) canonical(kind Kind, name string) string {
	if kind != KindENDC || inOrderNR(name) {
		return name
	}
	n, err := ParseName(name)
	if err != nil {
		panic("ca: embedded list: " + err.Error()) // all names are read by the tests
	}
	l.printed[n.text] = name
	return n.text
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

// bySize sorts entries by the number of their carriers, by counting.
func (x *bandIndex) bySize(entries []entry) []int32 {
	var place [257]int32
	for i := 1; i < len(entries); i++ {
		place[entries[i].carriers+1]++
	}
	for i := 1; i < len(place); i++ {
		place[i] += place[i-1]
	}
	order := make([]int32, len(entries)-1)
	for i := 1; i < len(entries); i++ {
		c := entries[i].carriers
		order[place[c]] = int32(i)
		place[c]++
	}
	return order
}

// byBand lists the ranks of the entries of every band.
func (x *bandIndex) byBand(order []int32) [2 * bandSlots][]int32 {
	var count [2 * bandSlots]int32
	for _, s := range x.slots {
		count[s]++
	}
	all := make([]int32, 0, len(x.slots))
	var lists [2 * bandSlots][]int32
	for s, n := range count {
		if n > 0 {
			lists[s] = all[len(all) : len(all) : len(all)+int(n)]
			all = all[:len(all)+int(n)]
		}
	}
	for rank, n := range order {
		for _, s := range x.slots[x.ends[n-1]:x.ends[n]] {
			lists[s] = append(lists[s], int32(rank))
		}
	}
	return lists
}
