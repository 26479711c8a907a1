// Package factfile reads the facts of testdata/facts, for tests: rows of printed tables,
// one a line. A line "# TS 38.101-1 19.5.0 5.2-1" names the specification, its version and
// the table of the lines below it; the first line that is no such line names the columns.
// Frequencies and widths are in the unit that the column says; an empty field means that
// the table has nothing there.
package factfile

import (
	"compress/gzip"
	"encoding/csv"
	"io"
	"os"
	"strconv"
	"strings"
	"testing"

	"spectally/data"
)

// Fact is a row of a table.
type Fact struct {
	Source data.Source
	Fields []string
	file   *file
}

type file struct {
	name    string
	columns []string
	tb      testing.TB
}

// Read reads a file of facts, packed if its name ends in ".gz". It fails unless the file
// has as many facts as the printed tables have rows.
func Read(tb testing.TB, path string, rows int) []Fact {
	tb.Helper()
	opened, err := os.Open(path)
	if err != nil {
		tb.Fatal(err)
	}
	defer opened.Close()
	var r io.Reader = opened
	if strings.HasSuffix(path, ".gz") {
		if r, err = gzip.NewReader(opened); err != nil {
			tb.Fatal(err)
		}
	}
	text, err := io.ReadAll(r)
	if err != nil {
		tb.Fatal(err)
	}
	f := &file{name: path, tb: tb}
	var list []Fact
	var source data.Source
	for line := range strings.Lines(string(text)) {
		line = strings.TrimSuffix(line, "\n")
		if s, ok := strings.CutPrefix(line, "# "); ok {
			source = parseSource(s)
			continue
		}
		fields := strings.Split(line, ",")
		if strings.Contains(line, `"`) {
			if fields, err = csv.NewReader(strings.NewReader(line)).Read(); err != nil {
				tb.Fatalf("%s: %q: %v", path, line, err)
			}
		}
		if f.columns == nil {
			f.columns = fields
			continue
		}
		if len(fields) != len(f.columns) || source.Table == "" {
			tb.Fatalf("%s: %q does not fit the columns %v, or has no source", path, line, f.columns)
		}
		list = append(list, Fact{source, fields, f})
	}
	if len(list) != rows {
		tb.Fatalf("%s: %d facts, want %d", path, len(list), rows)
	}
	return list
}

// parseSource reads "TS 38.101-1 19.5.0 5.2-1"; what follows the version is the table.
func parseSource(s string) data.Source {
	f := strings.SplitN(s, " ", 4)
	if len(f) < 4 {
		return data.Source{}
	}
	return data.Source{Spec: f[0] + " " + f[1], Version: f[2], Table: f[3]}
}

// Text returns the field of a column.
func (f *Fact) Text(column string) string {
	for i, c := range f.file.columns {
		if c == column {
			return f.Fields[i]
		}
	}
	f.file.tb.Helper()
	f.file.tb.Fatalf("%s has no column %q", f.file.name, column)
	return ""
}

// Number returns the field of a column as a number; 0 if it is empty.
func (f *Fact) Number(column string) float64 {
	text := f.Text(column)
	if text == "" {
		return 0
	}
	n, err := strconv.ParseFloat(text, 64)
	if err != nil {
		f.file.tb.Helper()
		f.file.tb.Fatalf("%s: %s %q is no number in %v", f.file.name, column, text, f.Fields)
	}
	return n
}

// Int returns the field of a column as a whole number; 0 if it is empty.
func (f *Fact) Int(column string) int { return int(f.Number(column)) }

// String writes the fact with its source.
func (f *Fact) String() string { return f.Source.Short() + ": " + strings.Join(f.Fields, ",") }
