package deploy

import (
	"testing"

	"spectally/bands"
)

// Centres of 5 MHz in n41 that the standard rules out, because the channel clashes with
// the synchronisation raster (TS 38.101-1 Table 5.3.5-1), are those at which no block of
// the raster lies inside the resource blocks; the lowest of each run, where one would
// just fit, the standard leaves out too.
func TestEntriesAgainstStandard(t *testing.T) {
	b, err := bands.Lookup(bands.ID{RAT: bands.NR, Number: 41})
	if err != nil {
		t.Fatal(err)
	}
	g := geometryOf(b)
	w := &g.widths[g.index(5*bands.MHz)]
	var ruledOut int
	for c := 2499 * bands.MHz; c < 2687400*bands.KHz; c += 15 * bands.KHz {
		_, has := g.entry(c, w)
		_, clash := b.PlaceFault(bands.Downlink, c, 5*bands.MHz)
		lowest := (c-2499*bands.MHz)%(1200*bands.KHz) == 0
		if has == clash && !lowest {
			t.Errorf("centre %s: entry %v, clash by the table %v", c, has, clash)
		}
		if clash {
			ruledOut++
		}
	}
	if ruledOut != 157*20 {
		t.Errorf("%d centres ruled out, want 157 runs of 20", ruledOut)
	}
}
