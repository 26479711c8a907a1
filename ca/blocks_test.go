package ca_test

import (
	"fmt"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/ca"
)

// groupText writes the groups of an assessment: carriers counted from 1, blocks in
// brackets, those without a place behind a question mark.
func groupText(a *ca.Assessment) string {
	var parts []string
	for _, g := range a.Groups {
		s := g.Band.ID.String()
		for _, b := range g.Blocks {
			s += " ["
			for n, i := range b.Carriers {
				if n > 0 {
					s += " "
				}
				s += fmt.Sprint(i + 1)
			}
			s += "]"
		}
		for _, i := range g.Unplaced {
			s += fmt.Sprintf(" ?%d", i+1)
		}
		parts = append(parts, s)
	}
	return strings.Join(parts, "; ")
}

func TestGroups(t *testing.T) {
	for carriers, want := range map[string]string{
		"n78:80":                                     "n78 ?1",
		"n78:80 + B3:20 + n28:10 + B3:10":            "B3 ?2 ?4; n28 ?3; n78 ?1",
		"n78:80@640000 + n78:80@645332":              "n78 [1 2]",
		"n78:80@645332 + n78:80@640000":              "n78 [2 1]",
		"n78:80@645334 + n78:80@640000":              "n78 [2] [1]",
		"n78:80@645332 + n78:80 + n78:80@640000":     "n78 [3 1] ?2",
		"B41:20@40146 + B41:20@39750 + B41:20@39948": "B41 [2 3 1]",
		"B3:20@1300 + B3:20@1498 + B3:10@1850":       "B3 [1 2] [3]",
		"B3:10@1850 + B3:20@1498 + B3:20":            "B3 [2] [1] ?3",
		"B3:20@19300 + B3:20@1498":                   "B3 [1 2]", // the first by its uplink
		"B3:20@1815MHz + B3:20@1834.8MHz":            "B3 [1 2]",
		"n80:20@344000 + n80:20@347960 + n78:100":    "n78 ?3; n80 [1 2]", // ordered by the uplink
		"n92:10@289000 + n92:10@168000":              "n92 [1] ?2",        // variable duplex: the uplink does not place the downlink
		"n64:10 + n78:80 + B3:20@1300":               "B3 [3]; n78 ?2",
		"n78:35@640000 + n78:35@642330":              "n78 [1] [2]", // no nominal spacing for widths that are not
		// Shared spectrum: up to 300 kHz from the nominal 19.8 and 49.86 MHz (clause
		// 5.4A.1); n46 carriers of 20 MHz stand 19.98 and 20.04 MHz apart.
		"n46:20@744000 + n46:20@745332":                             "n46 [1 2]",
		"n46:20@745332 + n46:20@746668":                             "n46 [1 2]",
		"n78:20@630000 + n78:20@631334":                             "n78 [1] [2]", // 20.01 MHz, nominal 19.98 MHz
		"n46:20@744000 + n46:20@746668":                             "n46 [1] [2]",
		"B46:20@46890 + B46:20@47090 + B46:20@47291 + B46:20@47494": "B46 [1 2 3] [4]",
		"n263:400@2566603 + n263:400@2573323":                       "n263 [1 2]",
		"10xn257:100 + n257:100@2079167 + n257:100@2080833":         "n257 [11 12] ?1 ?2 ?3 ?4 ?5 ?6 ?7 ?8 ?9 ?10", // more carriers than usual
		"n258:400@2020833 + n258:400@2027497 + n258:100@2031537":    "n258 [1 2 3]",
		"B3:20@1300 + n3:20@363000 + n3:20@363000":                  "B3 [1]; n3 [2 3]",
		"n77:100@630668 + n77:100@650000 + n77:60@655320 + n78:20":  "n77 [1] [2 3]; n78 ?4",
		"B8:10@3500 + B8:5@3573 + B8:3@3612":                        "B8 [1] [2 3]",
	} {
		a := checked(t, carriers)
		if got := groupText(a); got != want {
			t.Errorf("%s: %s, want %s", carriers, got, want)
		}
		for _, g := range a.Groups {
			n := len(g.Unplaced)
			for _, b := range g.Blocks {
				n += len(b.Carriers)
				if b.Edges.IsZero() {
					t.Errorf("%s: block %v has no edges", carriers, b.Carriers)
				}
			}
			if g.Count() != n {
				t.Errorf("%s: %v counts %d carriers, want %d", carriers, g.Band.ID, g.Count(), n)
			}
		}
	}
}

// Aggregated channel bandwidths of two contiguous E-UTRA carriers: TS 36.101 Table
// 6.6.2.1A.1-1 names 24.95, 29.9, 30, 34.85 and 39.8 MHz (from memory).
func TestAggregatedBandwidthLTE(t *testing.T) {
	for _, test := range []struct {
		carriers string
		want     bands.Frequency // kHz
	}{
		{"B7:5@2790 + B7:20@2907", 24_950},
		{"B7:20@2907 + B7:5@3024", 24_950},
		{"B7:10@2800 + B7:20@2944", 29_900},
		{"B7:15@2825 + B7:15@2975", 30_000},
		{"B7:15@2825 + B7:20@2996", 34_850},
		{"B7:20@2850 + B7:20@3048", 39_800},
		{"B41:20@39750 + B41:20@39948 + B41:20@40146", 59_600},
		{"B7:20@2850", 20_000},
	} {
		a := checked(t, test.carriers)
		if len(a.Groups) != 1 || len(a.Groups[0].Blocks) != 1 || a.Groups[0].Blocks[0].Edges.Width() != test.want*bands.KHz {
			t.Errorf("%s: %+v, want a block of %d kHz", test.carriers, a.Groups, test.want)
		}
	}
}

// The aggregated channel of two carriers at the nominal spacing; see the remarks in
// the file.
func TestAggregatedBandwidthNR(t *testing.T) {
	known := 0
	for _, f := range readFacts(t, "nr_ca_spacing", 16) {
		if f.fields[5] == "" {
			continue
		}
		known++
		b := lookup(t, f.fields[0])
		low, high := megahertz(t, f.fields[1]), megahertz(t, f.fields[2])
		centre := b.Downlink.Low + 60*mhz
		if b.Downlink.Width() < 100*mhz {
			centre = b.Downlink.Low + low/2
		}
		second := centre + megahertz(t, f.fields[4])
		a := ca.Assess(ca.Combination{
			{Band: b.ID, Downlink: low, Uplink: low, Centre: centre},
			{Band: b.ID, Downlink: high, Uplink: high, Centre: second},
		})
		blocks := a.Groups[0].Blocks
		if len(blocks) != 1 || blocks[0].Edges.Width() != megahertz(t, f.fields[5]) {
			t.Errorf("%v %s and %s: %+v, want a block of %s MHz", b.ID, f.fields[1], f.fields[2], blocks, f.fields[5])
		}
	}
	if known != 14 {
		t.Errorf("%d aggregated bandwidths, want 14", known)
	}
}

// Two carriers of 5 and 60 MHz in n40 share no subcarrier spacing: the edges are
// those of 30 kHz (TS 38.101-1 V19.5.0 clause 5.3A.3). By hand: N_RB 11 and 162, guard
// bands 505 and 825 kHz; low edge 133 half-spacings of 15 kHz and 825 kHz below the
// centre, high edge 1943 half-spacings and 825 kHz above.
func TestEdgesWithoutCommonSpacing(t *testing.T) {
	a := checked(t, "n40:60@468000 + n40:5@461600")
	blocks := a.Groups[0].Blocks
	// Nominal: floor((65 - 2 * 0.32) / 0.6) * 0.3 = 32.1 MHz; the carriers are 32 MHz apart.
	want := bands.Span{Low: 2308*mhz - (133*15+825)*bands.KHz, High: 2340*mhz + (1943*15+825)*bands.KHz}
	if len(blocks) != 1 || blocks[0].Edges != want {
		t.Errorf("blocks %+v, want edges %v", blocks, want)
	}
}
