package data

import (
	"os"
	"slices"
	"strings"
	"testing"
)

// listCounts holds, for every table of the lists, the configurations and the
// rows of their sets. Configurations: the tables of TS 36.101 V19.6.0, TS
// 38.101-1 V19.5.0, TS 38.101-2 V19.4.0 and TS 38.101-3 V19.5.0, counted when
// the facts were taken from them and again, name by name, in these files.
var listCounts = []struct {
	table                        string
	configurations, rows, unread int
}{
	{"TS 38.101-1 Table 5.5A.1-1", 38, 134, 0},
	{"TS 38.101-1 Table 5.5A.2-1", 31, 80, 0},
	{"TS 38.101-2 Table 5.5A.1-1", 109, 109, 0},
	{"TS 38.101-1 Table 5.5A.2-2", 4, 14, 0},
	{"TS 38.101-2 Table 5.5A.2-1", 49, 49, 0},
	{"TS 38.101-2 Table 5.5A.2-2", 304, 304, 3},
	{"TS 38.101-1 Table 5.5A.3.1-1a", 54, 232, 0},
	{"TS 38.101-1 Table 5.5A.3.1-1b", 48, 238, 0},
	{"TS 38.101-1 Table 5.5A.3.1-1c", 64, 300, 0},
	{"TS 38.101-1 Table 5.5A.3.1-1d", 49, 240, 0},
	{"TS 38.101-1 Table 5.5A.3.1-1e", 71, 290, 0},
	{"TS 38.101-1 Table 5.5A.3.1-1f", 38, 154, 0},
	{"TS 38.101-1 Table 5.5A.3.1-1g", 65, 352, 0},
	{"TS 38.101-1 Table 5.5A.3.1-1h", 66, 244, 0},
	{"TS 38.101-1 Table 5.5A.3.1-1i", 48, 252, 0},
	{"TS 38.101-1 Table 5.5A.3.1-1j", 68, 364, 0},
	{"TS 38.101-1 Table 5.5A.3.1-1k", 107, 222, 0},
	{"TS 38.101-1 Table 5.5A.3.1-1l", 72, 252, 0},
	{"TS 38.101-1 Table 5.5A.3.1-1m", 36, 214, 0},
	{"TS 38.101-1 Table 5.5A.3.1-1n", 67, 258, 0},
	{"TS 38.101-1 Table 5.5A.3.1-1o", 1, 2, 0},
	{"TS 38.101-1 Table 5.5A.3.2-1a", 711, 3981, 2},
	{"TS 38.101-1 Table 5.5A.3.2-1b", 450, 2730, 1},
	{"TS 38.101-1 Table 5.5A.3.2-1c", 282, 1035, 0},
	{"TS 38.101-1 Table 5.5A.3.3-1a", 454, 3232, 3},
	{"TS 38.101-1 Table 5.5A.3.3-1b", 284, 2024, 0},
	{"TS 38.101-1 Table 5.5A.3.4-1", 140, 1150, 4},
	{"TS 38.101-1 Table 5.5A.3.5-1", 4, 24, 0},
	{"TS 38.101-2 Table 5.5A.3-1", 129, 258, 0},
	{"TS 38.101-3 Table 5.5A.1.1-1a", 39, 100, 0},
	{"TS 38.101-3 Table 5.5A.1.1-1b", 82, 164, 0},
	{"TS 38.101-3 Table 5.5A.1.1-1c", 83, 174, 0},
	{"TS 38.101-3 Table 5.5A.1.1-1d", 97, 270, 0},
	{"TS 38.101-3 Table 5.5A.1.1-1e", 104, 340, 0},
	{"TS 38.101-3 Table 5.5A.1.1-1f", 56, 256, 0},
	{"TS 38.101-3 Table 5.5A.1.1-1g", 86, 278, 0},
	{"TS 38.101-3 Table 5.5A.1.1-1h", 113, 374, 0},
	{"TS 38.101-3 Table 5.5A.1.1-1i", 35, 70, 0},
	{"TS 38.101-3 Table 5.5A.1.1-1j", 153, 682, 0},
	{"TS 38.101-3 Table 5.5A.1.1-1k", 233, 572, 0},
	{"TS 38.101-3 Table 5.5A.1.1-1l", 149, 658, 0},
	{"TS 38.101-3 Table 5.5A.1.1-1m", 202, 628, 0},
	{"TS 38.101-3 Table 5.5A.1.1-1n", 119, 258, 0},
	{"TS 38.101-3 Table 5.5A.1.1-1o", 51, 102, 0},
	{"TS 38.101-3 Table 5.5A.1.1-1p", 15, 30, 0},
	{"TS 38.101-3 Table 5.5A.1.2-1a", 583, 1749, 6},
	{"TS 38.101-3 Table 5.5A.1.2-1b", 689, 2385, 0},
	{"TS 38.101-3 Table 5.5A.1.2-1c", 618, 2136, 1},
	{"TS 38.101-3 Table 5.5A.1.3-1a", 264, 1056, 0},
	{"TS 38.101-3 Table 5.5A.1.3-1b", 294, 1176, 0},
	{"TS 38.101-3 Table 5.5A.1.4-1", 80, 400, 1},
	{"TS 38.101-3 Table 5.5B.2-1", 21, 0, 0},
	{"TS 38.101-3 Table 5.5B.2a-1", 4, 0, 0},
	{"TS 38.101-3 Table 5.5B.3-1", 19, 0, 0},
	{"TS 38.101-3 Table 5.5B.3-2", 7, 0, 0},
	{"TS 38.101-3 Table 5.5B.4.1-1", 608, 0, 2},
	{"TS 38.101-3 Table 5.5B.4.2-1", 2137, 0, 0},
	{"TS 38.101-3 Table 5.5B.4.3-1", 2102, 0, 10},
	{"TS 38.101-3 Table 5.5B.4.4-1", 821, 0, 1},
	{"TS 38.101-3 Table 5.5B.4.5-1", 95, 0, 0},
	{"TS 38.101-3 Table 5.5B.4a.1-1", 51, 0, 0},
	{"TS 38.101-3 Table 5.5B.4a.2-1", 33, 0, 0},
	{"TS 38.101-3 Table 5.5B.4a.3-1", 24, 0, 0},
	{"TS 38.101-3 Table 5.5B.4a.4-1", 6, 0, 0},
	{"TS 38.101-3 Table 5.5B.5.1-1", 1891, 0, 0},
	{"TS 38.101-3 Table 5.5B.5.2-1", 2293, 0, 1},
	{"TS 38.101-3 Table 5.5B.5.3-1", 1138, 0, 8},
	{"TS 38.101-3 Table 5.5B.5.4-1", 343, 0, 0},
	{"TS 38.101-3 Table 5.5B.5a.1-1", 57, 0, 0},
	{"TS 38.101-3 Table 5.5B.5a.2-1", 104, 0, 0},
	{"TS 38.101-3 Table 5.5B.5a.3-1", 72, 0, 0},
	{"TS 38.101-3 Table 5.5B.5a.4-1", 16, 0, 0},
	{"TS 38.101-3 Table 5.5B.6.2-1", 817, 0, 0},
	{"TS 38.101-3 Table 5.5B.6.3-1", 1169, 0, 2},
	{"TS 38.101-3 Table 5.5B.6.4-1", 775, 0, 0},
	{"TS 38.101-3 Table 5.5B.6.5-1", 168, 0, 3},
	{"TS 38.101-3 Table 5.5B.6a.2-1", 88, 0, 0},
	{"TS 38.101-3 Table 5.5B.6a.3-1", 136, 0, 0},
	{"TS 38.101-3 Table 5.5B.6a.4-1", 80, 0, 0},
	{"TS 38.101-3 Table 5.5B.6a.5-1", 24, 0, 0},
	{"TS 38.101-1 Table 5.5B-1", 240, 0, 0},
	{"TS 38.101-1 Table 5.5B-2", 214, 0, 0},
	{"TS 38.101-1 Table 5.5B-3", 37, 0, 0},
	{"TS 38.101-1 Table 5.5B-4", 10, 0, 0},
	{"TS 38.101-3 Table 5.5B.7-1", 1403, 0, 7},
	{"TS 38.101-3 Table 5.5B.7.2-1", 1396, 0, 18},
	{"TS 38.101-3 Table 5.5B.7-3", 394, 0, 4},
	{"TS 38.101-3 Table 5.5B.7-4", 20, 0, 0},
	{"TS 38.101-3 Table 5.3B.1.2-1", 21, 80, 0},
	{"TS 38.101-3 Table 5.3B.1.3-1", 19, 57, 0},
	{"TS 38.101-3 Table 5.3B.1.3-2", 7, 14, 0},
	{"TS 38.101-3 Table 5.3B.1a.2-1", 4, 8, 0},
	{"TS 38.101-1 Table 5.5C-1", 37, 144, 0},
	{"TS 38.101-1 Table 5.5C-2", 4, 8, 0},
	{"TS 38.101-1 Table 5.5C-3", 15, 60, 0},
	{"TS 38.101-1 Table 5.5C-4", 70, 252, 2},
	{"TS 38.101-1 Table 5.5C-5", 7, 28, 1},
	{"TS 36.101 Table 5.6A.1-1", 39, 124, 0},
	{"TS 36.101 Table 5.6A.1-3", 34, 66, 0},
	{"TS 36.101 Table 5.6A.1-4", 6, 8, 0},
	{"TS 36.101 Table 5.6A.1-5", 1, 1, 0},
	{"TS 36.101 Table 5.6A.1-2", 745, 1696, 0},
	{"TS 36.101 Table 5.6A.1-2a", 721, 2265, 0},
	{"TS 36.101 Table 5.6A.1-2b", 309, 1256, 0},
	{"TS 36.101 Table 5.6A.1-2c", 47, 235, 0},
	{"TS 36.101 Table 5.6A.1-2d", 5, 30, 0},
}

func TestListCounts(t *testing.T) {
	tables := Lists()
	if len(tables) != len(listCounts) {
		t.Errorf("%d tables, want %d", len(tables), len(listCounts))
	}
	unread := 0
	for _, want := range listCounts {
		i := slices.IndexFunc(tables, func(x *ListTable) bool { return x.Short() == want.table })
		if i < 0 {
			t.Errorf("no %s", want.table)
			continue
		}
		c, r := tables[i].Count()
		if c != want.configurations || r != want.rows || tables[i].Unread != want.unread {
			t.Errorf("%s: %d configurations, %d rows, %d unread; want %d, %d, %d",
				want.table, c, r, tables[i].Unread, want.configurations, want.rows, want.unread)
		}
		unread += tables[i].Unread
	}
	if unread != 80 {
		t.Errorf("%d entries left out, want 80", unread)
	}
}

func TestListForm(t *testing.T) {
	for _, name := range ListNames() {
		tables, err := LoadList(name)
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
		var entries, visited []string
		for _, table := range tables {
			if table.Title == "" || table.Version == "" {
				t.Errorf("%s: %s has no title or version", name, table.Source)
			}
			for entry, lines := range table.Entries() {
				entries = append(entries, table.Table+" "+entry+lines)
				if entry != strings.TrimSpace(entry) || entry == "" {
					t.Errorf("%s: name %q", name, entry)
				}
				for line := range strings.Lines(lines) {
					fields := strings.Fields(line)
					if line[0] != ' ' || " "+strings.Join(fields, " ")+"\n" != line {
						t.Errorf("%s: %s: line %q is not one blank and fields parted by one blank", name, entry, line)
					}
				}
			}
		}
		VisitList(name, func(t *ListTable, entry, lines string) { visited = append(visited, t.Table+" "+entry+lines) })
		if !slices.Equal(visited, entries) {
			t.Errorf("%s: %d configurations visited, %d in its tables, or others", name, len(visited), len(entries))
		}
	}
}

// TestListFilesEmbedded compares the files in this directory with those that
// are embedded: a list that is added has to be embedded too.
func TestListFilesEmbedded(t *testing.T) {
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		if name, ok := strings.CutSuffix(e.Name(), ".txt"); ok {
			names = append(names, name)
		}
	}
	if !slices.Equal(names, ListNames()) {
		t.Errorf("files %v, embedded %v", names, ListNames())
	}
}

func TestParseListError(t *testing.T) {
	for _, text := range []string{
		"table TS 1 | 2 | 3",
		"table TS 1 | 2\n",
		"title x\n",
		"CA_1C\n",
		"table TS 1 | 2 | 3\nunread 0\n",
		"table TS 1 | 2 | 3\nsize 3\n",
		"table TS 1 | 2 | 3\n 0 max 40\n",
	} {
		if tables, err := readList("test.txt", text, nil); err == nil {
			t.Errorf("readList(%q) = %v, want an error", text, tables)
		}
	}
	if _, err := LoadList("none"); err == nil {
		t.Error("LoadList(none) is no error")
	}
}

func BenchmarkLists(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		Lists()
	}
}
