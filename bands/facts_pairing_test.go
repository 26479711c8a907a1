package bands_test

import (
	"strconv"
	"testing"

	"spectally/bands"
)

// TS 38.101-1 V19.5.0 Table 5.4.4-1, TS 38.101-5 V19.4.0 Tables 5.4.4-1 and 5.4.4-2.
func TestSeparations(t *testing.T) {
	var got answers
	for _, b := range bands.All(bands.NR) {
		for _, s := range b.Separations() {
			mu := ""
			if s.Numerology >= 0 {
				mu = strconv.Itoa(s.Numerology)
			}
			got.add(s.Source, b.ID, mu, known(s.Default, s.HasDefault), known(s.Min, s.HasRange), known(s.Max, s.HasRange), s.Note)
		}
	}
	matchFacts(t, "nr_separations", 52, &got)
}

// TS 36.101 V19.6.0 Table 5.7.4-1.
func TestLTESeparations(t *testing.T) {
	var got answers
	for _, b := range bands.All(bands.LTE) {
		for i, s := range b.Separations() {
			got.add(s.Source, b.ID.InName(), known(s.Default, s.HasDefault), s.Note)
			if s.HasRange || s.Numerology != -1 {
				t.Errorf("%s: the table of LTE has no ranges", b.ID)
			}
			if (s.Note == "alternative") != (i > 0) {
				t.Errorf("%s: %s %q stands at place %d", b.ID, s.Default, s.Note, i)
			}
		}
	}
	matchFacts(t, "lte_separations", 44, &got)
}

// TS 38.101-1 V19.5.0 Tables 5.3.6-1 and 5.3.6-2, TS 38.101-5 V19.4.0 Table 5.3.6-1.
func TestAsymmetricWidths(t *testing.T) {
	var got answers
	for _, b := range bands.All(0) {
		for _, p := range b.WidthPairs() {
			got.add(p.Source, b.ID, p.Set, p.Uplink.MHz(), p.Downlink.MHz(), p.Duplex, p.Note)
			first, ok := b.AllowsPair(p.Downlink, p.Uplink)
			if !ok || first.Set > p.Set || first.Uplink != p.Uplink || first.Downlink != p.Downlink {
				t.Errorf("%s: AllowsPair(%s, %s) = %v, %v", b.ID, p.Downlink, p.Uplink, first, ok)
			}
		}
	}
	matchFacts(t, "nr_asymmetric_widths", 326, &got)
}

func TestAllowsPairRefuses(t *testing.T) {
	for _, c := range []struct{ band, dl, ul string }{
		{"n5", "20", "25"},  // Table 5.3.6-1 has the uplink narrower
		{"n78", "80", "60"}, // no asymmetric pair at all
		{"B3", "20", "10"},
	} {
		if p, ok := mustLookup(t, c.band).AllowsPair(mhz(t, c.dl), mhz(t, c.ul)); ok {
			t.Errorf("%s allows %s down and %s up: %v", c.band, c.dl, c.ul, p)
		}
	}
}
