package interference

import (
	"sync"

	"spectally/bands"
	"spectally/data"
)

// rule is how the MSD of a higher power class follows from that of class 3 (Release 19):
// which column of which look-up holds, and what the cells of the column add.
type rule struct {
	source       string // "harmonic", "intermodulation", "within-band" …
	from, to     int    // orders of intermodulation; zero for all
	class        PowerClass
	transmitters int // zero where the table does not tell
	greatest     bands.DB
	table        bands.Source
	lookup       string
}

// cell is a cell of a look-up: what is added to an MSD of class 3.
type cell struct {
	from, below bands.DB // below is zero in the last row
	greatest    bands.DB
	add         bands.DB
}

// The look-ups of TS 38.101-1; the cells of TS 38.101-3 clause 7.3B.2.3.0 are the same.
const (
	lookupAlone = "7.3A.2.3.1.1-1" // harmonics, mixing, isolation, and within one band
	lookupPairs = "7.3A.2.3.2.1-1" // intermodulation
)

type rules struct {
	columns []rule
	cells   map[string][]cell
}

var classTables = data.Lazy("msd_power_class")

var classRules = sync.OnceValue(func() *rules {
	r := &rules{cells: make(map[string][]cell)}
	for _, id := range []string{lookupAlone, lookupPairs} {
		rows := newReader(data.Find(classTables(), id))
		for _, row := range data.Find(classTables(), id).Rows {
			rows.row = row
			var c cell
			c.from, _ = rows.decibels("from")
			c.below, _ = rows.decibels("below")
			c.greatest, _ = rows.decibels("greatest")
			c.add, _ = rows.decibels("add")
			r.cells[id] = append(r.cells[id], c)
		}
	}
	for id, lookup := range map[string]string{
		"7.3A.2.3.1.1-2": lookupAlone, "7.3A.2.3.1.2-1": lookupAlone, "7.3A.2.3.2.1-2": lookupPairs, "7.3A.2.3.2.2": lookupPairs,
	} {
		t := data.Find(classTables(), id)
		rows := newReader(t)
		for _, row := range t.Rows {
			rows.row = row
			c := rule{
				source: rows.text("source"), from: rows.number("from-order"), to: rows.number("to-order"),
				class: PowerClass(rows.text("class")), transmitters: rows.number("transmitters"), table: t.Source, lookup: lookup,
			}
			c.greatest, _ = rows.decibels("greatest")
			r.columns = append(r.columns, c)
		}
	}
	return r
})

// Raise returns what Release 19 makes of the MSD of class 3 for a higher power class where
// no row is printed for it, and the table that says so. The source is "harmonic", "mixing",
// "isolation", "intermodulation", "within-band" for uplinks within one TDD band, or
// "triple-beat" for two of them with one elsewhere; the order is that of intermodulation.
// Transmitters counts those with which the UE sends on the carrier; it matters to the first
// three. It is false where the rule is silent: below 0.1 dB, and for other classes.
func Raise(source string, order int, class PowerClass, transmitters int, msd bands.DB) (bands.DB, bands.Source, bool) {
	r := classRules()
	for i := range r.columns {
		c := &r.columns[i]
		if c.source != source || c.class != class || c.transmitters != 0 && c.transmitters != transmitters || c.from != 0 && (order < c.from || order > c.to) {
			continue
		}
		for _, cell := range r.cells[c.lookup] {
			if cell.greatest == c.greatest && cell.from <= msd && (msd < cell.below || cell.below == 0) {
				return msd + cell.add, c.table, true
			}
		}
	}
	return 0, bands.Source{}, false
}

// raise is a row of class 3 for a higher class; false where the rule is silent, or does not
// hold: for uplinks in shared spectrum and for rows that arithmetic does not confirm.
func (e Entry) raise(class PowerClass) (Entry, bool) {
	if !e.HasMSD || !e.Confirmed() {
		return e, false
	}
	for _, u := range e.Uplinks {
		if shared(u.Band) {
			return e, false
		}
	}
	source := "intermodulation"
	switch {
	case len(e.Uplinks) == 1 && e.ReceiverOrder > 1:
		source = "mixing"
	case len(e.Uplinks) == 1:
		source = "harmonic"
	case e.Uplinks[0].Band == e.Uplinks[1].Band:
		source = "within-band"
		if b, err := bands.Lookup(e.Uplinks[0].Band); err != nil || b.Duplex != bands.TDD {
			return e, false
		}
	}
	return e.raisedAs(source, class)
}

func (e Entry) raisedAs(source string, class PowerClass) (Entry, bool) {
	one, from1, ok1 := Raise(source, e.Order, class, 1, e.MSD)
	two, from2, ok2 := Raise(source, e.Order, class, 2, e.MSD)
	e.PowerClass = class
	switch {
	case ok1:
		e.MSD, e.Rule = one, from1
		if two != one {
			e.MSD2Tx, e.Has2Tx = two, ok2
		}
	case ok2: // with two transmitters alone
		e.MSD, e.Rule = two, from2
	}
	return e, ok1 || ok2
}

func shared(id bands.ID) bool {
	b, err := bands.Lookup(id)
	return err == nil && b.IsShared()
}

// LowerMSD is a class in which a UE may declare that it loses less than the tables allow
// (TS 38.101-1 clause 7.3A.7): Greatest is the most that it then loses.
type LowerMSD struct {
	Class    string
	Greatest bands.DB
	Source   bands.Source
}

// LowerMSDs lists the classes of lower MSD.
func LowerMSDs() []LowerMSD {
	t := data.Find(classTables(), "7.3A.7-1")
	rows := newReader(t)
	var list []LowerMSD
	for _, row := range t.Rows {
		rows.row = row
		greatest, _ := rows.decibels("greatest")
		list = append(list, LowerMSD{rows.text("class"), greatest, t.Source})
	}
	return list
}
