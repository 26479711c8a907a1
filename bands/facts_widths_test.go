package bands_test

import (
	"testing"

	"spectally/bands"
)

func markLetters(m bands.Mark) string {
	s := ""
	for _, l := range []struct {
		mark   bands.Mark
		letter string
	}{{bands.DownlinkOnly, "d"}, {bands.UplinkOnly, "u"}, {bands.Optional, "o"}, {bands.UplinkOptional, "v"}, {bands.SCellOnly, "s"}} {
		if m&l.mark != 0 {
			s += l.letter
		}
	}
	return s
}

// TS 38.101-1 V19.5.0 Table 5.3.5-1, TS 38.101-2 V19.4.0 Table 5.3.5-1, TS 38.101-5
// V19.4.0 Tables 5.3.5-1 and 5.3.5-2. Marks: d downlink only, u uplink only, o
// optional, v optional in the uplink only, s requirements only as SCell.
func TestNRWidths(t *testing.T) {
	var got answers
	for _, b := range bands.All(bands.NR) {
		for _, w := range b.Widths() {
			got.add(b.WidthSource(), b.ID, w.SCS.KHz(), w.Width.MHz(), markLetters(w.Marks), w.Note)
		}
	}
	matchFacts(t, "nr_widths", 1088, &got)
}

// TS 36.101 V19.6.0 Tables 5.6.1-1 and 5.6H-1; the widths of the downlink-only bands
// are those with which they stand in Tables 5.6A.1-2 to -2d.
func TestLTEWidths(t *testing.T) {
	var got answers
	for _, b := range bands.All(bands.LTE) {
		for _, w := range b.Widths() {
			got.add(b.WidthSource(), b.ID.InName(), w.Width.MHz(), markLetters(w.Marks), w.Note)
			if w.SCS != 15*bands.KHz {
				t.Errorf("%s %s at %s, want 15 kHz", b.ID, w.Width, w.SCS)
			}
		}
	}
	matchFacts(t, "lte_widths", 271, &got)
}

// everyWidth calls f for every frequency range, every subcarrier spacing of a
// numerology and every width of whole megahertz up to more than the widest.
func everyWidth(f func(r bands.Range, scs, width bands.Frequency)) {
	for r := bands.FR1; r <= bands.FR2NTN; r++ {
		for scs := 15 * bands.KHz; scs <= 1920*bands.KHz; scs *= 2 {
			for width := bands.MHz; width <= 2100*bands.MHz; width += bands.MHz {
				f(r, scs, width)
			}
		}
	}
}

var blockSpec = map[bands.Range]bands.Source{
	bands.FR1:    {Spec: "TS 38.101-1", Version: "19.5.0", Table: "1"},
	bands.FR21:   {Spec: "TS 38.101-2", Version: "19.4.0", Table: "1"},
	bands.FR22:   {Spec: "TS 38.101-2", Version: "19.4.0", Table: "1"},
	bands.FR1NTN: {Spec: "TS 38.101-5", Version: "19.4.0", Table: "1"},
	bands.FR2NTN: {Spec: "TS 38.101-5", Version: "19.4.0", Table: "2"},
}

// TS 38.101-1 V19.5.0 Table 5.3.2-1, TS 38.101-2 V19.4.0 Table 5.3.2-1, TS 38.101-5
// V19.4.0 Tables 5.3.2-1 and 5.3.2-2.
func TestResourceBlocks(t *testing.T) {
	var got answers
	everyWidth(func(r bands.Range, scs, width bands.Frequency) {
		if n, err := bands.ResourceBlocks(r, scs, width); err == nil {
			s := blockSpec[r]
			s.Table = "5.3.2-" + s.Table
			got.add(s, r, scs.KHz(), width.MHz(), n)
		}
	})
	matchFacts(t, "nr_resource_blocks", 92, &got)
}

// TS 38.101-1 V19.5.0 Table 5.3.3-1, TS 38.101-2 V19.4.0 Table 5.3.3-1, TS 38.101-5
// V19.4.0 Tables 5.3.3-1 and 5.3.3-2.
func TestGuardBands(t *testing.T) {
	var got answers
	everyWidth(func(r bands.Range, scs, width bands.Frequency) {
		if g, err := bands.GuardBand(r, scs, width); err == nil {
			s := blockSpec[r]
			s.Table = "5.3.3-" + s.Table
			got.add(s, r, scs.KHz(), width.MHz(), g.KHz())
		}
	})
	matchFacts(t, "nr_guard_bands", 92, &got)
}

// TS 38.101-2 V19.4.0 Table 5.3.3-2.
func TestSSBGuardBands(t *testing.T) {
	var got answers
	for width := bands.MHz; width <= 2100*bands.MHz; width += bands.MHz {
		if g, ok := bands.SSBGuardBand(width); ok {
			got.add(bands.Source{Spec: "TS 38.101-2", Version: "19.4.0", Table: "5.3.3-2"}, bands.FR21, 240, width.MHz(), g.KHz())
		}
	}
	matchFacts(t, "nr_ssb_guard_bands", 3, &got)
}

// TS 36.101 V19.6.0 Tables 5.6-1 and 5.6H-1.
func TestLTEResourceBlocks(t *testing.T) {
	var got answers
	for width := bands.Frequency(0); width <= 25*bands.MHz; width += 100 * bands.KHz {
		if n, err := bands.LTEResourceBlocks(width); err == nil {
			got.add(bands.Source{Spec: "TS 36.101", Version: "19.6.0", Table: "5.6-1"}, width.MHz(), n)
		}
	}
	for _, w := range mustLookup(t, "B107").Widths() {
		got.add(bands.Source{Spec: "TS 36.101", Version: "19.6.0", Table: "5.6H-1"}, w.Width.MHz(), w.ResourceBlocks)
	}
	matchFacts(t, "lte_resource_blocks", 9, &got)
}
