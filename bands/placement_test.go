package bands_test

import (
	"testing"

	"spectally/bands"
)

// Where the notes on widths let a channel lie, raster step by raster step, against the
// notes written out as inequalities: TS 38.101-1 V19.5.0 Table 5.3.5-1 notes 7, 11 and
// 13, TS 36.101 V19.6.0 Table 5.6.1-1.
func TestPlaceFault(t *testing.T) {
	type rule func(mhz100 int) bool // centre in steps of 10 kHz
	between := func(f, low, high int) bool { return low <= f && f <= high }
	tests := []struct {
		band  string
		width bands.Frequency
		dir   bands.Direction
		holds rule
		wider rule
	}{
		{"B28", 20, bands.Uplink, func(f int) bool { return between(f, 71300, 72300) || between(f, 72800, 73800) }, nil},
		{"B68", 15, bands.Uplink, func(f int) bool { return f == 70550 || between(f, 71050, 72050) }, nil},
		{"B71", 20, bands.Uplink, func(f int) bool { return between(f, 67300, 67800) || between(f, 68300, 68800) }, nil},
		{"n68", 15, bands.Uplink, func(f int) bool { return f == 70550 || between(f, 71050, 72050) }, nil},
		{"n28", 20, bands.Uplink, func(f int) bool { return between(f, 71300, 72300) || between(f, 72800, 73800) }, func(f int) bool { return f <= 73304 }},
		{"n28", 30, bands.Uplink, func(f int) bool { return f == 71800 || f == 73300 }, func(f int) bool { return f <= 72804 }},
		{"n28", 40, bands.Uplink, func(f int) bool { return between(f, 72300, 72304) }, nil},
		{"n83", 25, bands.Uplink, func(f int) bool { return between(f, 71550, 72050) || between(f, 73050, 73550) }, func(f int) bool { return f <= 73054 }},
		{"n28", 10, bands.Uplink, func(int) bool { return true }, nil},
		{"n28", 20, bands.Downlink, func(int) bool { return true }, nil},
		{"n41", 10, bands.Downlink, func(int) bool { return true }, nil},
		{"n41", 5, bands.Downlink, func(f int) bool {
			for n := range 157 {
				if low := 249900 + 120*n; low <= f && f < low+30 {
					return false
				}
			}
			return true
		}, nil},
	}
	for _, tt := range tests {
		id, err := bands.ParseID(tt.band)
		if err != nil {
			t.Fatal(err)
		}
		b, err := bands.Lookup(id)
		if err != nil {
			t.Fatal(err)
		}
		width := tt.width * bands.MHz
		span := b.Span(tt.dir)
		const step = 10 * bands.KHz
		kept, broken := 0, 0
		for centre := span.Low + width/2; centre <= span.High-width/2; centre += step {
			f := int(centre / step)
			fault, bad := b.PlaceFault(tt.dir, centre, width)
			if bad == tt.holds(f) {
				t.Fatalf("%s with %d MHz at %v: a fault is %v: %v", tt.band, tt.width, centre, bad, fault.Err)
			}
			if !bad {
				kept++
				continue
			}
			broken++
			if wider := tt.wider != nil && tt.wider(f); fault.WiderUE != wider || fault.Forbidden != (tt.band == "n41") {
				t.Fatalf("%s with %d MHz at %v: %+v", tt.band, tt.width, centre, fault)
			}
		}
		if kept == 0 {
			t.Errorf("%s with %d MHz: no place at all", tt.band, tt.width)
		}
		t.Logf("%s with %d MHz %v: %d places kept, %d not", tt.band, tt.width, tt.dir, kept, broken)
	}
}
