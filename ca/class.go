package ca

import (
	"slices"
	"strings"
	"sync"

	"spectally/bands"
	"spectally/data"
)

// ClassRow is a row of a table of CA bandwidth classes.
type ClassRow struct {
	Class    Class
	Carriers int
	// Over and Max bound the aggregated channel bandwidth in hertz, or the
	// aggregated resource blocks for LTE: Over < sum <= Max, or Over <= sum where
	// Inclusive is set.
	Over, Max int64
	Inclusive bool
	// Groups are the fallback groups in the band; none for LTE.
	Groups []int
	// Widest bounds the width of each carrier; zero if the class does not.
	Widest bands.Frequency
	// Shared tells that the class is for shared-spectrum bands alone, FR22 that
	// it is for FR2-2 bands alone.
	Shared, FR22 bool
	Note         string
	Source       bands.Source

	shared3 bool // fallback group 3 is for shared-spectrum bands alone
}

type classTables struct{ lte, fr1, fr2 []ClassRow }

var classRows = sync.OnceValue(func() classTables {
	tables := data.Lazy("ca_classes")()
	var t classTables
	lte := data.Find(tables, "lte")
	for _, row := range lte.Rows {
		t.lte = append(t.lte, ClassRow{
			Class:    Class(row[0]),
			Over:     int64(decimal(row[1])),
			Max:      int64(decimal(row[2])),
			Carriers: decimal(row[3]),
			Note:     row[4],
			Source:   lte.Source,
		})
	}
	t.fr1 = nrClassRows(data.Find(tables, "fr1"))
	t.fr2 = nrClassRows(data.Find(tables, "fr2"))
	return t
})

func nrClassRows(t *data.Table) []ClassRow {
	rows := make([]ClassRow, 0, len(t.Rows))
	for _, row := range t.Rows {
		c := ClassRow{
			Class:    Class(row[1]),
			Max:      int64(decimal(row[3])) * int64(bands.MHz),
			Carriers: decimal(row[4]),
			Note:     row[6],
			Shared:   strings.HasPrefix(row[6], "shared-spectrum"),
			FR22:     strings.HasPrefix(row[6], "FR2-2"),
			shared3:  strings.HasPrefix(row[6], "group 3 only"),
			Source:   t.Source,
		}
		over, inclusive := strings.CutPrefix(row[2], ">=")
		c.Inclusive = inclusive
		c.Over = int64(decimal(strings.TrimPrefix(over, ">"))) * int64(bands.MHz)
		for g := range strings.SplitSeq(row[5], ",") {
			c.Groups = append(c.Groups, decimal(g))
		}
		if _, most, ok := strings.Cut(row[6], "component carriers of at most "); ok {
			width, _, _ := strings.Cut(most, " ")
			c.Widest = bands.Frequency(decimal(width)) * bands.MHz
		}
		rows = append(rows, c)
	}
	return rows
}

// decimal reads a whole number of an embedded table; an empty field is 0.
func decimal(field string) int {
	n := 0
	for _, c := range field {
		if c < '0' || c > '9' {
			panic("ca: embedded table: not a number: " + field)
		}
		n = n*10 + int(c-'0')
	}
	return n
}

// ClassRows lists the bandwidth classes that hold for a band, in the order of
// their table: TS 36.101 Table 5.6A-1, TS 38.101-1 Table 5.3A.5-1, TS 38.101-2
// Table 5.3A.4-1.
func ClassRows(b *bands.Band) []ClassRow {
	var list []ClassRow
	for _, c := range classesOf(b) {
		if !c.holds(b) {
			continue
		}
		c.Groups = slices.Clone(c.Groups)
		if c.shared3 && !b.IsShared() {
			c.Groups = slices.DeleteFunc(c.Groups, func(g int) bool { return g == 3 })
		}
		list = append(list, c)
	}
	return list
}

func classesOf(b *bands.Band) []ClassRow {
	switch t := classRows(); {
	case b.ID.RAT == bands.LTE:
		return t.lte
	case b.Range.IsFR2():
		return t.fr2
	default:
		return t.fr1
	}
}

// holds tells whether the class is for bands of this kind.
func (c *ClassRow) holds(b *bands.Band) bool {
	return (!c.Shared || b.IsShared()) && (!c.FR22 || b.Range == bands.FR22)
}

// admits tells whether contiguous carriers of the widths form the class. The
// limits stand for the aggregated channel bandwidth, which is a little below the
// sum of the widths; as in the configuration tables the sum is compared.
func (c *ClassRow) admits(b *bands.Band, widths []bands.Frequency) bool {
	if c.Carriers != len(widths) || !c.holds(b) {
		return false
	}
	if c.Carriers == 1 {
		return true // class A is any single channel of the band
	}
	var sum int64
	for _, w := range widths {
		if c.Widest != 0 && w > c.Widest {
			return false
		}
		if b.ID.RAT == bands.LTE {
			cw, _ := b.Width(15*bands.KHz, w)
			sum += int64(cw.ResourceBlocks)
		} else {
			sum += int64(w)
		}
	}
	return (sum > c.Over || c.Inclusive && sum == c.Over) && sum <= c.Max
}

// Classes lists the bandwidth classes that contiguous carriers of the widths form
// in a band: one in most cases, several in FR2, none if the carriers fit no class.
func Classes(b *bands.Band, widths []bands.Frequency) []Class {
	return appendClasses(nil, b, widths)
}

func appendClasses(list []Class, b *bands.Band, widths []bands.Frequency) []Class {
	rows := classesOf(b)
	for i := range rows {
		if rows[i].admits(b, widths) {
			list = append(list, rows[i].Class)
		}
	}
	return list
}

// classLimits says in words what the classes of so many carriers allow.
func classLimits(b *bands.Band, carriers int) string {
	unit, size := " MHz", int64(bands.MHz)
	if b.ID.RAT == bands.LTE {
		unit, size = " resource blocks", 1
	}
	var parts []string
	for _, c := range ClassRows(b) {
		if c.Carriers != carriers {
			continue
		}
		relation := " above "
		if c.Inclusive {
			relation = " from "
		}
		s := string(c.Class) + relation + bands.Frequency(c.Over/size*int64(bands.MHz)).MHz() + " to " + bands.Frequency(c.Max/size*int64(bands.MHz)).MHz() + unit
		parts = append(parts, s)
	}
	if len(parts) == 0 {
		most := slices.MaxFunc(ClassRows(b), func(a, b ClassRow) int { return a.Carriers - b.Carriers })
		return "no class of this many carriers: at most " + bands.Frequency(int64(most.Carriers)*int64(bands.MHz)).MHz() + " (class " + string(most.Class) + ")"
	}
	return "class " + strings.Join(parts, ", ")
}
