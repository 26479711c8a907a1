package bands_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"spectally/bands"
)

// TS 38.104 V19.4.0 Tables 5.4.3.1-1, -2 and -3, TS 38.101-5 V19.4.0 Table
// 5.4.3.1-2: the first and last number of every row lie where its formula puts
// them, and no number is outside the rows.
func TestGlobalSyncRaster(t *testing.T) {
	facts := readFacts(t, "nr_gscn_global", 8)
	covered := make(map[bands.GSCN]bool)
	for _, f := range facts {
		first, last := bands.GSCN(atoi(t, f.fields[6])), bands.GSCN(atoi(t, f.fields[7]))
		for g := first; g <= last; g++ {
			covered[g] = true
		}
		low, high := mhz(t, f.fields[1]), mhz(t, f.fields[2])
		at, err := first.Frequency()
		if err != nil || at < low || at > high {
			t.Errorf("GSCN %d: %s, %v; want %s to %s", first, at, err, low, high)
		}
		end, err := last.Frequency()
		if err != nil || end < low || end > high {
			t.Errorf("GSCN %d: %s, %v; want %s to %s", last, end, err, low, high)
		}
		if f.fields[5] != "" || f.fields[4] == "" {
			continue // three numbers on a step, or one number alone: see the test of every number
		}
		step, err := bands.ParseFrequency(f.fields[4] + " kHz")
		if err != nil {
			t.Fatal(err)
		}
		if base := mhz(t, f.fields[3]); at != base || end != base+step*bands.Frequency(last-first) {
			t.Errorf("GSCN %d is %s, %d is %s; want %s and steps of %s", first, at, last, end, base, step)
		}
	}
	for g := bands.GSCN(-10); g < 50000; g++ {
		if _, err := g.Frequency(); (err == nil) != covered[g] {
			t.Errorf("GSCN %d: %v; in the tables: %v", g, err, covered[g])
		}
	}
}

func syncChannels(s *bands.SyncRaster) string {
	if s.Narrow {
		return "3 MHz"
	}
	return "above 3 MHz"
}

// TS 38.101-1 V19.5.0 Tables 5.4.3.3-1 and -2, TS 38.101-2 V19.4.0 Table 5.4.3.3-1,
// TS 38.101-5 V19.4.0 Tables 5.4.3.3-1, -1a and -2.
func TestSyncRasters(t *testing.T) {
	var got answers
	for _, b := range bands.All(0) {
		for _, s := range b.SyncRasters() {
			first, step, last := "", "", ""
			if s.Step != 0 {
				first, step, last = strconv.Itoa(int(s.First)), strconv.Itoa(int(s.Step)), strconv.Itoa(int(s.Last))
			}
			got.add(s.Source, b.ID, s.SCS.KHz(), s.Pattern, first, step, last, syncChannels(&s), s.Note)
		}
	}
	matchFacts(t, "nr_sync_rasters", 125, &got)
}

// TS 38.101-1 V19.5.0 Table 5.4.3.3-1 NOTES 2 to 6 and 9, TS 38.101-2 V19.4.0 Table
// 5.4.3.3-2. What the tables say of an entry stands in the note of its run.
func TestListedGSCN(t *testing.T) {
	notes := make(map[string]string)
	for _, f := range readFacts(t, "nr_listed_gscn", 315) {
		notes[strings.Join(f.fields[:3], " ")] = f.fields[3]
	}
	var got answers
	for _, b := range bands.All(0) {
		for _, s := range b.SyncRasters() {
			if !slices.IsSorted(s.List) {
				t.Errorf("%s %s: the list is not in rising order", b.ID, s.SCS)
			}
			for _, g := range s.List {
				note := notes[strings.Join([]string{b.ID.String(), s.SCS.KHz(), strconv.Itoa(int(g))}, " ")]
				if !strings.Contains(s.Note, note) {
					t.Errorf("%s GSCN %d: %q does not stand in %q", b.ID, g, note, s.Note)
				}
				got.add(s.ListSource, b.ID, s.SCS.KHz(), g, note)
			}
		}
	}
	matchFacts(t, "nr_listed_gscn", 315, &got)
}
