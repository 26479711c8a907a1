package data

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func text(columns, rows string) tableText {
	return tableText{ID: "x", Spec: "TS 1", Version: "1.0.0", Table: "5-1", Columns: columns, Rows: rows}
}

func TestParse(t *testing.T) {
	for _, c := range []struct {
		columns, rows string
		want          []Row
	}{
		{"a b", "1 2\n3 4\n", []Row{{"1", "2"}, {"3", "4"}}},
		{"a b", "\n  1    2  \n\n3 4", []Row{{"1", "2"}, {"3", "4"}}},
		{"a b", "- 2\n3 -\n", []Row{{"", "2"}, {"3", ""}}},
		{"a b", "-1 --\n", []Row{{"-1", "--"}}}, // only a dash alone is empty
		{"a note…", "1 some words,  with blanks\n2\n3 -\n", []Row{{"1", "some words,  with blanks"}, {"2", ""}, {"3", ""}}},
		{"list…", "1 2 3\n", []Row{{"1 2 3"}}},
	} {
		source := text(c.columns, c.rows)
		table, err := source.parse("f.toml")
		if err != nil {
			t.Errorf("%q of %q: %v", c.rows, c.columns, err)
			continue
		}
		if diff := cmp.Diff(c.want, table.Rows); diff != "" {
			t.Errorf("%q of %q (-want +got):\n%s", c.rows, c.columns, diff)
		}
		if table.Source != (Source{"TS 1", "1.0.0", "5-1"}) || table.ID != "x" {
			t.Errorf("source %v of table %s", table.Source, table.ID)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	change := func(f func(*tableText)) tableText {
		source := text("a b", "1 2")
		f(&source)
		return source
	}
	for _, c := range []struct {
		source tableText
		want   string
	}{
		{change(func(s *tableText) { s.ID = "" }), `data/f.toml: table "" needs id, spec, table and columns`},
		{change(func(s *tableText) { s.Spec = "" }), `data/f.toml: table "x" needs id, spec, table and columns`},
		{change(func(s *tableText) { s.Table = "" }), `data/f.toml: table "x" needs id, spec, table and columns`},
		{change(func(s *tableText) { s.Columns = " " }), `data/f.toml: table "x" needs id, spec, table and columns`},
		{text("a b", "1 2\n3"), `data/f.toml: table x: "3" has fewer than 2 fields`},
		{text("a b c…", "1 "), `data/f.toml: table x: "1" has fewer than 3 fields`},
		{text("a b", "1 2 3"), `data/f.toml: table x: "1 2 3" has more than 2 fields`},
		{text("a b", ""), `data/f.toml: table x has no rows`},
		{text("a b", " \n\n"), `data/f.toml: table x has no rows`},
	} {
		table, err := c.source.parse("f.toml")
		if err == nil || err.Error() != c.want {
			t.Errorf("%+v: %v, %v\nwant %s", c.source, table, err, c.want)
		}
	}
}

// Rows do not share fields: growing one leaves the next alone.
func TestRowsAreApart(t *testing.T) {
	source := text("a b", "1 2\n3 4")
	table, err := source.parse("f.toml")
	if err != nil {
		t.Fatal(err)
	}
	if grown := append(table.Rows[0], "5"); !slices.Equal(grown, Row{"1", "2", "5"}) || !slices.Equal(table.Rows[1], Row{"3", "4"}) {
		t.Errorf("rows %v after growing the first", table.Rows)
	}
}

const file = `# a file

[[table]]
id      = "one"
spec    = "TS 1"
version = "1.0.0"
table   = "5-1"
title   = "first"
columns = "a b"
rows    = '''
1 2
3 4
'''

[[table]]
id      = "two"
spec    = "TS 1"
version = "1.0.0"
table   = "5-2"
note    = "written with other blanks"
columns = "a…"
rows = '''
one line
'''
`

func TestDecode(t *testing.T) {
	tables, err := decode("f.toml", file)
	if err != nil {
		t.Fatal(err)
	}
	one, two := Find(tables, "one"), Find(tables, "two")
	if len(tables) != 2 || one.Rows[1][one.Column("b")] != "4" || two.Rows[0][two.Column("a")] != "one line" || two.Note != "written with other blanks" {
		t.Errorf("tables %+v and %+v", one, two)
	}
}

func TestDecodeRefuses(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{strings.Replace(file, "title ", "heading ", 1), `data/f.toml: line 8: "heading" is no key`},
		{strings.Replace(file, "3 4", "3 4 5", 1), `data/f.toml: table one: "3 4 5" has more than 2 fields`},
		{strings.Replace(file, "1 2\n3 4\n", "", 1), "data/f.toml: table one has no rows"},
		{strings.Replace(file, `spec    = "TS 1"`, "", 1), `data/f.toml: table "one" needs id, spec, table and columns`},
		{strings.Replace(file, "other blanks\"", "other blanks", 1), "data/f.toml: line 20: the value of note "},
		{strings.TrimSuffix(file, "'''\n"), "data/f.toml: line 22: "},
		{strings.Replace(file, "1 2\n3 4\n'''\n", "1 2\n3 4\n", 1), "data/f.toml: "},
	} {
		tables, err := decode("f.toml", c.text)
		if err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%v, %v\nwant %s", tables, err, c.want)
		}
	}
}

// panicOf returns what f panics with.
func panicOf(f func()) (value any) {
	defer func() { value = recover() }()
	f()
	return nil
}

func TestFaultsOfTheBuild(t *testing.T) {
	if _, err := Load("nothing"); err == nil || err.Error() != "data: no file nothing.toml" {
		t.Errorf("Load: %v", err)
	}
	if got := panicOf(func() { Lazy("nothing")() }); got == nil || got.(error).Error() != "data: no file nothing.toml" {
		t.Errorf("Lazy panics with %v", got)
	}
	if got := panicOf(func() { Find(nil, "one") }); got != `data: no table "one"` {
		t.Errorf("Find panics with %v", got)
	}
	table := &Table{ID: "one", Columns: []string{"a"}, file: "f.toml"}
	if got := panicOf(func() { table.Column("b") }); got != `data/f.toml: table one has no column "b"` {
		t.Errorf("Column panics with %v", got)
	}
}

func TestLazyLoadsOnce(t *testing.T) {
	tables := Lazy("nr_bands")
	if first, again := tables(), tables(); len(first) == 0 || &first[0] != &again[0] {
		t.Error("the tables are read again")
	}
}

func TestSource(t *testing.T) {
	for _, c := range []struct {
		source             Source
		long, short, place string
	}{
		{Source{"TS 38.101-1", "19.5.0", "5.2-1"}, "TS 38.101-1 V19.5.0 Table 5.2-1", "TS 38.101-1 Table 5.2-1", "Table 5.2-1"},
		{Source{"TS 38.101-1", "19.5.0", "clause 5.4A.1"}, "TS 38.101-1 V19.5.0 clause 5.4A.1", "TS 38.101-1 clause 5.4A.1", "clause 5.4A.1"},
		{Source{"TS 38.101-1", "19.5.0", ""}, "TS 38.101-1 V19.5.0", "TS 38.101-1", ""},
		{Source{"ITU-R M.2410", "0", "clause 4.5"}, "ITU-R M.2410-0 clause 4.5", "ITU-R M.2410 clause 4.5", "clause 4.5"},
		{Source{"names of the trade", "", "common practice, no source"}, "names of the trade common practice, no source", "names of the trade common practice, no source", "common practice, no source"},
		{Source{}, "", "", ""},
	} {
		if got := c.source.String(); got != c.long {
			t.Errorf("%+v is %q, want %q", c.source, got, c.long)
		}
		if got := c.source.Short(); got != c.short {
			t.Errorf("%+v is %q in short, want %q", c.source, got, c.short)
		}
		if got := c.source.Place(); got != c.place {
			t.Errorf("the place of %+v is %q, want %q", c.source, got, c.place)
		}
	}
}
