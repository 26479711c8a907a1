package data

import (
	_ "embed"
	"fmt"
	"iter"
	"strconv"
	"strings"
)

// The files are embedded as strings, so that reading one copies nothing.
var (
	//go:embed ca_endc_2.txt
	endc2Text string
	//go:embed ca_endc_3.txt
	endc3Text string
	//go:embed ca_endc_4.txt
	endc4Text string
	//go:embed ca_endc_5.txt
	endc5Text string
	//go:embed ca_endc_intra.txt
	endcIntraText string
	//go:embed ca_lte.txt
	lteText string
	//go:embed ca_nr_inter_2.txt
	nrInter2Text string
	//go:embed ca_nr_inter_3.txt
	nrInter3Text string
	//go:embed ca_nr_inter_4.txt
	nrInter4Text string
	//go:embed ca_nr_intra.txt
	nrIntraText string
	//go:embed ca_nr_mixed_2.txt
	nrMixed2Text string
	//go:embed ca_nr_mixed_3.txt
	nrMixed3Text string
	//go:embed ca_nr_mixed_4.txt
	nrMixed4Text string
	//go:embed ca_nrdc_2.txt
	nrdc2Text string
	//go:embed ca_nrdc_3.txt
	nrdc3Text string
	//go:embed ca_sul.txt
	sulText string
)

var listFiles = [...]struct {
	name string
	text *string
}{
	{"ca_endc_2", &endc2Text},
	{"ca_endc_3", &endc3Text},
	{"ca_endc_4", &endc4Text},
	{"ca_endc_5", &endc5Text},
	{"ca_endc_intra", &endcIntraText},
	{"ca_lte", &lteText},
	{"ca_nr_inter_2", &nrInter2Text},
	{"ca_nr_inter_3", &nrInter3Text},
	{"ca_nr_inter_4", &nrInter4Text},
	{"ca_nr_intra", &nrIntraText},
	{"ca_nr_mixed_2", &nrMixed2Text},
	{"ca_nr_mixed_3", &nrMixed3Text},
	{"ca_nr_mixed_4", &nrMixed4Text},
	{"ca_nrdc_2", &nrdc2Text},
	{"ca_nrdc_3", &nrdc3Text},
	{"ca_sul", &sulText},
}

// ListTable is a table of a standard that lists configurations by name.
type ListTable struct {
	Source
	// Title says in a few words what the table holds.
	Title string
	// Unread counts the entries of the printed table that are left out because
	// their reading is not certain.
	Unread int
	// Text holds the lines of the table.
	Text string
}

// Entries yields the name of every configuration in the order of the table,
// with its lines: each begins with a blank and ends with a line end. The texts
// are parts of Text, so that nothing is copied.
func (t *ListTable) Entries() iter.Seq2[string, string] {
	return func(yield func(name, lines string) bool) {
		for rest := t.Text; rest != ""; {
			name, lines, left := cutEntry(rest)
			if !yield(name, lines) {
				return
			}
			rest = left
		}
	}
}

// Count returns the number of configurations of the table and of the rows of
// their bandwidth combination sets.
func (t *ListTable) Count() (configurations, rows int) {
	for _, lines := range t.Entries() {
		configurations++
		for line := range strings.Lines(lines) {
			if line[1] >= '0' && line[1] <= '9' && !strings.Contains(line, " max ") {
				rows++
			}
		}
	}
	return configurations, rows
}

// LoadList reads a list of configurations, named without its ending. The lists
// are too long for TOML: they are texts of one line for every configuration, set
// and component, which are read by cutting lines out of them. The head of every
// file tells what its lines mean; all have the form
//
//	# remark
//	table TS 38.101-1 | 19.5.0 | 5.5A.3.1-1a
//	title NR CA of two bands, FR1, part a
//	unread 2
//	CA_n1A-n3A
//	 0 n1 5 10 15 20
//	 0 n3 5 10 15 20 25 30
//	 ul CA_n1A-n3A
//
// where "unread" counts the entries of the printed table that stay out because
// their reading is not certain, and is absent if there are none. An empty line
// ends a table.
func LoadList(name string) ([]*ListTable, error) { return loadList(name, nil) }

func loadList(name string, visit func(t *ListTable, name, lines string)) ([]*ListTable, error) {
	for _, f := range listFiles {
		if f.name == name {
			return readList(name+".txt", *f.text, visit)
		}
	}
	return nil, fmt.Errorf("data: no file %s.txt", name)
}

// readList reads the tables of a list in one pass, and shows every configuration with
// its table as soon as it comes to it; visit may be nil.
func readList(file, text string, visit func(t *ListTable, name, lines string)) ([]*ListTable, error) {
	if text != "" && !strings.HasSuffix(text, "\n") {
		return nil, fmt.Errorf("data/%s: the last line is not ended", file)
	}
	var tables []*ListTable
	var t *ListTable
	for rest := text; rest != ""; {
		line, after, _ := strings.Cut(rest, "\n")
		if t != nil && line != "" && line[0] >= 'A' && line[0] <= 'Z' && t.Text == "" {
			entries := rest
			for rest != "" && rest[0] != '\n' {
				name, lines, left := cutEntry(rest)
				if visit != nil {
					visit(t, name, lines)
				}
				rest = left
			}
			t.Text = entries[:len(entries)-len(rest)]
			continue
		}
		rest = after
		key, value, _ := strings.Cut(line, " ")
		switch {
		case line == "" || key == "#":
		case key == "table":
			f := strings.Split(value, " | ")
			if len(f) != 3 || f[0] == "" || f[1] == "" || f[2] == "" {
				return nil, fmt.Errorf("data/%s: %q names no specification, version and table", file, line)
			}
			t = &ListTable{Source: Source{f[0], f[1], f[2]}}
			tables = append(tables, t)
		case t == nil:
			return nil, fmt.Errorf("data/%s: %q stands before any table", file, line)
		case key == "title":
			t.Title = value
		case key == "unread":
			n, err := strconv.Atoi(value)
			if err != nil || n < 1 {
				return nil, fmt.Errorf("data/%s: %q counts nothing", file, line)
			}
			t.Unread = n
		default:
			return nil, fmt.Errorf("data/%s: %q is neither a line of a table's head nor a name", file, line)
		}
	}
	return tables, nil
}

// cutEntry cuts the first configuration off the entries of a table: its name, and its
// lines.
func cutEntry(entries string) (name, lines, rest string) {
	name, rest, _ = strings.Cut(entries, "\n")
	stop := 0
	for stop < len(rest) && rest[stop] == ' ' {
		stop += strings.IndexByte(rest[stop:], '\n') + 1
	}
	return name, rest[:stop], rest[stop:]
}

// VisitList shows every configuration of a list with its table: the name, and the lines
// below it, each of which begins with a blank and ends with a line end. All are parts of
// the embedded text, so that a pass over it copies nothing and takes a millisecond. It
// panics if the file is at fault, as [Lazy] does.
func VisitList(name string, visit func(t *ListTable, name, lines string)) {
	if _, err := loadList(name, visit); err != nil {
		panic(err)
	}
}

// ListNames lists the files of lists, without their ending, in order of name.
func ListNames() []string {
	names := make([]string, len(listFiles))
	for i, f := range listFiles {
		names[i] = f.name
	}
	return names
}

// Lists reads every list and returns their tables, file by file in order of
// name: the counterpart of [Names] and [Load] for the lists of configurations.
func Lists() []*ListTable {
	var all []*ListTable
	for _, name := range ListNames() {
		tables, err := LoadList(name)
		if err != nil {
			panic(err) // embedded and read by the tests: a fault of the build
		}
		all = append(all, tables...)
	}
	return all
}
