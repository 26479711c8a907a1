package nr

import (
	"os"
	"strings"
	"testing"

	"spectally/throughput/internal/printed"
)

// section is a part of a file of check values: its heading without the brackets
// and the fields of its lines. Lines before the first heading have none.
type section struct {
	heading []string
	rows    [][]string
}

// readSections reads a file of check values: lines of fields, headings in
// brackets, remarks after #.
func readSections(t testing.TB, name string) []section {
	t.Helper()
	text, err := os.ReadFile("../../testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	sections := []section{{}}
	for line := range strings.Lines(string(text)) {
		line = strings.TrimSpace(line)
		switch {
		case line == "" || line[0] == '#':
		case line[0] == '[':
			sections = append(sections, section{heading: strings.Fields(strings.Trim(line, "[]"))})
		default:
			last := &sections[len(sections)-1]
			last.rows = append(last.rows, strings.Fields(line))
		}
	}
	return sections
}

// testMCS finds the row of an MCS table that a check names, and fails if its
// modulation order or rate (times 1024, as printed) is another one. Without a table
// the two figures are taken as they stand.
func testMCS(t testing.TB, table, index, qm, rate string) MCS {
	t.Helper()
	m := MCS{Qm: printed.Int(qm), Rate2048: rate2048(rate)}
	if table == "-" {
		return m
	}
	tab, err := ParseMCSTable(table)
	if err != nil {
		t.Fatal(err)
	}
	row, err := tab.MCS(printed.Int(index), m.Qm == 1)
	if err != nil {
		t.Fatal(err)
	}
	if row.Qm != m.Qm || row.Rate2048 != m.Rate2048 {
		t.Fatalf("MCS %s of %s is %+v, want Qm %s rate %s/1024", index, table, row, qm, rate)
	}
	return row
}
