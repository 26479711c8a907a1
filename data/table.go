package data

import (
	"fmt"
	"strings"
)

// Table is one table of a standard as this project writes it down: a citation
// and rows of fields. Column names and their order follow the printed table
// where that reads well.
type Table struct {
	Source
	// ID names the table within its file.
	ID string
	// Title says in a few words what the table holds.
	Title string
	// Note says what is inferred, repaired or doubtful about the rows.
	Note string
	// Columns names the fields of a row.
	Columns []string
	// Rows holds the fields of every row; a field that is empty in the
	// standard is the empty string.
	Rows []Row
	file string
}

// Row is the fields of one row, in the order of Table.Columns.
type Row []string

// Column returns the place of a column in a row. It panics if the table has no
// such column: tables are embedded, so that is a fault of the build.
func (t *Table) Column(name string) int {
	for i, c := range t.Columns {
		if c == name {
			return i
		}
	}
	panic(fmt.Sprintf("data/%s: table %s has no column %q", t.file, t.ID, name))
}

// tableText is a table as it stands in a TOML file. Rows are lines of
// fields separated by blanks, so that a row of the file looks like a row of the
// printed table and a change of one row is a change of one line.
type tableText struct {
	ID      string
	Spec    string
	Version string
	Table   string
	Title   string
	Note    string
	Columns string
	Rows    string
}

// parse splits the rows of a table. A field "-" is empty. If the last column's
// name ends in "…" that column takes the rest of the line, blanks included.
func (text *tableText) parse(file string) (*Table, error) {
	t := &Table{
		Source:  Source{text.Spec, text.Version, text.Table},
		ID:      text.ID,
		Title:   text.Title,
		Note:    text.Note,
		Columns: strings.Fields(text.Columns),
		file:    file,
	}
	if t.ID == "" || t.Spec == "" || t.Table == "" || len(t.Columns) == 0 {
		return nil, fmt.Errorf("data/%s: table %q needs id, spec, table and columns", file, t.ID)
	}
	last := len(t.Columns) - 1
	name, open := strings.CutSuffix(t.Columns[last], "…")
	t.Columns[last] = name

	n := strings.Count(text.Rows, "\n") + 1
	t.Rows = make([]Row, 0, n)
	fields := make([]string, n*len(t.Columns))
	for line := range strings.Lines(text.Rows) {
		line = strings.TrimSpace(line)
		if line == "" {
			continue
		}
		row := fields[:len(t.Columns):len(t.Columns)]
		fields = fields[len(t.Columns):]
		rest := line
		for i := range row {
			if rest == "" && !(open && i == last) {
				return nil, fmt.Errorf("data/%s: table %s: %q has fewer than %d fields", file, t.ID, line, len(row))
			}
			if open && i == last {
				row[i], rest = rest, ""
				if row[i] == "-" {
					row[i] = ""
				}
				continue
			}
			end := strings.IndexByte(rest, ' ')
			if end < 0 {
				end = len(rest)
			}
			row[i], rest = rest[:end], strings.TrimLeft(rest[end:], " ")
			if row[i] == "-" {
				row[i] = ""
			}
		}
		if rest != "" {
			return nil, fmt.Errorf("data/%s: table %s: %q has more than %d fields", file, t.ID, line, len(row))
		}
		t.Rows = append(t.Rows, row)
	}
	if len(t.Rows) == 0 {
		return nil, fmt.Errorf("data/%s: table %s has no rows", file, t.ID)
	}
	return t, nil
}
