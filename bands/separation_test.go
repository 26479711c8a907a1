package bands_test

import (
	"testing"

	"spectally/bands"
)

// Default separations of TS 36.101 V19.6.0 Table 5.7.4-1 and TS 38.101-1 V19.5.0 Table
// 5.4.4-1, edges of the operating-band tables.
func TestPaired(t *testing.T) {
	for _, c := range []struct {
		band, mhz string
		d         bands.Direction
		want      string // empty: no partner
	}{
		{"n1", "2140", bands.Downlink, "1950"},
		{"n1", "1950", bands.Uplink, "2140"},
		{"n20", "806", bands.Downlink, "847"}, // the uplink lies above
		{"n20", "847", bands.Uplink, "806"},
		{"n24", "1530", bands.Downlink, "1631.5"},
		{"n78", "3600", bands.Downlink, "3600"},
		{"n78", "3900", bands.Downlink, ""}, // outside the band
		{"n66", "2110", bands.Downlink, "1710"},
		{"n66", "2190", bands.Downlink, ""}, // the downlink is wider than the uplink
		{"n1", "1950", bands.Downlink, ""},  // in the uplink
		{"n29", "720", bands.Downlink, ""},
		{"n80", "1750", bands.Uplink, ""},
		{"n92", "1450", bands.Downlink, ""}, // a range and no default
		{"n510", "18000", bands.Downlink, ""},
		{"n256", "2185", bands.Downlink, "1995"},
		{"B3", "1815", bands.Downlink, "1720"},
		{"B70", "2000", bands.Downlink, "1700"}, // the default, not the alternative of 295 MHz
		{"B32", "1460", bands.Downlink, ""},
		{"n78", "3600", 0, ""},
	} {
		f, ok := mustLookup(t, c.band).Paired(c.d, mhz(t, c.mhz))
		if known(f, ok) != c.want || !ok && f != 0 {
			t.Errorf("%s %s MHz %s: %s, %v; want %q", c.band, c.mhz, c.d, f.MHz(), ok, c.want)
		}
	}
}

// Going to the other direction and back leads to the same carrier, in every paired
// band with a default.
func TestPairedBothWays(t *testing.T) {
	pairs := 0
	for _, b := range bands.All(0) {
		for f := b.Uplink.Low; f <= b.Uplink.High; f += mhz1 / 2 {
			dl, ok := b.Paired(bands.Uplink, f)
			if !ok {
				continue
			}
			pairs++
			if back, ok := b.Paired(bands.Downlink, dl); !ok || back != f {
				t.Errorf("%s: %s pairs with %s, that with %s, %v", b.ID, f, dl, back, ok)
			}
		}
	}
	if pairs < 1000 {
		t.Errorf("only %d pairs", pairs)
	}
}

// Pair finds the place that Paired finds where the widths are equal, and tells where
// there is none; for unequal widths only a place without choice.
func TestPair(t *testing.T) {
	for _, c := range []struct {
		band, mhz  string
		d          bands.Direction
		own, width string
		centre     string
		possible   bool
	}{
		{"n1", "2140", bands.Downlink, "20", "20", "1950", true},
		{"n1", "1950", bands.Uplink, "20", "20", "2140", true},
		{"n1", "2140", bands.Downlink, "20", "10", "", true}, // the narrower uplink may lie elsewhere
		{"n1", "2165", bands.Downlink, "10", "10", "1975", true},
		{"n1", "2165", bands.Downlink, "10", "20", "1970", true}, // pressed against the band edge
		{"n78", "3600", bands.Downlink, "100", "100", "3600", true},
		{"n66", "2195", bands.Downlink, "10", "10", "", false}, // no uplink beside the upper downlink
		{"n24", "1531", bands.Downlink, "10", "10", "1632.5", true},
		{"n24", "1651.5", bands.Uplink, "10", "10", "1531", true}, // by the second value, as 1550 is in no allowed part
		{"n24", "1555", bands.Downlink, "5", "5", "", true},       // inside the band, but in no allowed part
		{"B24", "1651.5", bands.Uplink, "10", "10", "1531", true},
		{"B70", "2015", bands.Downlink, "10", "10", "", false},
		{"n92", "1450", bands.Downlink, "20", "20", "", true}, // anywhere in the range
		{"n92", "1450", bands.Downlink, "20", "40", "", false},
		{"n510", "18000", bands.Downlink, "100", "100", "", true}, // no separation in the tables
		{"n29", "720", bands.Downlink, "5", "5", "", false},
		{"n1", "1950", bands.Downlink, "20", "20", "", false}, // outside the downlink
	} {
		got := mustLookup(t, c.band).Pair(c.d, mhz(t, c.mhz), mhz(t, c.own), mhz(t, c.width))
		if known(got.Centre, got.Centre != 0) != c.centre || got.Possible != c.possible {
			t.Errorf("%s %s MHz %s, %s with %s: %s, %v; want %q, %v", c.band, c.mhz, c.d, c.own, c.width, got.Centre.MHz(), got.Possible, c.centre, c.possible)
		}
	}
}
