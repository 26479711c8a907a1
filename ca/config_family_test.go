package ca

import (
	"math/rand/v2"
	"slices"
	"testing"

	"spectally/bands"
	"spectally/data"
)

// listedEntry is what a list has of a configuration.
type listedEntry struct {
	name, printed, lines string
	kind                 Kind
	carriers             uint8
	others               int // of the same name behind it
}

func contents(l *list, wanted func(*entry) bool) (found []listedEntry) {
	for _, e := range l.bySize {
		if !wanted(e) {
			continue
		}
		x := listedEntry{e.name, e.printed, e.lines, e.kind, e.carriers, 0}
		for other := e.next; other != nil; other = other.next {
			x.others++
		}
		found = append(found, x)
	}
	return found
}

// What is read of a family for some bands is what the whole of it has of them, in the
// same order, by whatever way it is asked for; and reading the whole afterwards leaves
// configurations what they were.
func TestFamilyInPart(t *testing.T) {
	random := rand.New(rand.NewPCG(11, 15))
	whole := families()
	found := 0
	for _, f := range whole {
		f.all()
	}
	for range 60 {
		for i, f := range families() {
			all := whole[i].all()
			name := all.entries[random.IntN(len(all.entries))].name
			var slots []int
			for s := scanName(name); ; {
				p, ok := s.next()
				if !ok {
					break
				}
				if slot := bandSlot(p.band); !slices.Contains(slots, slot) {
					slots = append(slots, slot)
				}
			}
			filters := []bandFilter{{slots, true}, {slots, false}, {slots[:1], false}}
			for _, filter := range filters {
				admitted := func(e *entry) bool { return filter.admits(e.name) }
				got, want := contents(f.with(filter), admitted), contents(all, admitted)
				if !slices.Equal(got, want) || len(got) == 0 {
					t.Fatalf("%s, filter %v: %d in part, %d of the whole, or others", name, filter, len(got), len(want))
				}
				found += len(got)
			}
			if f.whole.Load() != nil {
				t.Fatalf("%s: the whole is read", name)
			}
			part := f.find(name)
			if again := f.all().byName[name]; part != again {
				t.Fatalf("%s is another configuration once the whole is read", name)
			}
			if !slices.Equal(contents(f.all(), func(*entry) bool { return true }), contents(all, func(*entry) bool { return true })) {
				t.Fatalf("%s: the whole is another when parts were read before", name)
			}
		}
	}
	if found < 10_000 {
		t.Errorf("only %d configurations compared", found)
	}
}

// Every file has configurations of the fewest and of the most bands that it is said to
// have, and of no more or fewer.
func TestFilesByBands(t *testing.T) {
	for _, f := range families() {
		for _, file := range f.files {
			fewest, most := 100, 0
			data.VisitList(file.name, func(_ *data.ListTable, name, _ string) {
				var has []bands.ID
				for s := scanName(name); ; {
					p, ok := s.next()
					if !ok {
						break
					}
					if !slices.Contains(has, p.band) {
						has = append(has, p.band)
					}
				}
				fewest, most = min(fewest, len(has)), max(most, len(has))
			})
			if fewest != file.fewest || most != file.most {
				t.Errorf("%s: %d to %d bands, want %d to %d", file.name, fewest, most, file.fewest, file.most)
			}
		}
	}
}

// A family that is asked for many bands is read whole, and a part that has what is asked
// for is not read again.
func TestFamilyGrows(t *testing.T) {
	slot := func(n uint16) int { return bandSlot(bands.ID{RAT: bands.LTE, Number: n}) }
	f := &family{kind: KindLTECA, files: lteFamily.files}
	b3 := f.with(bandFilter{slots: []int{slot(3)}})
	if got := f.with(bandFilter{slots: []int{slot(7), slot(3)}}); got != b3 {
		t.Error("the part of band 3 is not asked for bands 3 and 7")
	}
	if got := f.named("CA_3A-7A"); got != b3 {
		t.Error("the part of band 3 is not asked for CA_3A-7A")
	}
	for n := range uint16(mostParts + 1) {
		f.named("CA_" + bands.ID{RAT: bands.LTE, Number: 20 + n}.String()[1:] + "A-28A")
	}
	if f.whole.Load() == nil {
		t.Error("the whole is not read")
	}
}
