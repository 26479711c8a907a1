package bands_test

import (
	"slices"
	"testing"

	"spectally/bands"
)

const (
	mhz1 = bands.MHz
	khz1 = bands.KHz
)

// The duplex mode says which directions a band has, and that TDD has one spectrum.
func TestDuplexFitsSpans(t *testing.T) {
	for _, b := range bands.All(0) {
		ul, dl := b.Has(bands.Uplink), b.Has(bands.Downlink)
		ok := false
		switch b.Duplex {
		case bands.FDD:
			ok = ul && dl && !b.Uplink.Overlaps(b.Downlink)
		case bands.TDD:
			ok = ul && b.Uplink == b.Downlink
		case bands.SDL, bands.SDO:
			ok = dl && !ul
		case bands.SUL:
			ok = ul && !dl
		}
		if !ok {
			t.Errorf("%s is %s with uplink %s and downlink %s", b.ID, b.Duplex, b.Uplink, b.Downlink)
		}
		for _, d := range []bands.Direction{bands.Downlink, bands.Uplink} {
			if s := b.Span(d); s.Low > s.High || b.Has(d) && s.Width() <= 0 {
				t.Errorf("%s %s: %s is no spectrum", b.ID, d, s)
			}
		}
	}
}

// TS 38.104 V19.4.0 clause 5.1, from memory: FR1 410 to 7125 MHz, FR2-1 24.25 to
// 52.6 GHz, FR2-2 52.6 to 71 GHz. Satellite bands have ranges of their own: some of
// them lie outside these limits.
func TestBandsLieInTheirRange(t *testing.T) {
	limits := map[bands.Range]bands.Span{
		bands.FR1:  {Low: 410 * mhz1, High: 7125 * mhz1},
		bands.FR21: {Low: 24250 * mhz1, High: 52600 * mhz1},
		bands.FR22: {Low: 52600 * mhz1, High: 71000 * mhz1},
	}
	for _, b := range bands.All(bands.NR) {
		for _, d := range []bands.Direction{bands.Downlink, bands.Uplink} {
			if limit, ok := limits[b.Range]; ok && b.Has(d) && !limit.Covers(b.Span(d)) {
				t.Errorf("%s %s %s leaves %s", b.ID, d, b.Span(d), b.Range)
			}
		}
		if _, ok := limits[b.Range]; !ok && !b.Range.IsNTN() {
			t.Errorf("%s has the range %q", b.ID, b.Range)
		}
	}
}

// Minimum guard band = (BW - 12 N_RB SCS)/2 - SCS/2 (TS 38.101-1 V19.5.0 clause 5.3.3).
func TestGuardBandFormula(t *testing.T) {
	rows := 0
	everyWidth(func(r bands.Range, scs, width bands.Frequency) {
		n, errN := bands.ResourceBlocks(r, scs, width)
		g, errG := bands.GuardBand(r, scs, width)
		if (errN == nil) != (errG == nil) {
			t.Errorf("%s %s %s: N_RB %v, guard band %v", r, scs, width, errN, errG)
			return
		}
		if errN != nil {
			return
		}
		rows++
		if twice := width - 12*bands.Frequency(n)*scs - scs; twice != 2*g {
			t.Errorf("%s %s %s: guard band %s, want half of %s", r, scs, width, g, twice)
		}
	})
	if rows != 92 {
		t.Errorf("%d rows, want 92", rows)
	}
}

// No width is wider than its band, every NR width has resource blocks and a guard
// band, LTE widths have resource blocks that fit.
func TestWidthsFitTheirBand(t *testing.T) {
	for _, b := range bands.All(0) {
		if len(b.Widths()) == 0 && b.ID.String() != "B103" { // NB-IoT alone (TS 36.101 V19.6.0 Table 5.5-1)
			t.Errorf("%s has no widths", b.ID)
		}
		for i, w := range b.Widths() {
			used := 12 * bands.Frequency(w.ResourceBlocks) * w.SCS
			if w.ResourceBlocks < 6 || used >= w.Width {
				t.Errorf("%s %s at %s: %d resource blocks take %s", b.ID, w.Width, w.SCS, w.ResourceBlocks, used)
			}
			if b.ID.RAT == bands.NR {
				n, err := bands.ResourceBlocks(b.Range, w.SCS, w.Width)
				g, err2 := bands.GuardBand(b.Range, w.SCS, w.Width)
				if err != nil || err2 != nil || n != w.ResourceBlocks || g != w.GuardBand || g <= 0 {
					t.Errorf("%s %s at %s: %d resource blocks and guard %s; the tables have %d, %v and %s, %v", b.ID, w.Width, w.SCS, w.ResourceBlocks, w.GuardBand, n, err, g, err2)
				}
			}
			allowed := false
			for _, d := range []bands.Direction{bands.Downlink, bands.Uplink} {
				if !b.Has(d) || !w.Allows(d) {
					continue
				}
				allowed = true
				if w.Width > b.Span(d).Width() {
					t.Errorf("%s %s: %s is wider than %s", b.ID, d, w.Width, b.Span(d))
				}
			}
			if !allowed {
				t.Errorf("%s %s at %s is for no direction the band has", b.ID, w.Width, w.SCS)
			}
			if i > 0 {
				if p := b.Widths()[i-1]; p.SCS > w.SCS || p.SCS == w.SCS && p.Width >= w.Width {
					t.Errorf("%s: %s at %s stands before %s at %s", b.ID, p.Width, p.SCS, w.Width, w.SCS)
				}
			}
		}
	}
}

// Both widths of an asymmetric pair exist in the direction they are for, differ, and
// fit the duplex mode of the band.
func TestAsymmetricWidthsExist(t *testing.T) {
	pairs := 0
	for _, b := range bands.All(bands.NR) {
		for _, p := range b.WidthPairs() {
			pairs++
			if !b.HasWidth(bands.Uplink, p.Uplink) || !b.HasWidth(bands.Downlink, p.Downlink) {
				t.Errorf("%s set %d: %s up or %s down is no width of the band", b.ID, p.Set, p.Uplink, p.Downlink)
			}
			if p.Uplink == p.Downlink || p.Duplex != b.Duplex {
				t.Errorf("%s set %d: %s up, %s down in %s, the band is %s", b.ID, p.Set, p.Uplink, p.Downlink, p.Duplex, b.Duplex)
			}
		}
	}
	if pairs != 326 {
		t.Errorf("%d pairs, want 326", pairs)
	}
}

// The usual separation is the distance of the lower band edges, with these
// exceptions of the tables (TS 38.101-1 V19.5.0 Table 5.4.4-1, TS 36.101 V19.6.0
// Table 5.7.4-1).
func TestSeparationsFitBandEdges(t *testing.T) {
	exceptions := map[string]string{
		"n24 -120.5": "leads into the second uplink part, 1646.5-1656.5 MHz",
		"n110 42":    "leads from lower edge to lower edge; the first value, 40, from upper edge to upper edge",
		"n110 40":    "leads from upper edge to upper edge",
		"B24 -120.5": "leads into the second uplink part, 1646.5-1656.5 MHz",
		"B70 295":    "the alternative for 2005-2020 MHz of the downlink",
	}
	used := make(map[string]bool)
	for _, b := range bands.All(0) {
		for _, s := range b.Separations() {
			if !s.HasDefault {
				continue
			}
			edges := b.Downlink.Low - b.Uplink.Low
			name := b.ID.String() + " " + s.Default.MHz()
			if _, listed := exceptions[name]; listed {
				used[name] = true
				inside := bands.Span{Low: b.Downlink.Low - b.Uplink.High, High: b.Downlink.High - b.Uplink.Low}
				if !inside.Contains(s.Default) {
					t.Errorf("%s: no carrier of the band has this separation, %s to %s", name, inside.Low, inside.High)
				}
				continue
			}
			if s.Default != edges {
				t.Errorf("%s: the band edges give %s", name, edges.MHz())
			}
		}
		if b.Duplex != bands.FDD && len(b.Separations()) > 0 {
			t.Errorf("%s is %s and has a separation", b.ID, b.Duplex)
		}
	}
	for name := range exceptions {
		if !used[name] {
			t.Errorf("no separation is the exception %s", name)
		}
	}
}

// A range of separations is that of the band edges, drawn in by half the sum of the
// narrowest widths above 3 MHz that the two directions have at the numerology. Two
// satellite bands are printed otherwise: 5 MHz inside the edges though their narrowest
// width is 10 MHz (TS 38.101-5 V19.4.0 Table 5.4.4-1).
func TestSeparationRanges(t *testing.T) {
	printedOtherwise := map[string]bool{"n247": true, "n248": true}
	ranges := 0
	for _, b := range bands.All(bands.NR) {
		for _, s := range b.Separations() {
			if !s.HasRange {
				continue
			}
			ranges++
			var scs bands.Frequency
			if s.Numerology >= 0 {
				scs = 15 * khz1 << s.Numerology
			}
			var inset bands.Frequency
			for _, d := range []bands.Direction{bands.Downlink, bands.Uplink} {
				widths := b.WidthsIn(d, scs)
				narrowest := slices.IndexFunc(widths, func(w bands.Frequency) bool { return w > 3*mhz1 })
				inset += widths[narrowest] / 2
			}
			if printedOtherwise[b.ID.String()] {
				if inset != 10*mhz1 {
					t.Errorf("%s is no exception: its widths draw the range in by %s", b.ID, inset)
				}
				inset = 5 * mhz1
			}
			low, high := b.Downlink.Low-b.Uplink.High+inset, b.Downlink.High-b.Uplink.Low-inset
			if s.Min != low || s.Max != high {
				t.Errorf("%s mu %d: %s to %s MHz, the edges give %s to %s", b.ID, s.Numerology, s.Min.MHz(), s.Max.MHz(), low.MHz(), high.MHz())
			}
			if s.HasDefault && (s.Default < s.Min || s.Default > s.Max) {
				t.Errorf("%s: %s is outside its range", b.ID, s.Default.MHz())
			}
		}
	}
	if ranges != 19 {
		t.Errorf("%d ranges, want 19", ranges)
	}
}

// Every paired band has a separation, but for the satellite bands n510 to n512,
// for which TS 38.101-5 V19.4.0 gives none.
func TestPairedBandsHaveSeparation(t *testing.T) {
	for _, b := range bands.All(0) {
		none := slices.Contains([]string{"n510", "n511", "n512"}, b.ID.String())
		if b.Duplex == bands.FDD && (len(b.Separations()) == 0) != none {
			t.Errorf("%s has %d separations", b.ID, len(b.Separations()))
		}
	}
}

// A regional part lies inside its band.
func TestPartsInsideBand(t *testing.T) {
	for _, b := range bands.All(0) {
		for _, p := range b.Parts() {
			for _, d := range []bands.Direction{bands.Downlink, bands.Uplink} {
				wanted := d == bands.Downlink && p.Downlink || d == bands.Uplink && p.Uplink
				if wanted && !b.Span(d).Covers(p.Span) {
					t.Errorf("%s %s: the part %s for %s leaves %s", b.ID, d, p.Span, p.Region, b.Span(d))
				}
			}
		}
	}
}
