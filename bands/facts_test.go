package bands_test

import (
	"encoding/csv"
	"errors"
	"fmt"
	"maps"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"spectally/bands"
)

// The files of testdata/facts hold the rows of the tables of 3GPP, one fact a
// line. A line "# TS 38.101-1 19.5.0 5.2-1" names the specification, its version
// and the table of the lines below it; the first line that is no such line names
// the columns. Frequencies and widths are in the unit that the column says; an
// empty field means that the table has nothing there.

type fact struct {
	source string // "TS 38.101-1 19.5.0 5.2-1"
	fields []string
}

// readFacts reads a file of facts. It fails unless the file has as many facts as
// the printed tables have rows.
func readFacts(t *testing.T, file string, rows int) []fact {
	t.Helper()
	text, err := os.ReadFile("../testdata/facts/" + file + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	var list []fact
	var source, columns string
	for line := range strings.Lines(string(text)) {
		line = strings.TrimSuffix(line, "\n")
		if s, ok := strings.CutPrefix(line, "# "); ok {
			source = s
			continue
		}
		if columns == "" {
			columns = line
			continue
		}
		fields, err := csv.NewReader(strings.NewReader(line)).Read()
		if err != nil {
			t.Fatalf("%s: %q: %v", file, line, err)
		}
		if len(fields) != strings.Count(columns, ",")+1 || source == "" {
			t.Fatalf("%s: %q does not fit the columns %s, or has no source", file, line, columns)
		}
		list = append(list, fact{source, fields})
	}
	if len(list) != rows {
		t.Fatalf("%s: %d facts, want %d", file, len(list), rows)
	}
	return list
}

// answers collects rows that the package gives, in the form of a file of facts.
type answers struct{ lines []string }

func (a *answers) add(s bands.Source, fields ...any) {
	a.lines = append(a.lines, answerLine(s.Spec+" "+s.Version+" "+s.Table, fields...))
}

func answerLine(source string, fields ...any) string {
	line := source + " |"
	for _, f := range fields {
		line += fmt.Sprintf(" %v |", f)
	}
	return line
}

// matchFacts compares what the package gives with the facts of a file, both ways:
// every row is there as often as in the tables, and there is no other.
func matchFacts(t *testing.T, file string, rows int, got *answers) {
	t.Helper()
	count := make(map[string]int)
	for _, f := range readFacts(t, file, rows) {
		fields := make([]any, len(f.fields))
		for i, s := range f.fields {
			fields[i] = s
		}
		count[answerLine(f.source, fields...)]++
	}
	for _, line := range got.lines {
		count[line]--
	}
	for _, line := range slices.Sorted(maps.Keys(count)) {
		switch n := count[line]; {
		case n > 0:
			t.Errorf("missing: %s", line)
		case n < 0:
			t.Errorf("not in the tables: %s", line)
		}
	}
}

// mustLookup finds a band written as in a command.
func mustLookup(t testing.TB, s string) *bands.Band {
	t.Helper()
	id, err := bands.ParseID(s)
	if err != nil {
		t.Fatal(err)
	}
	b, err := bands.Lookup(id)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func mhz(t testing.TB, s string) bands.Frequency {
	t.Helper()
	f, err := bands.ParseMHz(s)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// known writes a frequency in megahertz, or nothing if it is not known.
func known(f bands.Frequency, ok bool) string {
	if !ok {
		return ""
	}
	return f.MHz()
}

func edges(s bands.Span) (low, high string) {
	return known(s.Low, !s.IsZero()), known(s.High, !s.IsZero())
}

// oneWay writes directions as the files of facts do.
func oneWay(downlink, uplink bool) string {
	switch {
	case downlink && uplink:
		return "both"
	case downlink:
		return "dl"
	case uplink:
		return "ul"
	}
	return "none"
}

// wantError checks a whole error line, and that it is a ValueError.
func wantError(t testing.TB, err error, want string) {
	t.Helper()
	var value *bands.ValueError
	if !errors.As(err, &value) || err.Error() != want {
		t.Errorf("error %v\nwant  %s", err, want)
	}
}

func atoi(t testing.TB, s string) int {
	t.Helper()
	n, err := strconv.Atoi(s)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func itoa(n int) string { return strconv.Itoa(n) }
