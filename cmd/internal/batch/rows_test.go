package batch

import (
	"encoding/csv"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"
)

// readRows reads all rows of a text: each as its line, its fields and its fault.
func readRows(tb testing.TB, text string) (names []string, list []csvRow) {
	tb.Helper()
	rows, err := NewRows(strings.NewReader(text))
	if err != nil {
		tb.Fatal(err)
	}
	for rows.Next() {
		list = append(list, csvRow{line: int(rows.Line()), fields: rows.Fields(), reason: rows.Fault()})
	}
	if rows.Err() != nil {
		tb.Fatal(rows.Err())
	}
	return rows.Names(), list
}

func TestRows(t *testing.T) {
	for _, v := range []struct {
		name, text string
		names      []string
		want       []csvRow
	}{
		{"plain", "a,b\n1,2\n", []string{"a", "b"}, []csvRow{{line: 2, fields: []string{"1", "2"}}}},
		{"semicolons, a mark in front, blanks, CR LF, a blank line, no last line end", "\xef\xbb\xbf a ; b\r\n\r\n 1 ;x,y\r\n3;4", []string{"a", "b"},
			[]csvRow{{line: 3, fields: []string{"1", "x,y"}}, {line: 4, fields: []string{"3", "4"}}}},
		{"tab", "a\tb\n1\t2", []string{"a", "b"}, []csvRow{{line: 2, fields: []string{"1", "2"}}}},
		{"one column", "a\n1\n", []string{"a"}, []csvRow{{line: 2, fields: []string{"1"}}}},
		{"blank lines before the header", "\n\na|b\n1|2\n", []string{"a", "b"}, []csvRow{{line: 4, fields: []string{"1", "2"}}}},
		{"quotes over lines", "a,b\n\"1\n\"\"x\"\"\",2\n3,4\n", []string{"a", "b"},
			[]csvRow{{line: 2, fields: []string{"1\n\"x\"", "2"}}, {line: 4, fields: []string{"3", "4"}}}},
		{"too few, too many", "a,b\n1\n1,2,3\n", []string{"a", "b"},
			[]csvRow{{line: 2, fields: []string{"1"}, reason: "1 field where there are 2 columns"}, {line: 3, fields: []string{"1", "2", "3"}, reason: "3 fields where there are 2 columns"}}},
		{"a stray quote costs its line", "a,b\n1,x\"y\n3,4\n", []string{"a", "b"},
			[]csvRow{{line: 2, reason: scanReasons[scanStray]}, {line: 3, fields: []string{"3", "4"}}}},
		{"an open quote costs its line", "a,b\n\"1,2\n3,4\n", []string{"a", "b"},
			[]csvRow{{line: 2, reason: scanReasons[scanOpen]}, {line: 3, fields: []string{"3", "4"}}}},
		{"a NUL", "a,b\n1,\x002\n3,4\n", []string{"a", "b"},
			[]csvRow{{line: 2, reason: reasonNUL}, {line: 3, fields: []string{"3", "4"}}}},
		{"too long", "a,b\n1," + strings.Repeat("x", maxRow) + "\n3,4\n", []string{"a", "b"},
			[]csvRow{{line: 2, reason: longRow(maxRow + 3)}, {line: 3, fields: []string{"3", "4"}}}},
	} {
		names, got := readRows(t, v.text)
		if !slices.Equal(names, v.names) {
			t.Errorf("%s: names %q, want %q", v.name, names, v.names)
		}
		same := func(a, b csvRow) bool {
			return a.line == b.line && a.reason == b.reason && slices.Equal(a.fields, b.fields)
		}
		if !slices.EqualFunc(got, v.want, same) {
			t.Errorf("%s:\n got %+v\nwant %+v", v.name, got, v.want)
		}
	}
}

func TestRowsWithoutHeader(t *testing.T) {
	for text, want := range map[string]error{"": errNoHeader, "\n\n": errNoHeader, "s\x00i\x00": errUTF16} {
		if _, err := NewRows(strings.NewReader(text)); !errors.Is(err, want) {
			t.Errorf("%q: %v, want %v", text, err, want)
		}
	}
	broken := errors.New("broken")
	rows, err := NewRows(io.MultiReader(strings.NewReader("a,b\n1,2\n"), &faulty{broken}))
	if err != nil || !rows.Next() || rows.Next() || !errors.Is(rows.Err(), broken) {
		t.Errorf("a fault of the input: %v, %v", err, rows.Err())
	}
}

type faulty struct{ err error }

func (f *faulty) Read([]byte) (int, error) { return 0, f.err }

// FuzzReadRows holds Rows against encoding/csv wherever that reads the text without fault.
func FuzzReadRows(f *testing.F) {
	for _, s := range []string{"a,b\n1,2\n", "a,b\r\n\"x,\"\"y\",2\r\n\r\n3,4", "a,b\n\"1\n2\",3\n", "a,b\n1\n", "a,b\n\"1,2\n3,4\n", "a\n\"\"\n"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		rows, err := NewRows(strings.NewReader(text))
		if err != nil {
			return
		}
		plain := csv.NewReader(strings.NewReader(strings.TrimPrefix(text, string(bomUTF8))))
		plain.Comma, plain.FieldsPerRecord = rune(rows.csv.separator), -1
		want, err := plain.ReadAll()
		// What encoding/csv reads in another way: a carriage return that ends no line, which
		// it keeps, and line ends inside quotes, which it rewrites.
		comparable := err == nil && !strings.Contains(text, "\x00") && !strings.Contains(strings.ReplaceAll(text, "\r\n", ""), "\r") && !strings.Contains(text, "\r\n")
		last := int64(0)
		for i := 1; rows.Next(); i++ {
			if rows.Line() <= last {
				t.Fatalf("line %d after %d", rows.Line(), last)
			}
			last = rows.Line()
			if !comparable {
				continue
			}
			if i >= len(want) {
				t.Fatalf("%q: row %d is not there for encoding/csv", text, i)
			}
			for k := range want[i] {
				want[i][k] = strings.TrimSpace(want[i][k])
			}
			if !slices.Equal(rows.Fields(), want[i]) {
				t.Fatalf("%q: row %d is %q, want %q", text, i, rows.Fields(), want[i])
			}
		}
	})
}
