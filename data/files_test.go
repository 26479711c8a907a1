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
	specForm    = regexp.MustCompile(`^(T[SR] \d\d\.\d{3}(-\d)?|ITU-R [MP]\.\d{4})$`)
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

// Every file is written plainly, and reading it so gives what a TOML decoder gives.
func TestReadPlainAgreesWithTOML(t *testing.T) {
	for _, name := range Names() {
		text, err := readFile(name + ".toml")
		if err != nil {
			t.Fatal(err)
		}
		got, err := readPlain(text)
		if err != nil {
			t.Errorf("%s is not written as the package comment shows: %v", name, err)
		}
		var want struct{ Table []tableText }
		if _, err := toml.Decode(text, &want); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if diff := cmp.Diff(want.Table, got); diff != "" {
			t.Errorf("%s: as TOML and read plainly (-TOML +plain):\n%s", name, diff)
		}
	}
}

// What readPlain takes, a TOML decoder takes alike.
func FuzzReadPlain(f *testing.F) {
	head := "[[table]]\nid = \"x\"\nspec    = \"TS 1\"\n"
	for _, s := range []string{
		"", "# only a comment\n", head, head + "rows    = '''\na b\n'''\n", head + "rows = '''\n'''\n", head + "rows = '''\na\n'''",
		head + "note = \"a \\\" b\"\n", head + "id = \"y\"\n", head + "other = \"y\"\n", "id = \"x\"\n", head + "note = 'y'\n", "[[table]] # one\n",
		head + "title = \"\"\ntitle = \"\"\n", head + "title = \"a\" # b\"\n", head + "rows = '''\na\n''''\n'''\n", "[[table]]\r\nid = \"x\"\r\n", head + "note = \"\x01\"\n",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := readPlain(text)
		if err != nil {
			return
		}
		var want struct{ Table []tableText }
		if _, err := toml.Decode(text, &want); err != nil {
			return // not TOML at all, such as a repeated empty key; TestFiles reads those that are embedded
		}
		if diff := cmp.Diff(want.Table, got, cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("(-TOML +plain):\n%s", diff)
		}
	})
}
