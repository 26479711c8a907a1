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
	"io"
	"io/fs"
	"strings"
	"sync"
)

//go:embed *.toml
var files embed.FS

// Load reads a file of tables, named without its ending.
func Load(name string) ([]*Table, error) {
	file := name + ".toml"
	text, err := readFile(file)
	if err != nil {
		return nil, fmt.Errorf("data: no file %s", file)
	}
	return decode(file, text)
}

// readFile returns an embedded file, copied once.
func readFile(file string) (string, error) {
	f, err := files.Open(file)
	if err != nil {
		return "", err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return "", err
	}
	var text strings.Builder
	text.Grow(int(info.Size()))
	_, err = io.CopyBuffer(&text, f, make([]byte, 4<<10))
	return text.String(), err
}

// decode reads the text of a file of tables.
func decode(file, text string) ([]*Table, error) {
	list, err := readPlain(text)
	if err != nil {
		return nil, fmt.Errorf("data/%s: %w", file, err)
	}
	tables := make([]*Table, 0, len(list))
	for i := range list {
		t, err := list[i].parse(file)
		if err != nil {
			return nil, err
		}
		tables = append(tables, t)
	}
	return tables, nil
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
