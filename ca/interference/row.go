package interference

import (
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/data"
)

// PowerClass is the power class of a UE as the standard writes it: "3", "2", "1.5".
type PowerClass string

// The power classes that matter to the tables of self-interference. A UE without a class
// that is said is of class 3, the default of most bands (TS 38.101-1 clause 6.2.1).
const (
	Class3  PowerClass = "3"
	Class2  PowerClass = "2"
	Class15 PowerClass = "1.5"
)

// Allocation is a carrier of a test point of the standard. Fields that the table leaves out
// are zero.
type Allocation struct {
	Band          bands.ID
	Centre, Width bands.Frequency
	Spacing       bands.Frequency
	// Blocks counts the uplink resource blocks from First on; First is -1 where the table
	// does not say.
	Blocks, First int
}

// Entry is a row of the standard's tables of exceptions: how much sensitivity a downlink
// may lose to a product of the UE's own uplinks.
type Entry struct {
	Source bands.Source
	// Configurations holds those for which the row is printed, by their bands and with
	// commas between them: "CA_n1-n8", "DC_3_n77,DC_3_n78". Empty where the table names no
	// more than the two bands.
	Configurations       string
	PowerClass           PowerClass
	Order, ReceiverOrder int
	// Coefficients belong to Uplinks; 0 and 0 where arithmetic does not confirm the row.
	Coefficients [2]int
	Uplinks      []Allocation
	Downlink     Allocation
	// MSD is the maximum sensitivity degradation, if HasMSD: a few rows print none.
	MSD    bands.DB
	HasMSD bool
	// MSD2Tx is the value for a UE of class 2 with two transmitters, if Has2Tx; MSD is then
	// that for one with a single transmitter.
	MSD2Tx bands.DB
	Has2Tx bool
	// Near tells that the row is for products beside the downlink.
	Near bool
	// Rule is the table that gives the values for PowerClass from those of class 3, which
	// are printed; zero where the row is printed for the class itself.
	Rule bands.Source
	// Note holds the numbers of the notes of the table.
	Note string
}

// Confirmed tells whether arithmetic finds the product of the row. Rows where it does not
// are about three uplinks, about uplinks within one band, or misprints.
func (e *Entry) Confirmed() bool {
	return e.ReceiverOrder > 0 && len(e.Uplinks) == 1 || e.Coefficients != [2]int{}
}

// reader reads the fields of rows of embedded tables. Like all loaders it panics on a fault
// of the tables, which no input can cause.
type reader struct {
	columns map[string]int
	row     data.Row
}

func newReader(t *data.Table) *reader {
	r := &reader{columns: make(map[string]int, len(t.Columns))}
	for i, c := range t.Columns {
		r.columns[c] = i
	}
	return r
}

func (r *reader) text(column string) string {
	i, ok := r.columns[column]
	if !ok {
		return ""
	}
	return r.row[i]
}

func (r *reader) band(column string) bands.ID {
	if text := r.text(column); text != "" {
		return must(bands.ParseID(text))
	}
	return bands.ID{}
}

func (r *reader) number(column string) int {
	if text := r.text(column); text != "" {
		return must(strconv.Atoi(text))
	}
	return 0
}

func (r *reader) mhz(column string) bands.Frequency {
	if text := r.text(column); text != "" {
		return must(bands.ParseMHz(text))
	}
	return 0
}

func (r *reader) decibels(column string) (bands.DB, bool) {
	if text := r.text(column); text != "" {
		return must(bands.ParseDB(text)), true
	}
	return 0, false
}

// uplink reads an uplink whose columns end in the suffix.
func (r *reader) uplink(band, suffix string) Allocation {
	a := Allocation{Band: r.band(band), Centre: r.mhz("centre" + suffix), Width: r.mhz("width" + suffix), First: -1}
	a.Spacing = bands.Frequency(r.number("spacing")) * bands.KHz
	a.setBlocks(r.text("blocks" + suffix))
	return a
}

func (a *Allocation) setBlocks(text string) {
	count, first, placed := strings.Cut(text, "@")
	if count != "" {
		a.Blocks = must(strconv.Atoi(count))
	}
	if placed {
		a.First = must(strconv.Atoi(first))
	}
}

func (r *reader) downlink() Allocation {
	return Allocation{Band: r.band("downlink"), Centre: r.mhz("centre"), Width: r.mhz("width"), First: -1}
}

// must unwraps a value read from an embedded table.
func must[T any](v T, err error) T {
	if err != nil {
		panic("interference: embedded table: " + err.Error())
	}
	return v
}
