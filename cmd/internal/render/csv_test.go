package render

import (
	"bytes"
	"encoding/csv"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// RFC 4180: lines end in CR LF, and a reader gets back what was written.
func TestCSVRoundTrip(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	for range 500 {
		table := randomTable(r)
		table.Rows[0][0] = `a "quoted", field`
		out, err := Render(&Answer{Data: table}, Options{Format: CSV})
		if err != nil {
			t.Fatal(err)
		}
		if n, crlf := bytes.Count(out, []byte("\n")), bytes.Count(out, []byte("\r\n")); n != crlf || n != len(table.Rows)+1 {
			t.Fatalf("%d line feeds, %d of them after CR, for %d rows and a header", n, crlf, len(table.Rows))
		}
		got, err := csv.NewReader(bytes.NewReader(out)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for c, key := range got[0] {
			if key != table.Columns[c].Key {
				t.Fatalf("header %v", got[0])
			}
		}
		if diff := cmp.Diff(table.Rows, got[1:]); diff != "" {
			t.Fatalf("(-want +got):\n%s", diff)
		}
	}
}

// What a user typed never becomes a formula of a spreadsheet: a leading = + - @ or
// control character gets an apostrophe before it, numbers stay.
func TestCSVFormulas(t *testing.T) {
	for cell, want := range map[string]string{
		"=1+1": "'=1+1", "+1+1": "'+1+1", "-1+1": "'-1+1", "@SUM(A1)": "'@SUM(A1)", "\t=1": "' =1", "\x1b[31m": "'\ufffd[31m", "a\u202eb\nc": "a\ufffdb c", "＝1": "'＝1",
		"-84": "-84", "+3.5": "+3.5", "Brindlewave": "Brindlewave", "": "", "a=b": "a=b", "東京": "東京",
	} {
		table := &Table{Columns: []Column{{Key: "typed", Typed: true}, {Key: "own"}}, Rows: [][]string{{cell, cell}}}
		out, err := Render(&Answer{Data: table}, Options{Format: CSV})
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(bytes.NewReader(out)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		if rows[1][0] != want || rows[1][1] != cell {
			t.Errorf("%q is written %q where it was typed, %q elsewhere; want %q", cell, rows[1][0], rows[1][1], want)
		}
		if table.Rows[0][0] == want && want != cell {
			t.Errorf("the table itself was changed")
		}
	}
}
