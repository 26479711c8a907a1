package bands_test

import (
	"slices"
	"testing"

	"spectally/bands"
)

func TestChannelFrequencyErrors(t *testing.T) {
	for _, c := range []struct {
		band string
		n    int32
		want string
	}{
		{"n78", 619999, `NR-ARFCN of n78 "619999": must be 620000 to 653333 (TS 38.101-1 Table 5.4.2.3-1)`},
		{"n1", 1, `NR-ARFCN of n1 "1": must be 422000 to 434000 (downlink), 384000 to 396000 (uplink); closest is EARFCN 1 of B1, 2110.1 MHz (TS 38.101-1 Table 5.4.2.3-1)`},
		{"n80", 361000, `NR-ARFCN of n80 "361000": must be 342000 to 357000 (uplink) (TS 38.101-1 Table 5.4.2.3-1)`},
		{"n263", 1, `NR-ARFCN of n263 "1": must be 2564083 to 2794243 (TS 38.101-2 Table 5.4.2.3-1)`},
		{"n78", -1, `NR-ARFCN "-1": must be 0 to 3279165 (TS 38.104 Table 5.4.2.1-1)`},
		{"B3", 1199, `EARFCN of B3 "1199": must be 1200 to 1949 (downlink), 19200 to 19949 (uplink) (TS 36.101 Table 5.7.3-1)`},
		{"B38", 1, `EARFCN of B38 "1": must be 37750 to 38249 (TS 36.101 Table 5.7.3-1)`},
		{"B29", 1, `EARFCN of B29 "1": must be 9660 to 9769 (downlink) (TS 36.101 Table 5.7.3-1)`},
	} {
		f, err := mustLookup(t, c.band).ChannelFrequency(c.n)
		wantError(t, err, c.want)
		if f != 0 {
			t.Errorf("%s %d: %s besides the error", c.band, c.n, f)
		}
	}
}

func TestDirections(t *testing.T) {
	for _, c := range []struct {
		band string
		n    int32
		want string
	}{
		{"B3", 1300, "dl"}, {"B3", 19300, "ul"}, {"B3", 100, "none"}, {"B38", 38000, "both"}, {"B29", 9700, "dl"},
		{"n1", 422000, "dl"}, {"n1", 384000, "ul"}, {"n1", 400000, "none"}, {"n78", 640000, "both"}, {"n80", 342000, "ul"}, {"n78", -5, "none"},
	} {
		dl, ul := mustLookup(t, c.band).Directions(c.n)
		if got := oneWay(dl, ul); got != c.want {
			t.Errorf("%s %d lies in %s, want %s", c.band, c.n, got, c.want)
		}
	}
}

func TestNumberRange(t *testing.T) {
	for _, c := range []struct {
		band        string
		d           bands.Direction
		first, last int32
		ok          bool
	}{
		{"n78", bands.Downlink, 620000, 653333, true},
		{"n41", bands.Uplink, 499200, 537999, true}, // of two rasters the wider run
		{"n90", bands.Downlink, 499200, 538000, true},
		{"n263", bands.Downlink, 2564083, 2794243, true}, // from its list
		{"n46", bands.Downlink, 743334, 795000, true},
		{"n80", bands.Downlink, 0, 0, false},
		{"B3", bands.Downlink, 1200, 1949, true},
		{"B32", bands.Uplink, 0, 0, false},
	} {
		first, last, ok := mustLookup(t, c.band).NumberRange(c.d)
		if first != c.first || last != c.last || ok != c.ok {
			t.Errorf("%s %s: %d to %d, %v; want %d to %d, %v", c.band, c.d, first, last, ok, c.first, c.last, c.ok)
		}
	}
}

func TestChannelNumber(t *testing.T) {
	for _, c := range []struct {
		band, mhz string
		d         bands.Direction
		n         int32
		exact     bool
	}{
		{"n78", "3600", bands.Downlink, 640000, true},
		{"n78", "3600.007", bands.Downlink, 640000, false},
		{"n78", "3600.008", bands.Downlink, 640001, false},
		{"n78", "3800", bands.Downlink, 653333, false}, // 3799.995 MHz: 3800.01 MHz is outside
		{"n258", "24250", bands.Downlink, 2016667, false},
		{"n1", "2110", bands.Downlink, 422000, true},
		{"n1", "1950.0025", bands.Uplink, 390000, false},
		{"B3", "1815", bands.Downlink, 1300, true},
		{"B3", "1815.05", bands.Downlink, 1300, false},
		{"B3", "1815.050001", bands.Downlink, 1301, false},
		{"B3", "1880", bands.Downlink, 1949, false}, // the last number is 0.1 MHz below the edge
		{"B3", "1720", bands.Uplink, 19300, true},
		{"B9", "1844.9", bands.Downlink, 3800, true},
	} {
		n, exact, err := mustLookup(t, c.band).ChannelNumber(c.d, mhz(t, c.mhz))
		if n != c.n || exact != c.exact || err != nil {
			t.Errorf("%s %s MHz %s: %d, %v, %v; want %d, %v", c.band, c.mhz, c.d, n, exact, err, c.n, c.exact)
		}
	}
	for _, c := range []struct {
		band, mhz string
		d         bands.Direction
		want      string
	}{
		{"n1", "3000", bands.Downlink, `n1 downlink frequency "3 GHz": must be 2110-2170 MHz (TS 38.101-1 Table 5.2-1)`},
		{"n75", "1450", bands.Uplink, `n75 uplink frequency "1.45 GHz": must be none: the band has no uplink (TS 38.101-1 Table 5.2-1)`},
		{"B3", "1804.999999", bands.Downlink, `B3 downlink frequency "1.804999999 GHz": must be 1805-1880 MHz (TS 36.101 Table 5.5-1)`},
	} {
		_, _, err := mustLookup(t, c.band).ChannelNumber(c.d, mhz(t, c.mhz))
		wantError(t, err, c.want)
	}
}

// A number found for any frequency of a band belongs to the band.
func TestChannelNumberStaysInBand(t *testing.T) {
	for _, b := range bands.All(0) {
		for _, d := range []bands.Direction{bands.Downlink, bands.Uplink} {
			if !b.Has(d) {
				continue
			}
			s := b.Span(d)
			for _, f := range []bands.Frequency{s.Low, s.Low + 1, s.Low + 39*khz1, (s.Low + s.High) / 2, s.High - 39*khz1, s.High - 1, s.High} {
				n, exact, err := b.ChannelNumber(d, f)
				if err != nil {
					t.Errorf("%s %s %s: %v", b.ID, d, f, err)
					continue
				}
				at, err := b.ChannelFrequency(n)
				if err != nil || !s.Contains(at) || exact != (at == f) || max(at-f, f-at) > 100*khz1 {
					t.Errorf("%s %s %s: number %d, exact %v, is %s, %v", b.ID, d, f, n, exact, at, err)
				}
			}
		}
	}
}

// The rasters of TS 38.101-1 V19.5.0 and -2 V19.4.0 (clause 5.4.2.3) and the lists.
func TestOnRaster(t *testing.T) {
	for _, c := range []struct {
		band   string
		d      bands.Direction
		n      int32
		width  string
		on     bool
		ownSCS bands.Frequency // 0: not asked
		own    bool
	}{
		{"n78", bands.Downlink, 640000, "100", true, 30 * khz1, true},
		{"n78", bands.Downlink, 640001, "100", true, 30 * khz1, false}, // on the 15 kHz raster alone
		{"n78", bands.Downlink, 640001, "20", true, 15 * khz1, true},
		{"n78", bands.Downlink, 640001, "20", true, 60 * khz1, false},
		{"n78", bands.Downlink, 619999, "20", false, 15 * khz1, false},
		{"n1", bands.Downlink, 422020, "20", true, 30 * khz1, true}, // 100 kHz holds at any spacing
		{"n1", bands.Downlink, 422010, "20", false, 15 * khz1, false},
		{"n1", bands.Uplink, 422020, "20", false, 15 * khz1, false},
		{"n90", bands.Downlink, 499220, "20", true, 30 * khz1, true}, // on its 100 kHz raster
		{"n90", bands.Downlink, 499203, "20", true, 15 * khz1, true},
		{"n90", bands.Downlink, 499203, "20", true, 30 * khz1, false},
		{"n257", bands.Downlink, 2054166, "100", true, 120 * khz1, false},
		{"n257", bands.Downlink, 2054167, "100", true, 120 * khz1, true},
		{"n257", bands.Downlink, 2054166, "100", true, 60 * khz1, true},
		{"n508", bands.Downlink, 1113336, "100", true, 60 * khz1, false}, // no raster for 60 kHz
		{"n96", bands.Downlink, 797000, "20", true, 15 * khz1, true},
		{"n96", bands.Downlink, 797000, "40", false, 15 * khz1, true}, // another width's place
		{"n96", bands.Downlink, 797001, "20", false, 15 * khz1, false},
		{"n96", bands.Downlink, 795668, "20", true, 30 * khz1, true}, // downlink-only operation
		{"n96", bands.Uplink, 795668, "20", false, 30 * khz1, false},
		{"n263", bands.Uplink, 2564083, "100", true, 120 * khz1, true},
		{"n263", bands.Uplink, 2564084, "100", false, 120 * khz1, false},
		{"n106", bands.Downlink, 187600, "3", true, 15 * khz1, true},
		{"n106", bands.Downlink, 187620, "3", false, 0, false},
		{"n106", bands.Downlink, 187620, "5", true, 0, false},
		{"n106", bands.Uplink, 179800, "3", true, 0, false},
		{"n106", bands.Uplink, 187600, "3", false, 0, false},
		{"B3", bands.Downlink, 1300, "20", true, 0, false},
		{"B3", bands.Uplink, 1300, "20", false, 0, false},
		{"B46", bands.Downlink, 46891, "20", true, 0, false},
		{"B46", bands.Downlink, 46893, "20", false, 0, false},
		{"B46", bands.Downlink, 52590, "20", false, 0, false}, // a 10 MHz place
		{"B106", bands.Downlink, 70686, "3", true, 0, false},
		{"B106", bands.Downlink, 70687, "3", false, 0, false},
		{"B106", bands.Downlink, 70687, "1.4", true, 0, false},
	} {
		b := mustLookup(t, c.band)
		if got := b.OnRaster(c.d, c.n, mhz(t, c.width)); got != c.on {
			t.Errorf("%s %s %d, %s MHz: on the raster %v, want %v", c.band, c.d, c.n, c.width, got, c.on)
		}
		if c.ownSCS != 0 {
			if got := b.OnOwnRaster(c.d, c.n, c.ownSCS); got != c.own {
				t.Errorf("%s %s %d, %s: on its own raster %v, want %v", c.band, c.d, c.n, c.ownSCS, got, c.own)
			}
		}
	}
}

// The enhanced 10 kHz raster, TS 38.101-1 V19.5.0 Table 5.4.2.3-5.
func TestOnEnhancedRaster(t *testing.T) {
	for _, c := range []struct {
		band string
		n    int32
		want bool
	}{{"n1", 422002, true}, {"n1", 422001, false}, {"n1", 384002, false}, {"n78", 640000, false}} {
		if got := mustLookup(t, c.band).OnEnhancedRaster(bands.Downlink, c.n); got != c.want {
			t.Errorf("%s %d: %v, want %v", c.band, c.n, got, c.want)
		}
	}
}

func TestNearestOnRaster(t *testing.T) {
	for _, c := range []struct {
		band  string
		d     bands.Direction
		n     int32
		width string
		want  []int32
	}{
		{"n1", bands.Downlink, 422020, "20", []int32{422020}},
		{"n1", bands.Downlink, 422011, "20", []int32{422000, 422020}},
		{"n1", bands.Downlink, 0, "20", []int32{422000}},
		{"n1", bands.Downlink, 3000000, "20", []int32{434000}},
		{"n41", bands.Downlink, 499201, "20", []int32{499200, 499203}},
		{"n90", bands.Downlink, 499219, "20", []int32{499218, 499220}}, // from two of its three rasters
		{"n96", bands.Downlink, 796000, "20", []int32{795668, 797000}},
		{"n96", bands.Uplink, 796000, "20", []int32{797000}},
		{"n96", bands.Downlink, 796000, "35", nil}, // no width of the band
		{"n263", bands.Downlink, 2564084, "100", []int32{2564083, 2565763}},
		{"n80", bands.Downlink, 342000, "20", nil},
		{"B3", bands.Downlink, 1300, "20", []int32{1300}},
		{"B3", bands.Downlink, 5, "20", []int32{1200}},
	} {
		if got := mustLookup(t, c.band).NearestOnRaster(c.d, c.n, mhz(t, c.width)); !slices.Equal(got, c.want) {
			t.Errorf("%s %s near %d, %s MHz: %v, want %v", c.band, c.d, c.n, c.width, got, c.want)
		}
	}
}

// NearestOnRaster against a search one number at a time.
func TestNearestOnRasterSearch(t *testing.T) {
	for _, name := range []string{"n41", "n90", "n46", "n258", "n106", "B46"} {
		b := mustLookup(t, name)
		first, last, _ := b.NumberRange(bands.Downlink)
		for n := first - 3; n <= last+3; n += max(1, (last-first)/60) {
			for _, width := range b.WidthsIn(bands.Downlink, 0) {
				var want []int32
				if b.OnRaster(bands.Downlink, n, width) {
					want = []int32{n}
				} else {
					for below := n - 1; below >= first; below-- {
						if b.OnRaster(bands.Downlink, below, width) {
							want = append(want, below)
							break
						}
					}
					for above := n + 1; above <= last; above++ {
						if b.OnRaster(bands.Downlink, above, width) {
							want = append(want, above)
							break
						}
					}
				}
				if got := b.NearestOnRaster(bands.Downlink, n, width); !slices.Equal(got, want) {
					t.Fatalf("%s near %d, %s: %v, want %v", b.ID, n, width, got, want)
				}
			}
		}
	}
}

func TestARFCNWorking(t *testing.T) {
	for n, want := range map[bands.ARFCN]string{
		390000:  "F_REF = 0 MHz + 5 kHz x (390000 - 0)",
		640000:  "F_REF = 3000 MHz + 15 kHz x (640000 - 600000)",
		2054166: "F_REF = 24250.08 MHz + 60 kHz x (2054166 - 2016667)",
		-1:      "",
		3279166: "",
	} {
		if got := n.Working(); got != want {
			t.Errorf("NR-ARFCN %d: %q, want %q", n, got, want)
		}
	}
}

func TestHasRaster(t *testing.T) {
	for _, c := range []struct {
		band string
		kHz  bands.Frequency
		want bool
	}{{"n1", 100, true}, {"n1", 15, false}, {"n78", 15, true}, {"n78", 30, true}, {"n90", 100, true}, {"n78", 100, false}, {"n257", 120, true}, {"B3", 100, true}, {"n1", 10, false}} {
		if got := mustLookup(t, c.band).HasRaster(c.kHz * khz1); got != c.want {
			t.Errorf("%s has a raster of %d kHz: %v", c.band, c.kHz, got)
		}
	}
}
