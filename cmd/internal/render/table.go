package render

import (
	"fmt"
	"slices"
	"strings"
)

// Table is rows under columns.
type Table struct {
	Title   string
	Columns []Column
	Rows    [][]string
	// Source says where the table was read; it is shown with the working.
	Source Source
	// Detail keeps the table for --explain; HTML folds it. CSV shows it all the same.
	Detail bool
}

// Column describes the cells of one column.
type Column struct {
	// Key names the column for programs: snake case, with the unit at its end.
	Key string
	// Header and Unit name it for people.
	Header, Unit string
	Align        Align
	// Detail keeps the column for --explain. CSV shows it all the same.
	Detail bool
	// Typed tells that the cells are what a user typed. CSV keeps a spreadsheet from
	// taking such a cell for a formula.
	Typed bool
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

// brief is the table without its columns of detail.
func (t *Table) brief() *Table {
	if !slices.ContainsFunc(t.Columns, func(c Column) bool { return c.Detail }) {
		return t
	}
	var keep []int
	for c, col := range t.Columns {
		if !col.Detail {
			keep = append(keep, c)
		}
	}
	b := &Table{Title: t.Title, Source: t.Source, Detail: t.Detail, Columns: pick(t.Columns, keep), Rows: make([][]string, len(t.Rows))}
	for i, row := range t.Rows {
		b.Rows[i] = pick(row, keep)
	}
	return b
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

// DropEmpty removes the columns in which no row has anything.
func (t *Table) DropEmpty() {
	keep := make([]int, 0, len(t.Columns))
	for c := range t.Columns {
		if slices.ContainsFunc(t.Rows, func(row []string) bool { return row[c] != "" }) {
			keep = append(keep, c)
		}
	}
	if len(keep) == len(t.Columns) {
		return
	}
	t.Columns = pick(t.Columns, keep)
	for i, row := range t.Rows {
		t.Rows[i] = pick(row, keep)
	}
}

func pick[T any](list []T, keep []int) []T {
	picked := make([]T, len(keep))
	for i, c := range keep {
		picked[i] = list[c]
	}
	return picked
}
