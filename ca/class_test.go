package ca_test

import (
	"encoding/csv"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"spectally/bands"
	"spectally/ca"
)

// fact is a line of a file of testdata/facts: lines "# TS 38.101-1 19.5.0 5.2-1" name
// the source of those below, lines "##" are remarks, and the first other line names
// the columns.
type fact struct {
	source string
	fields []string
}

func readFacts(t testing.TB, file string, rows int) []fact {
	t.Helper()
	text, err := os.ReadFile("../testdata/facts/" + file + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	var list []fact
	var source, columns string
	for line := range strings.Lines(string(text)) {
		line = strings.TrimSuffix(line, "\n")
		switch {
		case strings.HasPrefix(line, "##"):
			continue
		case strings.HasPrefix(line, "# "):
			source = line[2:]
			continue
		case columns == "":
			columns = line
			continue
		}
		fields, err := csv.NewReader(strings.NewReader(line)).Read()
		if err != nil || len(fields) != strings.Count(columns, ",")+1 || source == "" {
			t.Fatalf("%s: %q: %v", file, line, err)
		}
		list = append(list, fact{source, fields})
	}
	if len(list) != rows {
		t.Fatalf("%s: %d facts, want %d", file, len(list), rows)
	}
	return list
}

func number(t testing.TB, field string) int {
	t.Helper()
	if field == "" {
		return 0
	}
	n, err := strconv.Atoi(field)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func megahertz(t testing.TB, field string) bands.Frequency {
	t.Helper()
	f, err := bands.ParseMHz(field)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func lookup(t testing.TB, id string) *bands.Band {
	t.Helper()
	parsed, err := bands.ParseID(id)
	if err != nil {
		t.Fatal(err)
	}
	b, err := bands.Lookup(parsed)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// classFact is a row of a class table, read for a kind of band.
type classFact struct {
	class          string
	carriers       int
	over, from, to int // megahertz, or resource blocks for LTE
	groups         string
	widest         int
	source         string
}

// classFacts reads the classes that hold for a band.
func classFacts(t testing.TB, b *bands.Band) []classFact {
	t.Helper()
	var list []classFact
	if b.ID.RAT == bands.LTE {
		for _, f := range readFacts(t, "lte_ca_classes", 7) {
			list = append(list, classFact{class: f.fields[0], carriers: number(t, f.fields[1]), over: number(t, f.fields[2]), to: number(t, f.fields[3]), source: f.source})
		}
		return list
	}
	for _, f := range readFacts(t, "nr_ca_classes", 47) {
		v := f.fields
		if (v[0] == "FR2") != b.Range.IsFR2() || v[8] == "shared" && !b.IsShared() || v[8] == "FR2-2" && b.Range != bands.FR22 {
			continue
		}
		groups := strings.ReplaceAll(v[6], "|3*", "")
		if b.IsShared() {
			groups = strings.ReplaceAll(v[6], "*", "")
		}
		list = append(list, classFact{v[1], number(t, v[2]), number(t, v[3]), number(t, v[4]), number(t, v[5]), groups, number(t, v[7]), f.source})
	}
	return list
}

// Every row of the class tables comes out of ClassRows, for every band there is.
func TestClassRows(t *testing.T) {
	for _, b := range bands.All(0) {
		var want, got []string
		for _, f := range classFacts(t, b) {
			want = append(want, fmt.Sprintf("%s %d carriers, over %d, from %d to %d, groups %s, widest %d (%s)", f.class, f.carriers, f.over, f.from, f.to, f.groups, f.widest, f.source))
		}
		unit := int64(mhz)
		if b.ID.RAT == bands.LTE {
			unit = 1
		}
		for _, c := range ca.ClassRows(b) {
			over, from := c.Over/unit, int64(0)
			if c.Inclusive {
				over, from = from, over
			}
			groups := strings.ReplaceAll(strings.Trim(fmt.Sprint(c.Groups), "[]"), " ", "|")
			source := c.Source.Spec + " " + c.Source.Version + " " + c.Source.Table
			got = append(got, fmt.Sprintf("%s %d carriers, over %d, from %d to %d, groups %s, widest %d (%s)", c.Class, c.Carriers, over, from, c.Max/unit, groups, c.Widest/mhz, source))
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%v: classes (-want +got):\n%s", b.ID, diff)
		}
	}
}

// fits is the plain reading of a row.
func (f classFact) fits(sum, widest, carriers int) bool {
	switch {
	case carriers != f.carriers:
		return false
	case carriers == 1:
		return true
	case f.widest != 0 && widest > f.widest:
		return false
	case f.from != 0:
		return f.from <= sum && sum <= f.to
	}
	return f.over < sum && sum <= f.to
}

func wantClasses(facts []classFact, sum, widest, carriers int) []ca.Class {
	var list []ca.Class
	for _, f := range facts {
		if f.fits(sum, widest, carriers) {
			list = append(list, ca.Class(f.class))
		}
	}
	return list
}

// Every whole number of megahertz in up to 13 carriers, alike and as unlike as can
// be, in a band of each kind.
func TestClassesNR(t *testing.T) {
	for _, id := range []string{"n78", "n46", "n257", "n263", "n256", "n512"} {
		b := lookup(t, id)
		facts := classFacts(t, b)
		for n := 1; n <= 13; n++ {
			for sum := n; sum <= 2500; sum++ {
				even := make([]bands.Frequency, n)
				for i := range even {
					even[i] = bands.Frequency((sum+i)/n) * mhz
				}
				uneven := slices.Repeat([]bands.Frequency{mhz}, n)
				uneven[n/2] = bands.Frequency(sum-n+1) * mhz
				for _, widths := range [][]bands.Frequency{even, uneven} {
					want := wantClasses(facts, sum, int(slices.Max(widths)/mhz), n)
					if got := ca.Classes(b, widths); !slices.Equal(got, want) {
						t.Fatalf("%s: %d carriers, %d MHz, widest %v: %v, want %v", id, n, sum, slices.Max(widths), got, want)
					}
				}
			}
		}
	}
}

// Every choice of up to nine LTE widths, by resource blocks (TS 36.101 V19.6.0 Table
// 5.6-1).
func TestClassesLTE(t *testing.T) {
	blocks := []struct {
		width bands.Frequency
		n     int
	}{{1400 * bands.KHz, 6}, {3 * mhz, 15}, {5 * mhz, 25}, {10 * mhz, 50}, {15 * mhz, 75}, {20 * mhz, 100}}
	b := lookup(t, "B3")
	facts := classFacts(t, b)
	found := make(map[ca.Class]bool)
	var choose func(widths []bands.Frequency, sum, from int)
	choose = func(widths []bands.Frequency, sum, from int) {
		if len(widths) > 0 {
			want := wantClasses(facts, sum, 0, len(widths))
			got := ca.Classes(b, widths)
			if !slices.Equal(got, want) {
				t.Fatalf("%v: %v, want %v", widths, got, want)
			}
			for _, c := range got {
				found[c] = true
			}
		}
		if len(widths) == 9 {
			return
		}
		for i := from; i < len(blocks); i++ {
			choose(append(widths, blocks[i].width), sum+blocks[i].n, i)
		}
	}
	choose(nil, 0, 0)
	if len(found) != 7 {
		t.Errorf("the choices form %v, want all seven classes", found)
	}
}

// Usual widths on either side of the limits, worked by hand from TS 36.101 Table
// 5.6A-1, TS 38.101-1 Table 5.3A.5-1 and TS 38.101-2 Table 5.3A.4-1.
func TestClassesAtLimits(t *testing.T) {
	for _, test := range []struct {
		band   string
		widths []bands.Frequency
		want   string
	}{
		{"B3", []bands.Frequency{20, 20}, "[C]"},
		{"B3", []bands.Frequency{10, 10}, "[B]"}, // 100 resource blocks are not over 100
		{"B7", []bands.Frequency{10, 15}, "[C]"},
		{"B7", []bands.Frequency{5, 20}, "[C]"},
		{"B41", []bands.Frequency{20, 20, 20}, "[D]"},
		{"B41", []bands.Frequency{20, 15, 10}, "[D]"},
		{"B41", []bands.Frequency{20, 10, 10}, "[]"}, // 200 resource blocks are not over 200
		{"n7", []bands.Frequency{10, 10}, "[B]"},     // 20 MHz by the sum of the widths
		{"n78", []bands.Frequency{50, 50}, "[B]"},
		{"n78", []bands.Frequency{100, 10}, "[C]"},
		{"n78", []bands.Frequency{100, 100}, "[C]"},
		{"n48", []bands.Frequency{40, 40, 40}, "[G]"},
		{"n46", []bands.Frequency{20, 20, 20}, "[M]"},
		{"n46", []bands.Frequency{80, 80, 80}, "[D]"},
		{"n257", []bands.Frequency{100, 100}, "[G O R2]"},
		{"n260", []bands.Frequency{50, 50}, "[O]"},
		{"n258", []bands.Frequency{400, 400}, "[B]"},
	} {
		for i := range test.widths {
			test.widths[i] *= mhz
		}
		if got := fmt.Sprint(ca.Classes(lookup(t, test.band), test.widths)); got != test.want {
			t.Errorf("%s %v: %s, want %s", test.band, test.widths, got, test.want)
		}
	}
}
