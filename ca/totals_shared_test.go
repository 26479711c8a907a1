package ca

import (
	"testing"

	"spectally/bands"
)

// TestSharedSpectrum: LTE and NR on the same spectrum take it in turn (TS 38.101-3 V19.5.0
// clause 5.3B, dynamic spectrum sharing): 20 MHz of downlink and of uplink, 40 on the air.
func TestSharedSpectrum(t *testing.T) {
	whole := func(i int) Share { return Share{1, 1} }
	for _, c := range []struct {
		carriers             string
		down, up, on, inBand bands.Frequency // MHz
	}{
		{"B3:20@1300 + n3:20@363000", 20, 20, 40, 20},
		{"n3:20@363000 + B3:20@1300", 20, 20, 40, 20},
		{"B3:20@1300,ul=0 + n3:20@363000,ul=1", 20, 20, 40, 20},
		{"B3:20 + n3:20", 40, 40, 80, 20},             // where they lie is not known
		{"B3:10@1300 + n3:20@363000", 20, 20, 40, 20}, // one within the other
		{"B3:20@1300 + n3:20@365000", 30, 30, 60, 20}, // half of each
	} {
		list, err := Parse(c.carriers)
		if err != nil {
			t.Fatal(err)
		}
		a := Assess(list)
		got := a.Totals(whole)
		if got.Downlink != c.down*bands.MHz || got.Uplink != c.up*bands.MHz || got.Occupied != c.on*bands.MHz || got.Total != a.Sum(whole) {
			t.Errorf("%s: %+v", c.carriers, got.Total)
		}
		for _, p := range got.ByBand {
			if p.Downlink > c.inBand*bands.MHz {
				t.Errorf("%s: %+v", c.carriers, p)
			}
		}
	}
}
