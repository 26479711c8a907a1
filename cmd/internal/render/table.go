package render

import (
	"fmt"
	"strings"
)

// Table is rows under columns.
type Table struct {
	Title   string
	Columns []Column
	Rows    [][]string
	// Source says where the table was read; it is shown with the working.
	Source Source
}

// Column describes the cells of one column.
type Column struct {
	// Key names the column for programs: snake case, with the unit at its end.
	Key string
	// Header and Unit name it for people.
	Header, Unit string
	Align        Align
}

// Align says how the cells of a column stand.
type Align uint8

// The alignments. Text stands left and may wrap. A number stands right, with
// the decimal points below each other, and never wraps.
const (
	Words Align = iota
	Number
)

// heading is the title, with the working the source too.
func (t *Table) heading(explain bool) string {
	if explain && t.Source != (Source{}) {
		return strings.TrimSpace(t.Title + " (" + t.Source.short() + ")")
	}
	return t.Title
}

// check finds rows that do not fit the columns.
func (t *Table) check() error {
	for i, row := range t.Rows {
		if len(row) != len(t.Columns) {
			return fmt.Errorf("render: row %d of table %q has %d cells for %d columns", i+1, t.Title, len(row), len(t.Columns))
		}
	}
	return nil
}
