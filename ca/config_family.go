package ca

import (
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"

	"spectally/data"
)

// family is the configurations of one kind, or of EN-DC and NE-DC, whose lists are read
// as far as they are asked for. A question about some carriers needs those alone that
// have their bands, which one pass over the text finds in a tenth of the time that the
// index of all takes; whoever asks for more and more bands gets that.
type family struct {
	kind  Kind
	files []listFile

	whole atomic.Pointer[list]
	mu    sync.Mutex
	parts []familyPart
	// known holds the entries of the parts by their place in the files: a configuration
	// is the same however it was found.
	known map[int]*entry
}

// familyPart is the list of all configurations that have certain bands.
type familyPart struct {
	bandFilter
	list *list
}

// mostParts is how many times a family is read in part before it is read whole.
const mostParts = 8

// listFile is a file of configurations, and the fewest and most bands that these have: a
// question about more or fewer leaves the file aside.
type listFile struct {
	name         string
	fewest, most int
}

var (
	lteFamily = &family{kind: KindLTECA, files: []listFile{{"ca_lte", 1, 6}}}
	nrFamily  = &family{kind: KindNRCA, files: []listFile{{"ca_nr_intra", 1, 1},
		{"ca_nr_inter_2", 2, 2}, {"ca_nr_inter_3", 3, 3}, {"ca_nr_inter_4", 4, 6},
		{"ca_nr_mixed_2", 2, 2}, {"ca_nr_mixed_3", 3, 3}, {"ca_nr_mixed_4", 4, 5}}}
	endcFamily = &family{kind: KindENDC, files: []listFile{
		{"ca_endc_2", 2, 2}, {"ca_endc_3", 3, 3}, {"ca_endc_4", 4, 4}, {"ca_endc_5", 5, 6}}}
	endcIntraFamily = &family{kind: KindENDC, files: []listFile{{"ca_endc_intra", 2, 2}}}
	nrdcFamily      = &family{kind: KindNRDC, files: []listFile{{"ca_nrdc_2", 2, 2}, {"ca_nrdc_3", 3, 5}}}
	sulFamily       = &family{kind: KindSUL, files: []listFile{{"ca_sul", 2, 4}}}
)

// familyOf returns the family of a kind; nil if the kind is one carrier alone.
func familyOf(k Kind) *family {
	switch k {
	case KindLTECA:
		return lteFamily
	case KindNRCA:
		return nrFamily
	case KindENDC, KindNEDC:
		return endcFamily
	case KindNRDC:
		return nrdcFamily
	case KindSUL:
		return sulFamily
	}
	return nil
}

// all returns the list of the whole family.
func (f *family) all() *list { return f.with(bandFilter{}) }

// find returns the first entry of a canonical name; nil if there is none.
func (f *family) find(name string) *entry {
	if l := f.whole.Load(); l != nil {
		return l.byName[name]
	}
	return f.named(strings.Clone(name)).byName[name] // names are mostly made for this: here they stay where they are
}

// named returns a list that has all configurations of a canonical name.
func (f *family) named(name string) *list {
	slots := make([]int, 0, 8)
	for s := scanName(name); ; {
		p, ok := s.next()
		if !ok {
			return f.with(bandFilter{slots, true})
		}
		if slot := bandSlot(p.band); !slices.Contains(slots, slot) {
			slots = append(slots, slot)
		}
	}
}

// with returns a list that has all configurations that pass a filter, and maybe others.
func (f *family) with(filter bandFilter) *list {
	if l := f.whole.Load(); l != nil {
		return l
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	if l := f.whole.Load(); l != nil {
		return l
	}
	for _, p := range f.parts {
		if p.passes(filter) {
			return p.list
		}
	}
	if len(filter.slots) == 0 || len(f.parts) == mostParts {
		l := f.load(bandFilter{})
		f.whole.Store(l)
		f.parts, f.known = nil, nil
		return l
	}
	l := f.load(filter)
	f.parts = append(f.parts, familyPart{filter, l})
	return l
}

// bandFilter passes configurations that have all of some bands, each given once, and only
// those if it says so; all configurations if there are no bands.
type bandFilter struct {
	slots []int
	only  bool
}

// leavesOut tells whether nothing in a file passes, by the number of the bands.
func (f *bandFilter) leavesOut(file listFile) bool {
	return len(f.slots) > file.most || f.only && len(f.slots) < file.fewest
}

// passes tells whether whatever passes another filter passes this one.
func (f *bandFilter) passes(other bandFilter) bool {
	has := func(list []int) func(int) bool { return func(slot int) bool { return slices.Contains(list, slot) } }
	return every(f.slots, has(other.slots)) && (!f.only || other.only && every(other.slots, has(f.slots)))
}

func every(slots []int, ok func(int) bool) bool {
	return !slices.ContainsFunc(slots, func(slot int) bool { return !ok(slot) })
}

// load reads the configurations that pass a filter. Names are taken as they stand, with
// no more than their parts scanned; the few that are not canonical are parsed.
func (f *family) load(filter bandFilter) *list {
	numbers := filter.numbers()
	whole, size, chunk := len(numbers) == 0, 0, 16 // so many entries are made at once
	if whole {
		for _, file := range f.files {
			data.VisitList(file.name, func(*data.ListTable, string, string) { size++ })
		}
		chunk = size - len(f.known)
	} else if f.known == nil {
		f.known = map[int]*entry{}
	}
	l := &list{byName: make(map[string]*entry, size), entries: make([]*entry, 0, size)}
	x := bandIndex{ends: make([]int32, 1, size+1), slots: make([]uint16, 0, 4*size)}
	var fresh []entry
	var place int
	visit := func(table *data.ListTable, name, lines string) {
		place++
		for _, n := range numbers {
			if !strings.Contains(name, n) {
				return
			}
		}
		if !whole && !filter.admits(name) {
			return
		}
		e := f.known[place]
		if e == nil {
			if len(fresh) == 0 {
				fresh = make([]entry, chunk)
			}
			e, fresh = &fresh[0], fresh[1:]
			e.name, e.printed, e.lines, e.table, e.kind = canonical(f.kind, name), name, lines, table, f.kind
			if f.kind == KindENDC {
				e.kind = dualKind(name)
			}
		}
		if first := l.byName[e.name]; first == nil {
			l.byName[e.name] = e
		} else {
			first.append(e)
		}
		l.entries = append(l.entries, e)
		if carriers := x.add(e.name); e.carriers == 0 {
			e.carriers = carriers // as long as nobody else has it
		}
		if !whole {
			f.known[place] = e
		}
	}
	for i, file := range f.files {
		if place = i << 20; !filter.leavesOut(file) {
			data.VisitList(file.name, visit)
		}
	}
	order := bySize(l.entries)
	l.bySize = make([]*entry, len(order))
	for rank, n := range order {
		l.bySize[rank] = l.entries[n]
	}
	if whole {
		l.byBand = x.byBand(order)
	}
	return l
}

// numbers are what a name that passes has to contain, those first that fewer contain.
func (f *bandFilter) numbers() []string {
	list := make([]string, len(f.slots))
	for i, slot := range f.slots {
		list[i] = strconv.Itoa(slot % bandSlots)
	}
	slices.SortFunc(list, func(a, b string) int { return len(b) - len(a) })
	return list
}

// admits tells whether a name passes.
func (f *bandFilter) admits(name string) bool {
	if f.only {
		for s := scanName(name); ; {
			p, ok := s.next()
			if !ok {
				break
			}
			if !slices.Contains(f.slots, bandSlot(p.band)) {
				return false
			}
		}
	}
	return every(f.slots, func(slot int) bool { return hasBand(name, slot) })
}

// append hangs an entry behind the others of its name, if it does not hang there.
func (e *entry) append(other *entry) {
	for e != other {
		if e.next == nil {
			e.next = other
		}
		e = e.next
	}
}

// canonical returns the canonical form of a printed name. Only the tables of
// NE-DC have names that are not in order.
func canonical(kind Kind, name string) string {
	if kind != KindENDC || inOrderNR(name) {
		return name
	}
	n, err := ParseName(name)
	if err != nil {
		panic("ca: embedded list: " + err.Error()) // all names are read by the tests
	}
	return n.text
}
