package render

import (
	"fmt"
	"slices"
	"strconv"
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
	// Minor lets text leave the column out where there is no room for all.
	Minor bool
	// Deciding marks what a row is read for: on a phone, where a row becomes a list, it comes
	// first.
	Deciding bool
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
	return t.columns(keep)
}

// withoutMinor is the table without the last of its minor columns; nil if it has none.
func (t *Table) withoutMinor() *Table {
	last := -1
	for c, col := range t.Columns {
		if col.Minor {
			last = c
		}
	}
	if last < 0 {
		return nil
	}
	keep := make([]int, 0, len(t.Columns))
	for c := range t.Columns {
		if c != last {
			keep = append(keep, c)
		}
	}
	return t.columns(keep)
}

// columns is the table with some of its columns.
func (t *Table) columns(keep []int) *Table {
	b := *t
	b.Columns, b.Rows = pick(t.Columns, keep), make([][]string, len(t.Rows))
	for i, row := range t.Rows {
		b.Rows[i] = pick(row, keep)
	}
	return &b
}

// MergeAlike makes one row of rows that differ in their number alone, which stands in
// the first column: "2–4", "1, 3".
func (t *Table) MergeAlike() {
	var rows [][]string
	var numbers [][]string
	for _, row := range t.Rows {
		i := slices.IndexFunc(rows, func(r []string) bool { return slices.Equal(r[1:], row[1:]) })
		if i < 0 {
			i = len(rows)
			rows, numbers = append(rows, row), append(numbers, nil)
		}
		numbers[i] = append(numbers[i], row[0])
	}
	for i, row := range rows {
		if len(numbers[i]) > 1 {
			rows[i] = append([]string{runs(numbers[i])}, row[1:]...)
		}
	}
	t.Rows = rows
}

// runs writes whole numbers in order, with a dash in place of those between.
func runs(numbers []string) string {
	var parts []string
	for i := 0; i < len(numbers); {
		j := i
		for j+1 < len(numbers) && follows(numbers[j], numbers[j+1]) {
			j++
		}
		switch {
		case j == i:
			parts = append(parts, numbers[i])
		case j == i+1:
			parts = append(parts, numbers[i], numbers[j])
		default:
			parts = append(parts, numbers[i]+"–"+numbers[j])
		}
		i = j + 1
	}
	return strings.Join(parts, ", ")
}

func follows(a, b string) bool {
	m, err := strconv.Atoi(a)
	n, other := strconv.Atoi(b)
	return err == nil && other == nil && n == m+1
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
