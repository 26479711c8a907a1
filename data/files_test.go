package data

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

var (
	specForm    = regexp.MustCompile(`^(T[SR] \d\d\.\d{3}(-\d)?|ITU-R M\.\d{4})$`)
	versionForm = regexp.MustCompile(`^(\d+\.\d+\.\d+|\d+)$`)
)

// Every table names its specification, version and place and has rows. A table
// without a version says that it is from memory; the names of the trade, which stand
// in no specification, say so.
func TestFiles(t *testing.T) {
	names := Names()
	if len(names) < 8 || !slices.IsSorted(names) {
		t.Fatalf("files %v", names)
	}
	for _, name := range names {
		tables, err := Load(name)
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		if len(tables) == 0 {
			t.Errorf("%s: no tables", name)
		}
		seen := make(map[string]bool)
		for _, table := range tables {
			if seen[table.ID] {
				t.Errorf("%s: table %s stands twice", name, table.ID)
			}
			seen[table.ID] = true
			if name == "band_names" {
				if table.Spec != "names of the trade" || table.Version != "" {
					t.Errorf("%s: %v", name, table.Source)
				}
			} else if fromMemory := table.Version == "" && strings.Contains(table.Note, "from memory"); !specForm.MatchString(table.Spec) || !versionForm.MatchString(table.Version) && !fromMemory {
				t.Errorf("%s: table %s names %q, version %q", name, table.ID, table.Spec, table.Version)
			}
			if table.Table == "" || strings.HasPrefix(table.Table, "Table") || table.Title == "" {
				t.Errorf("%s: table %s names the place %q, title %q", name, table.ID, table.Table, table.Title)
			}
			if len(table.Rows) == 0 || len(table.Columns) == 0 {
				t.Errorf("%s: table %s has %d rows of %d columns", name, table.ID, len(table.Rows), len(table.Columns))
			}
			for i, c := range table.Columns {
				if table.Column(c) != i || strings.Contains(c, "…") {
					t.Errorf("%s: table %s has the column %q twice or spelt wrong", name, table.ID, c)
				}
			}
			for _, row := range table.Rows {
				if len(row) != len(table.Columns) || row[0] == "" {
					t.Errorf("%s: table %s: row %q", name, table.ID, row)
				}
			}
			if Find(tables, table.ID) != table {
				t.Errorf("%s: Find returns another table for %s", name, table.ID)
			}
		}
	}
}

// Cutting the rows out before the file is read as TOML changes nothing, and is done
// for every table of every file.
func TestCutRowsChangesNothing(t *testing.T) {
	for _, name := range Names() {
		text, err := files.ReadFile(name + ".toml")
		if err != nil {
			t.Fatal(err)
		}
		got, err := Load(name)
		if err != nil {
			t.Fatal(err)
		}
		var whole struct{ Table []tableText }
		if _, err := toml.Decode(string(text), &whole); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		var want []*Table
		for i := range whole.Table {
			table, err := whole.Table[i].parse(name + ".toml")
			if err != nil {
				t.Fatal(err)
			}
			want = append(want, table)
		}
		if diff := cmp.Diff(want, got, cmpopts.EquateComparable(), cmp.AllowUnexported(Table{})); diff != "" {
			t.Errorf("%s: read in one piece and with its rows cut out (-one piece +cut out):\n%s", name, diff)
		}
		rest, blocks := cutRows(string(text))
		if len(blocks) != len(want) {
			t.Errorf("%s: %d blocks of rows cut out of %d tables", name, len(blocks), len(want))
		}
		if strings.Count(rest, "\n") != strings.Count(string(text), "\n") {
			t.Errorf("%s: %d lines are left of %d", name, strings.Count(rest, "\n"), strings.Count(string(text), "\n"))
		}
	}
}
