package ca

import (
	"slices"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/data/pace"
)

// bruteTotals returns every total of a set within one band, by trying all widths
// of all carriers against the class and the maximum; nil if there are too many.
func bruteTotals(t *testing.T, c Configuration, s Set) map[bands.Frequency]bool {
	k := c.Name().Components()[0]
	lists := [][]bands.Frequency{}
	for _, x := range s.Components {
		if x.Ref != "" || len(x.Carriers) > 3 {
			return nil
		}
		lists = append(lists, x.Carriers...)
	}
	totals := map[bands.Frequency]bool{}
	var try func(chosen []bands.Frequency)
	try = func(chosen []bands.Frequency) {
		if len(chosen) < len(lists) {
			for _, f := range lists[len(chosen)] {
				try(append(chosen, f))
			}
			return
		}
		var sum bands.Frequency
		for _, f := range chosen {
			sum += f
		}
		if len(k.Blocks) == 1 && !classAllows(k.Band, k.Blocks[0], chosen) || s.MaxAggregated != 0 && sum > s.MaxAggregated {
			return
		}
		totals[sum] = true
	}
	try(nil)
	return totals
}

// TestMaxDLOfBands compares the widest totals within one band with those found
// by trying every combination.
func TestMaxDLOfBands(t *testing.T) {
	compared := 0
	for c := range All(KindLTECA, KindNRCA) {
		if len(c.Name().Components()) > 1 {
			continue
		}
		var most bands.Frequency
		complete := true
		for _, s := range c.Sets() {
			totals := bruteTotals(t, c, s)
			complete = complete && totals != nil
			for f := range totals {
				most = max(most, f)
			}
		}
		if !complete {
			continue
		}
		compared++
		if c.MaxDL() != most {
			t.Errorf("%s: widest %v, by trying %v", c.Name(), c.MaxDL(), most)
		}
	}
	if compared < 120 {
		t.Errorf("%d configurations compared", compared)
	}
}

// TestMaxDL compares the widest totals with hand-picked figures.
func TestMaxDL(t *testing.T) {
	for _, c := range []struct {
		name   string
		want   bands.Frequency
		reason string
	}{
		{"CA_1C", 40, "TS 36.101 V19.6.0 Table 5.6A.1-1: 20 + 20"},
		{"CA_3A-41A", 40, "TS 36.101 V19.6.0 Table 5.6A.1-2"},
		{"CA_40D-42A", 80, "Table 5.6A.1-2 prints 100, its widths reach 80"},
		{"CA_1A-3A-3A-41C", 80, "Table 5.6A.1-2a prints a maximum of 80, its widths would reach 100"},
		{"CA_n3B", 75, "TS 38.101-1 V19.5.0 Table 5.5A.1-1: all widths of n3, but at most 75 in sets 4 and 5"},
		{"CA_n78(2A)", 200, "TS 38.101-1 V19.5.0 Table 5.5A.2-1"},
		{"CA_n257M", 800, "TS 38.101-2 V19.4.0 Table 5.5A.1-1: 8 x 100"},
		{"CA_n1A-n78A", 150, "TS 38.101-1 V19.5.0 Tables 5.5A.3.1-1a and 5.3.5-1: 50 + 100"},
		{"SUL_n78A-n80A", 100, "TS 38.101-1 V19.5.0 Table 5.5C-1: the supplementary uplink does not count"},
		{"DC_3A_n78A", 120, "TS 36.101 V19.6.0 Table 5.6.1-1 and TS 38.101-1 V19.5.0 Table 5.3.5-1: 20 + 100"},
		{"DC_(n)3AA", 50, "TS 38.101-3 V19.5.0 Table 5.3B.1.2-1"},
		{"DC_1A-(n)3AA", 70, "20 beside DC_(n)3AA"},
		{"DC_n78A-n257A", 500, "CA_n78A-n257A: 100 + 400"},
		{"DC_n78A_3A", 120, "as DC_3A_n78A"},
	} {
		if got := listed(t, c.name).MaxDL(); got != c.want*bands.MHz {
			t.Errorf("%s: widest %v, want %d MHz: %s", c.name, got, c.want, c.reason)
		}
	}
}

// TestWidest wants for every configuration widths that its own sets admit and
// whose total is the widest.
func TestWidest(t *testing.T) {
	for c := range pace.Some(All(), 17) {
		n := c.Name()
		w, ok := Widest(n)
		if !ok {
			// CA_40E-42E has a maximum that none of its combinations keeps, the
			// set of the other is not certain.
			if name := n.String(); name != "CA_40E-42E" && name != "CA_n5A-n25(2A)-n41A" {
				t.Errorf("%s has no widest widths", n)
			}
			continue
		}
		a, err := Admit(n, w)
		if err != nil || !a.Admitted() {
			t.Errorf("%s with %v: %s, %v", n, w, a.RefusalText(), err)
			continue
		}
		var total bands.Frequency
		for i, k := range n.Components() {
			if !supplementary(k.Band) {
				total += totalOf(w.Components[i])
			}
		}
		if total != c.MaxDL() {
			t.Errorf("%s: widest widths %v make %v, not %v", n, w, total, c.MaxDL())
		}
		if len(a.Members) == 0 && !a.Alone && len(a.Sets) == 0 {
			t.Errorf("%s: no set admits %v", n, w)
		}
	}
}

func TestWidestOfOthers(t *testing.T) {
	for _, c := range []struct {
		name string
		want []bands.Frequency
	}{
		{"n78A", []bands.Frequency{100}},
		{"3A", []bands.Frequency{20}},
		{"n80A", []bands.Frequency{50}},
		{"CA_n3A-n90A", []bands.Frequency{50, 100}},
	} {
		w, ok := Widest(named(t, c.name))
		var got []bands.Frequency
		for _, k := range w.Components {
			got = append(got, k[0].Carriers[0]/bands.MHz)
		}
		if !ok || !slices.Equal(got, c.want) {
			t.Errorf("Widest(%s) = %v, want %v MHz", c.name, got, c.want)
		}
	}
	for _, s := range []string{"CA_n77A-n78A-n257A", "CA_3A-41F", "n200A"} {
		if w, ok := Widest(named(t, s)); ok {
			t.Errorf("Widest(%s) = %v, but the standard does not have it", s, w)
		}
	}
	fallback := "CA_42A-42B"
	if w, ok := Widest(named(t, fallback)); !ok || !strings.HasPrefix(fallback, "CA_") || totalOf(w.Components[0]) != 60*bands.MHz {
		t.Errorf("Widest(%s) = %v, %v; want 3 x 20 MHz", fallback, w, ok)
	}
}
