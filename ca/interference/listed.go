package interference

import (
	"slices"
	"strings"
	"sync"

	"spectally/bands"
	"spectally/data"
)

var (
	intermodulationTables = data.Lazy("msd_intermodulation")
	harmonicTables        = data.Lazy("msd_harmonic")

	intermodulationIndex = sync.OnceValue(func() *index {
		return newIndex(intermodulationTables(), "order", "", "uplink1", "uplink2", "downlink")
	})
	harmonicIndex = sync.OnceValue(func() *index {
		return newIndex(harmonicTables(), "uplink-order", "downlink-order", "uplink", "", "downlink")
	})
)

// subject is what rows are found by. The uplinks stand in order; the second is none for a
// harmonic, and in rows that print one of several.
type subject struct {
	uplink1, uplink2, downlink bands.ID
	order, receiver            string
}

func subjectOf(uplink1, uplink2, downlink bands.ID, order, receiver string) subject {
	if uplink1.Compare(uplink2) > 0 && uplink2 != (bands.ID{}) {
		uplink1, uplink2 = uplink2, uplink1
	}
	return subject{uplink1, uplink2, downlink, order, receiver}
}

// place is a row of a table.
type place struct{ table, row int }

// index finds the rows of tables. Their fields are read when they are asked for.
type index struct {
	tables []*data.Table
	rows   map[subject][]place
}

func newIndex(tables []*data.Table, order, receiver, uplink1, uplink2, downlink string) *index {
	x := &index{tables: tables, rows: make(map[subject][]place)}
	for i, t := range tables {
		r := newReader(t)
		for j := range t.Rows {
			r.row = t.Rows[j]
			s := subjectOf(r.band(uplink1), r.band(uplink2), r.band(downlink), r.text(order), r.text(receiver))
			x.rows[s] = append(x.rows[s], place{i, j})
		}
	}
	return x
}

// entries reads the rows about a subject.
func (x *index) entries(s subject) []Entry {
	var list []Entry
	for _, at := range x.rows[s] {
		list = append(list, entryOf(x.tables[at.table], at.row))
	}
	return list
}

// entryOf reads a row of a table of either family.
func entryOf(t *data.Table, row int) Entry {
	r := newReader(t)
	r.row = t.Rows[row]
	e := Entry{Source: t.Source, PowerClass: PowerClass(r.text("class")), Downlink: r.downlink(), Note: r.text("note"), Near: r.text("hit") == "near"}
	e.MSD, e.HasMSD = r.decibels("msd")
	e.MSD2Tx, e.Has2Tx = r.decibels("msd-2tx")
	if order := r.number("uplink-order"); order > 0 {
		e.Order, e.ReceiverOrder = order, r.number("downlink-order")
		u := r.uplink("uplink", "")
		u.Centre, u.Width = 0, r.mhz("uplink-width")
		e.Uplinks = []Allocation{u}
		return e
	}
	e.Configurations = r.text("configurations")
	e.Order = r.number("order")
	e.Coefficients = [2]int{r.number("coefficient1"), r.number("coefficient2")}
	e.Uplinks = []Allocation{r.uplink("uplink1", "1")}
	if second := r.uplink("uplink2", "2"); second.Band != (bands.ID{}) {
		e.Uplinks = append(e.Uplinks, second)
	}
	return e
}

// Harmonics lists every row of the tables of harmonics and harmonic mixing: TS 38.101-1
// clauses 7.3A.4 and 7.3C.2, TS 38.101-3 clauses 7.3B.2.3.1, 7.3B.2.3.2 and 7.3B.2.3a.2.
func Harmonics() []Entry { return allEntries(harmonicTables()) }

// Intermodulations lists every row of the tables of intermodulation: TS 38.101-1 clause
// 7.3A.5, TS 38.101-3 clause 7.3B.2.3.5. A row that is printed for several configurations
// stands once for each way in which its bands are theirs.
func Intermodulations() []Entry { return allEntries(intermodulationTables()) }

func allEntries(tables []*data.Table) []Entry {
	var list []Entry
	for _, t := range tables {
		for row := range t.Rows {
			list = append(list, entryOf(t, row))
		}
	}
	return list
}

// Listed returns the rows of the standard's tables that are about a product which hits or
// comes near a downlink, for a UE of a power class: those that are printed for the class,
// else, for classes 2 and 1.5, those of class 3 with what Release 19 adds to them. Rows for
// the width of the downlink stand first. An exception holds for every configuration that
// contains the one for which it is printed (TS 38.101-1 clause 7.3A.1, TS 38.101-3 clause
// 7.3B.2.3), so that the bands of the carriers decide.
//
// No rows means that the standard lists nothing, and so allows no loss of sensitivity; of
// combinations of LTE alone, whose tables (TS 36.101) are not here, it says nothing.
func Listed(carriers []Carrier, p *Product, class PowerClass) []Entry {
	var list []Entry
	for _, e := range about(carriers, p) {
		if e.PowerClass == class {
			list = append(list, e)
		}
	}
	if len(list) == 0 && (class == Class2 || class == Class15) {
		for _, e := range about(carriers, p) {
			if e.PowerClass == Class3 {
				if raised, ok := e.raise(class); ok {
					list = append(list, raised)
				}
			}
		}
	}
	width := carriers[p.Victim].Downlink.Width
	slices.SortStableFunc(list, func(a, b Entry) int {
		switch {
		case (a.Downlink.Width == width) == (b.Downlink.Width == width):
			return 0
		case a.Downlink.Width == width:
			return -1
		}
		return 1
	})
	return list
}

// about lists the rows about a product, of all power classes.
func about(carriers []Carrier, p *Product) []Entry {
	if p.Hit == None {
		return nil
	}
	sources := p.Sources()
	band := func(i int) bands.ID { return carriers[sources[i].Carrier].Band }
	downlink := carriers[p.Victim].Band
	if p.Kind != Intermodulation {
		list := harmonicIndex().entries(subjectOf(band(0), bands.ID{}, downlink, digit(p.Order), digit(p.ReceiverOrder)))
		return slices.DeleteFunc(list, func(e Entry) bool { return e.Near != (p.Hit == Near) })
	}
	if p.Hit != Direct {
		return nil
	}
	order := digit(p.Order)
	var list []Entry
	if p.Uplinks == 2 {
		list = intermodulationIndex().entries(subjectOf(band(0), band(1), downlink, order, ""))
	} else {
		list = entriesOfThree([3]bands.ID{band(0), band(1), band(2)}, downlink, order)
	}
	return slices.DeleteFunc(list, func(e Entry) bool {
		return !e.within(carriers) || e.Confirmed() && (p.Uplinks != 2 || !e.sameProduct(band(0), sources))
	})
}

func digit(n int8) string { return string(rune('0' + n)) }

// entriesOfThree lists the rows that name two of three uplinks, or one.
func entriesOfThree(uplinks [3]bands.ID, downlink bands.ID, order string) []Entry {
	subjects := make(map[subject]bool)
	for i, a := range uplinks {
		subjects[subjectOf(a, bands.ID{}, downlink, order, "")] = true
		for _, b := range uplinks[:i] {
			subjects[subjectOf(a, b, downlink, order, "")] = true
		}
	}
	var list []Entry
	for s := range subjects {
		list = append(list, intermodulationIndex().entries(s)...)
	}
	slices.SortFunc(list, func(a, b Entry) int { return strings.Compare(a.Source.Table, b.Source.Table) })
	return list
}

// sameProduct tells whether the row has the coefficients of the product, whose first
// source is of the band.
func (e *Entry) sameProduct(first bands.ID, sources []Source) bool {
	a, b := int(sources[0].Coefficient), int(sources[1].Coefficient)
	same := func(x, y int) bool { return x == a && y == b || x == -a && y == -b }
	c := e.Coefficients
	return e.Uplinks[0].Band == first && same(c[0], c[1]) || e.Uplinks[1].Band == first && same(c[1], c[0])
}

// within tells whether the carriers have all bands of a configuration of the row.
func (e *Entry) within(carriers []Carrier) bool {
	for name := range strings.SplitSeq(e.Configurations, ",") {
		all := true
		for _, id := range bandsOf(name) {
			all = all && slices.ContainsFunc(carriers, func(c Carrier) bool { return c.Band == id })
		}
		if all {
			return true
		}
	}
	return false
}

// bandsOf lists the bands of a configuration as the tables of exceptions write it:
// "CA_n1-n8", "DC_1-3_n78", with "(n)3" for both technologies and carriers left out or not.
// A band stands once.
func bandsOf(name string) []bands.ID {
	_, rest, _ := strings.Cut(name, "_")
	var list []bands.ID
	add := func(rat bands.RAT, text string) {
		n := 0
		for n < len(text) && '0' <= text[n] && text[n] <= '9' {
			n++
		}
		id := must(bands.ParseID(text[:n]))
		id.RAT = rat
		if !slices.Contains(list, id) {
			list = append(list, id)
		}
	}
	for part := range strings.FieldsFuncSeq(rest, func(r rune) bool { return r == '-' || r == '_' }) {
		if joined, ok := strings.CutPrefix(part, "(n)"); ok {
			add(bands.LTE, joined)
			add(bands.NR, joined)
		} else if nr, ok := strings.CutPrefix(part, "n"); ok {
			add(bands.NR, nr)
		} else if part != "SUL" {
			add(bands.LTE, part)
		}
	}
	return list
}
