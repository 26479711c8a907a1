package bands_test

import (
	"testing"

	"spectally/bands"
)

// For channels of equal width the paired channel is where Paired puts it, as long as
// it lies inside the band, and the way back leads to the first.
func TestPairAgreesWithPaired(t *testing.T) {
	pairs, none := 0, 0
	for _, b := range bands.All(0) {
		if !b.Has(bands.Downlink) || !b.Has(bands.Uplink) {
			continue
		}
		for _, width := range b.WidthsIn(bands.Uplink, 0) {
			for f := b.Downlink.Low + width/2; f <= b.Downlink.High-width/2; f += 500 * bands.KHz {
				got := b.Pair(bands.Downlink, f, width, width)
				paired, ok := b.Paired(bands.Downlink, f)
				inside := ok && b.Uplink.Covers(bands.Around(paired, width))
				switch {
				case inside:
					pairs++
					if !got.Possible || got.Centre != paired && len(b.Separations()) == 1 {
						t.Fatalf("%v %v at %v: %+v, want %v", b.ID, width, f, got, paired)
					}
				case got.Possible && got.Centre != 0 && !b.Uplink.Covers(bands.Around(got.Centre, width)):
					t.Fatalf("%v %v at %v: %+v is outside the band", b.ID, width, f, got)
				case !got.Possible:
					none++
				}
				if got.Centre == 0 {
					continue
				}
				if back := b.Pair(bands.Uplink, got.Centre, width, width); back.Centre != f && len(b.Separations()) < 2 {
					t.Fatalf("%v %v: %v leads to %v and back to %v", b.ID, width, f, got.Centre, back.Centre)
				}
			}
		}
	}
	if pairs < 10_000 || none == 0 {
		t.Errorf("%d pairs, %d channels without one", pairs, none)
	}
}
