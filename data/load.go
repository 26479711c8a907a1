// Package data holds the tables of the standards that spectally answers from:
// TOML files, one for each table family, embedded in the program and read on
// first use.
//
// Every file is a list of tables; each table names its specification, version
// and table number and holds its rows as lines of text:
//
//	[[table]]
//	id      = "fr1"
//	spec    = "TS 38.101-1"
//	version = "19.5.0"
//	table   = "5.2-1"
//	title   = "NR operating bands in FR1"
//	columns = "band uplink downlink duplex"
//	rows    = '''
//	n1   1920-1980  2110-2170  FDD
//	n3   1710-1785  1805-1880  FDD
//	'''
//
// The facts are those of the standards; the selection, the notes and the form
// are this project's own.
package data

import (
	"embed"
	"fmt"
	"io/fs"
	"strconv"
	"strings"
	"sync"

	"github.com/BurntSushi/toml"
)

//go:embed *.toml
var files embed.FS

// Load reads a file of tables, named without its ending.
func Load(name string) ([]*Table, error) {
	file := name + ".toml"
	text, err := files.ReadFile(file)
	if err != nil {
		return nil, fmt.Errorf("data: no file %s", file)
	}
	return decode(file, string(text))
}

// decode reads the text of a file of tables.
func decode(file, text string) ([]*Table, error) {
	rest, blocks := cutRows(text)
	var doc struct{ Table []tableText }
	meta, err := toml.Decode(rest, &doc)
	if err != nil {
		return nil, fmt.Errorf("data/%s: %w", file, err)
	}
	if extra := meta.Undecoded(); len(extra) > 0 {
		return nil, fmt.Errorf("data/%s: unknown key %s", file, extra[0])
	}
	tables := make([]*Table, 0, len(doc.Table))
	for i := range doc.Table {
		text := &doc.Table[i]
		if k, ok := rowsPlace(text.Rows); ok && k < len(blocks) {
			text.Rows = blocks[k]
		}
		t, err := text.parse(file)
		if err != nil {
			return nil, err
		}
		tables = append(tables, t)
	}
	return tables, nil
}

// placeMark begins what stands in place of rows that were cut out.
const placeMark = "rows cut out: "

// cutRows takes the blocks of rows out of a file of tables and leaves marks in
// their places: reading such a block as TOML takes several times as long as
// splitting it into rows, and the start of the program waits for it. What is left
// is TOML with as many lines as before, so that errors name the right line. A
// block that is not written as the package comment shows stays where it is.
func cutRows(text string) (rest string, blocks []string) {
	var b strings.Builder
	for {
		before, after, opened := strings.Cut(text, "\nrows    = '''\n")
		block, next, closed := strings.Cut(after, "\n'''\n")
		if !opened || !closed || strings.HasPrefix(after, "'''") {
			b.WriteString(text)
			return b.String(), blocks
		}
		lines := strings.Repeat("\n", strings.Count(block, "\n")+3)
		fmt.Fprintf(&b, "%s\nrows = '%s%d'%s", before, placeMark, len(blocks), lines)
		blocks = append(blocks, block)
		text = next
	}
}

// rowsPlace returns the number of the block whose place a mark holds.
func rowsPlace(rows string) (int, bool) {
	number, ok := strings.CutPrefix(rows, placeMark)
	if !ok {
		return 0, false
	}
	k, err := strconv.Atoi(number)
	return k, err == nil
}

// Lazy returns a function that reads a file of tables when it is first called.
// It panics if the file is at fault: the files are embedded and the tests of
// this package read them all, so that is a fault of the build and no input can
// cause it.
func Lazy(name string) func() []*Table {
	return sync.OnceValue(func() []*Table {
		tables, err := Load(name)
		if err != nil {
			panic(err)
		}
		return tables
	})
}

// Together reads files side by side, given as what [Lazy] returned for them.
func Together(tables ...func() []*Table) {
	var all sync.WaitGroup
	for _, read := range tables {
		all.Go(func() { read() })
	}
	all.Wait()
}

// Find returns the table with the given id. It panics if there is none.
func Find(tables []*Table, id string) *Table {
	for _, t := range tables {
		if t.ID == id {
			return t
		}
	}
	panic(fmt.Sprintf("data: no table %q", id))
}

// Names lists the files of tables, without their ending, in order of name.
func Names() []string {
	entries, err := fs.Glob(files, "*.toml")
	if err != nil {
		panic(err)
	}
	for i, e := range entries {
		entries[i] = strings.TrimSuffix(e, ".toml")
	}
	return entries
}
