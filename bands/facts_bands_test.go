package bands_test

import (
	"testing"

	"spectally/bands"
)

// TS 38.101-1 V19.5.0 Table 5.2-1, TS 38.101-2 V19.4.0 Table 5.2-1, TS 38.101-5
// V19.4.0 Tables 5.2.2-1 and 5.2.3-1.
func TestNRBands(t *testing.T) {
	var got answers
	for _, b := range bands.All(bands.NR) {
		ul1, ul2 := edges(b.Uplink)
		dl1, dl2 := edges(b.Downlink)
		got.add(b.Source, b.ID, b.Range, ul1, ul2, dl1, dl2, b.Duplex, b.Note)
	}
	matchFacts(t, "nr_bands", 92, &got)
}

// The notes of the same tables, and those of TS 36.101 V19.6.0 Table 5.5-1.
func TestBandParts(t *testing.T) {
	var got answers
	for _, b := range bands.All(0) {
		for _, p := range b.Parts() {
			low, high := edges(p.Span)
			got.add(p.Source, b.ID, p.Region, oneWay(p.Downlink, p.Uplink), low, high)
		}
	}
	matchFacts(t, "band_parts", 20, &got)
}

// TS 36.101 V19.6.0 Tables 5.5-1 and 5.5H-1; bands 15, 16 and 64 are reserved.
func TestLTEBands(t *testing.T) {
	var got answers
	for _, b := range bands.All(bands.LTE) {
		ul1, ul2 := edges(b.Uplink)
		dl1, dl2 := edges(b.Downlink)
		got.add(b.Source, b.ID.InName(), ul1, ul2, dl1, dl2, b.Duplex, b.Note)
		if b.Range != 0 {
			t.Errorf("%s is in %s: LTE bands have no frequency range", b.ID, b.Range)
		}
	}
	matchFacts(t, "lte_bands", 74, &got)
}

// TS 36.104 V19.2.0 Table 5.5-1A.
func TestSubBands(t *testing.T) {
	var got answers
	for _, b := range bands.All(0) {
		for _, s := range b.SubBands() {
			low, high := edges(s.Span)
			got.add(s.Source, s.Name, low, high)
			if !b.Downlink.Covers(s.Span) {
				t.Errorf("sub-band %s, %s, is not inside %s", s.Name, s.Span, b.ID)
			}
		}
	}
	matchFacts(t, "lte_sub_bands", 4, &got)
}
