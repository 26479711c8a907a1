package bands_test

import (
	"errors"
	"testing"

	"spectally/bands"
)

// TestCentresAround walks through every channel number of a band and asks of each
// whether the block lies inside the resource blocks of a channel there, and the channel
// inside the band: TS 38.101-1 clauses 5.4.2.2 and 5.4.3.2.
func TestCentresAround(t *testing.T) {
	for _, test := range []struct {
		band, width string
		scs, block  bands.Frequency // kHz
		at          string
	}{
		{"n78", "80", 30, 30, "3600"}, {"n78", "100", 30, 30, "3310"}, {"n78", "20", 30, 30, "3540.96"},
		{"n41", "60", 30, 15, "2506.02"}, {"n41", "60", 30, 15, "2506.95"}, {"n28", "10", 15, 15, "763.25"}, {"n1", "20", 15, 15, "2152.85"},
		{"n5", "10", 15, 15, "881.45"}, {"n257", "100", 120, 120, "28000.08"}, {"n257", "400", 120, 120, "28000.08"},
		{"n46", "20", 15, 30, "5180.4"}, {"n78", "10", 30, 30, "3799.2"},
	} {
		b := mustLookup(t, test.band)
		width, block := mhz(t, test.width), mhz(t, test.at)
		scs, blockSCS := test.scs*bands.KHz, test.block*bands.KHz
		got, err := b.CentresAround(block, width, scs, bands.Span{})
		w, ok := b.Width(scs, width)
		if !ok {
			t.Fatalf("%s has no %s at %s", b.ID, width, scs)
		}
		var want bands.Span
		try := func(n int32) {
			f, err := bands.ARFCN(n).Frequency()
			if err != nil {
				t.Fatal(err)
			}
			lowest := f - 6*bands.Frequency(w.ResourceBlocks)*scs // centre of the lowest subcarrier
			highest := lowest + bands.Frequency(12*w.ResourceBlocks-1)*scs
			first, last := block-120*blockSCS, block+119*blockSCS // of the block
			if first-blockSCS/2 < lowest-scs/2 || last+blockSCS/2 > highest+scs/2 {
				return
			}
			if !b.IsShared() && (f-width/2 < b.Downlink.Low || f+width/2 > b.Downlink.High) {
				return
			}
			if want.IsZero() {
				want.Low = f
			}
			want.High = f
		}
		first, last, _ := b.NumberRange(bands.Downlink)
		for n := first; n <= last; n++ {
			if b.OnRaster(bands.Downlink, n, width) || b.OnEnhancedRaster(bands.Downlink, n) {
				try(n)
			}
		}
		if want.IsZero() != (err != nil) || got != want {
			t.Errorf("%s %s around %s: %s, %v; want %s", b.ID, width, block, got, err, want)
		}
	}
}

// A block of spectrum narrows the places down, to the raster of 15 kHz from 3300 MHz; what has none is refused in words.
func TestCentresAroundWithin(t *testing.T) {
	n78 := mustLookup(t, "n78")
	within := bands.Span{Low: 3560 * bands.MHz, High: 3660 * bands.MHz}
	got, err := n78.CentresAround(3600*bands.MHz, 80*bands.MHz, 30*bands.KHz, within)
	if err != nil || got != (bands.Span{Low: 3600 * bands.MHz, High: 3619_995 * bands.KHz}) {
		t.Errorf("within %s: %s, %v", within, got, err)
	}
	for want, f := range map[string]func() (bands.Span, error){
		`SS/PBCH block of n78 "2600 MHz": must be 3300-3800 MHz (TS 38.101-1 Table 5.2-1)`: func() (bands.Span, error) {
			return n78.CentresAround(2600*bands.MHz, 80*bands.MHz, 30*bands.KHz, bands.Span{})
		},
		`SS/PBCH block of n78 "3600 MHz": must be a place that leaves a carrier of 80 MHz room in 3600-3650 MHz (TS 38.101-1 Table 5.2-1)`: func() (bands.Span, error) {
			return n78.CentresAround(3600*bands.MHz, 80*bands.MHz, 30*bands.KHz, bands.Span{Low: 3600 * bands.MHz, High: 3650 * bands.MHz})
		},
	} {
		s, err := f()
		var v *bands.ValueError
		if !errors.As(err, &v) || err.Error() != want {
			t.Errorf("%s, %v; want %s", s, err, want)
		}
	}
	for _, test := range []struct {
		f, width string
		on       bool
	}{{"2506.95", "60", true}, {"2506.02", "60", false}, {"3600", "80", false}} {
		b := mustLookup(t, "n78")
		if test.f[0] == '2' {
			b = mustLookup(t, "n41")
		}
		if _, on := b.BlockRaster(mhz(t, test.f), mhz(t, test.width)); on != test.on {
			t.Errorf("%s on the synchronisation raster of %s: %v", test.f, b.ID, on)
		}
	}
}
