package data

import (
	_ "embed"
	"fmt"
	"iter"
	"strconv"
	"strings"
	"sync"
)

// The files are embedded as strings, so that reading one copies nothing.
var (
	//go:embed ca_endc.txt
	endcText string
	//go:embed ca_endc_intra.txt
	endcIntraText string
	//go:embed ca_lte.txt
	lteText string
	//go:embed ca_nr_inter.txt
	nrInterText string
	//go:embed ca_nr_intra.txt
	nrIntraText string
	//go:embed ca_nr_mixed.txt
	nrMixedText string
	//go:embed ca_nrdc.txt
	nrdcText string
	//go:embed ca_sul.txt
	sulText string
)

var listFiles = [...]struct {
	name string
	text *string
}{
	{"ca_endc", &endcText},
	{"ca_endc_intra", &endcIntraText},
	{"ca_lte", &lteText},
	{"ca_nr_inter", &nrInterText},
	{"ca_nr_intra", &nrIntraText},
	{"ca_nr_mixed", &nrMixedText},
	{"ca_nrdc", &nrdcText},
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
			end := strings.IndexByte(rest, '\n')
			name := rest[:end]
			rest = rest[end+1:]
			stop := 0
			for stop < len(rest) && rest[stop] == ' ' {
				stop += strings.IndexByte(rest[stop:], '\n') + 1
			}
			if !yield(name, rest[:stop]) {
				return
			}
			rest = rest[stop:]
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
func LoadList(name string) ([]ListTable, error) {
	for _, f := range listFiles {
		if f.name == name {
			return parseList(name+".txt", *f.text)
		}
	}
	return nil, fmt.Errorf("data: no file %s.txt", name)
}

func parseList(file, text string) ([]ListTable, error) {
	if text != "" && !strings.HasSuffix(text, "\n") {
		return nil, fmt.Errorf("data/%s: the last line is not ended", file)
	}
	var tables []ListTable
	for text != "" {
		line, rest, _ := strings.Cut(text, "\n")
		key, value, _ := strings.Cut(line, " ")
		t := last(tables)
		switch {
		case line == "" || key == "#":
		case key == "table":
			f := strings.Split(value, " | ")
			if len(f) != 3 || f[0] == "" || f[1] == "" || f[2] == "" {
				return nil, fmt.Errorf("data/%s: %q names no specification, version and table", file, line)
			}
			tables = append(tables, ListTable{Source: Source{f[0], f[1], f[2]}})
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
		case line[0] >= 'A' && line[0] <= 'Z' && t.Text == "":
			t.Text, rest = cutEntries(text)
		default:
			return nil, fmt.Errorf("data/%s: %q is neither a line of a table's head nor a name", file, line)
		}
		text = rest
	}
	return tables, nil
}

func last(tables []ListTable) *ListTable {
	if len(tables) == 0 {
		return nil
	}
	return &tables[len(tables)-1]
}

// cutEntries cuts text before the empty line that ends a table.
func cutEntries(text string) (entries, rest string) {
	if i := strings.Index(text, "\n\n"); i >= 0 {
		return text[:i+1], text[i+1:]
	}
	return text, ""
}

// LazyList returns a function that reads a list when it is first called. It
// panics if the file is at fault, as [Lazy] does.
func LazyList(name string) func() []ListTable {
	return sync.OnceValue(func() []ListTable {
		tables, err := LoadList(name)
		if err != nil {
			panic(err)
		}
		return tables
	})
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
func Lists() []ListTable {
	var all []ListTable
	for _, name := range ListNames() {
		tables, err := LoadList(name)
		if err != nil {
			panic(err) // embedded and read by the tests: a fault of the build
		}
		all = append(all, tables...)
	}
	return all
}
