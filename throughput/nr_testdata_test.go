package throughput

import (
	"os"
	"strings"
	"testing"
)

// nrSection is a part of a file of check values: its heading without the brackets
// and the fields of its lines. Lines before the first heading have none.
type nrSection struct {
	heading []string
	rows    [][]string
}

// nrReadSections reads a file of check values: lines of fields, headings in
// brackets, remarks after #.
func nrReadSections(t testing.TB, name string) []nrSection {
	t.Helper()
	text, err := os.ReadFile("../testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	sections := []nrSection{{}}
	for line := range strings.Lines(string(text)) {
		line = strings.TrimSpace(line)
		switch {
		case line == "" || line[0] == '#':
		case line[0] == '[':
			sections = append(sections, nrSection{heading: strings.Fields(strings.Trim(line, "[]"))})
		default:
			last := &sections[len(sections)-1]
			last.rows = append(last.rows, strings.Fields(line))
		}
	}
	return sections
}

// nrTestMCS finds the row of an MCS table that a check names, and fails if its
// modulation order or rate (times 1024, as printed) is another one. Without a table
// the two figures are taken as they stand.
func nrTestMCS(t testing.TB, table, index, qm, rate string) NRMCS {
	t.Helper()
	m := NRMCS{Qm: tableInt(qm), Rate2048: nrRate2048(rate)}
	if table == "-" {
		return m
	}
	tab, err := ParseNRMCSTable(table)
	if err != nil {
		t.Fatal(err)
	}
	row, err := tab.MCS(tableInt(index), m.Qm == 1)
	if err != nil {
		t.Fatal(err)
	}
	if row.Qm != m.Qm || row.Rate2048 != m.Rate2048 {
		t.Fatalf("MCS %s of %s is %+v, want Qm %s rate %s/1024", index, table, row, qm, rate)
	}
	return row
}
