package bands_test

import (
	"slices"
	"testing"

	"spectally/bands"
)

// TS 38.101-1 V19.5.0 Tables 5.3.5-1, 5.3.2-1 and 5.3.3-1, TS 36.101 V19.6.0 Table 5.6-1.
func TestWidth(t *testing.T) {
	for _, c := range []struct {
		band   string
		scs    bands.Frequency
		width  string
		blocks int
		guard  string // kHz
	}{
		{"n78", 30 * khz1, "100", 273, "845"},
		{"n78", 60 * khz1, "100", 135, "1370"},
		{"n1", 15 * khz1, "20", 106, "452.5"},
		{"n257", 120 * khz1, "400", 264, "9860"},
		{"n263", 960 * khz1, "2000", 148, "147040"},
		{"n247", 15 * khz1, "10", 52, "312.5"},
		{"B3", 15 * khz1, "20", 100, "0"},
		{"B2", 15 * khz1, "1.4", 6, "0"},
		{"B112", 15 * khz1, "8", 40, "0"},
	} {
		w, ok := mustLookup(t, c.band).Width(c.scs, mhz(t, c.width))
		if !ok || w.ResourceBlocks != c.blocks || w.GuardBand.KHz() != c.guard || w.SCS != c.scs || w.Width != mhz(t, c.width) {
			t.Errorf("%s %s MHz at %s: %+v, %v; want %d resource blocks, guard %s kHz", c.band, c.width, c.scs, w, ok, c.blocks, c.guard)
		}
	}
	for _, c := range []struct {
		band  string
		scs   bands.Frequency
		width string
	}{{"n78", 15 * khz1, "100"}, {"n78", 30 * khz1, "35"}, {"n78", 0, "20"}, {"B3", 30 * khz1, "20"}, {"B103", 15 * khz1, "1.4"}} {
		if w, ok := mustLookup(t, c.band).Width(c.scs, mhz(t, c.width)); ok || w != (bands.ChannelWidth{}) {
			t.Errorf("%s has %s MHz at %s: %+v", c.band, c.width, c.scs, w)
		}
	}
}

func TestWidthsIn(t *testing.T) {
	for _, c := range []struct {
		band string
		d    bands.Direction
		scs  bands.Frequency
		want string
	}{
		{"n77", bands.Downlink, 0, "10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90 or 100 MHz"},
		{"n77", bands.Uplink, 15 * khz1, "10, 15, 20, 25, 30, 40 or 50 MHz"},
		{"n77", bands.Uplink, 120 * khz1, "none"},
		{"n5", bands.Uplink, 15 * khz1, "3, 5, 7, 10, 15 or 20 MHz"}, // 25 MHz is for the downlink alone
		{"n5", bands.Downlink, 15 * khz1, "3, 5, 7, 10, 15, 20 or 25 MHz"},
		{"n80", bands.Downlink, 0, "none"}, // supplementary uplink
		{"n29", bands.Uplink, 0, "none"},   // supplementary downlink
		{"B70", bands.Uplink, 0, "5, 10 or 15 MHz"},
		{"B70", bands.Downlink, 0, "5, 10, 15 or 20 MHz"},
		{"B108", bands.Downlink, 0, "6, 7 or 8 MHz"},
		{"B103", bands.Downlink, 0, "none"},
		{"n78", 0, 0, "none"},
	} {
		b := mustLookup(t, c.band)
		list := b.WidthsIn(c.d, c.scs)
		got := bands.ListMHz(list)
		if len(list) == 0 {
			got = "none"
		}
		if got != c.want {
			t.Errorf("%s %s at %s: %s, want %s", c.band, c.d, c.scs, got, c.want)
		}
		for f := bands.Frequency(0); f <= 110*mhz1; f += 100 * khz1 {
			has := slices.Contains(list, f)
			if c.scs == 0 && b.HasWidth(c.d, f) != has {
				t.Errorf("%s %s: has %s is %v", c.band, c.d, f, !has)
			}
			if err := b.CheckWidth(c.d, f, c.scs); (err == nil) != has {
				t.Errorf("%s %s %s: %v", c.band, c.d, f, err)
			}
		}
	}
}

func TestCheckWidthErrors(t *testing.T) {
	for _, c := range []struct {
		band  string
		d     bands.Direction
		width string
		scs   bands.Frequency
		want  string
	}{
		{"n78", bands.Downlink, "35", 0, `n78 downlink width "35 MHz": must be 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90 or 100 MHz; closest is 30 MHz (TS 38.101-1 Table 5.3.5-1)`},
		{"n78", bands.Downlink, "100", 15 * khz1, `n78 downlink width at 15 kHz "100 MHz": must be 10, 15, 20, 25, 30, 40 or 50 MHz; closest is 50 MHz, or 100 MHz at 30 or 60 kHz (TS 38.101-1 Table 5.3.5-1)`},
		{"n78", bands.Downlink, "100", 120 * khz1, `n78 downlink width at 120 kHz "100 MHz": must be none at this subcarrier spacing; n78 has 15, 30 or 60 kHz (TS 38.101-1 Table 5.3.5-1)`},
		{"n5", bands.Uplink, "25", 15 * khz1, `n5 uplink width at 15 kHz "25 MHz": must be 3, 5, 7, 10, 15 or 20 MHz; closest is 20 MHz (TS 38.101-1 Table 5.3.5-1)`},
		{"n80", bands.Downlink, "20", 0, `n80 downlink width "20 MHz": must be none: n80 is SUL and has no downlink (TS 38.101-1 Table 5.2-1)`},
		{"B29", bands.Uplink, "10", 15 * khz1, `B29 uplink width at 15 kHz "10 MHz": must be none: B29 is SDL and has no uplink (TS 36.101 Table 5.5-1)`},
		{"B103", bands.Downlink, "5", 0, `B103 downlink width "5 MHz": must be none: B103 has no row of channel bandwidths; NB-IoT only (standalone) (TS 36.101 Table 5.6.1-1)`},
		{"B103", bands.Uplink, "1.4", 15 * khz1, `B103 uplink width at 15 kHz "1.4 MHz": must be none: B103 has no row of channel bandwidths; NB-IoT only (standalone) (TS 36.101 Table 5.6.1-1)`},
		{"B107", bands.Downlink, "5", 0, `B107 downlink width "5 MHz": must be 6, 7 or 8 MHz; closest is 6 MHz (TS 36.101 Table 5.6H-1)`},
		{"B107", bands.Uplink, "6", 0, `B107 uplink width "6 MHz": must be none: B107 is SDO and has no uplink (TS 36.101 Table 5.5H-1)`},
		{"B3", bands.Downlink, "17.5", 0, `B3 downlink width "17.5 MHz": must be 1.4, 3, 5, 10, 15 or 20 MHz; closest is 15 MHz (TS 36.101 Table 5.6.1-1)`},
		{"B76", bands.Downlink, "10", 0, `B76 downlink width "10 MHz": must be 5 MHz; closest is 5 MHz (TS 36.101 Table 5.6A.1-2)`},
	} {
		wantError(t, mustLookup(t, c.band).CheckWidth(c.d, mhz(t, c.width), c.scs), c.want)
	}
}

func TestAllows(t *testing.T) {
	for _, c := range []struct {
		marks  bands.Mark
		dl, ul bool
	}{{0, true, true}, {bands.DownlinkOnly, true, false}, {bands.UplinkOnly, false, true}, {bands.Optional | bands.UplinkOptional | bands.SCellOnly, true, true}} {
		w := bands.ChannelWidth{Marks: c.marks}
		if w.Allows(bands.Downlink) != c.dl || w.Allows(bands.Uplink) != c.ul || w.Allows(0) {
			t.Errorf("marks %b: downlink %v, uplink %v, none %v", c.marks, w.Allows(bands.Downlink), w.Allows(bands.Uplink), w.Allows(0))
		}
	}
}

func TestSpacings(t *testing.T) {
	for _, c := range []struct {
		band, width string
		want        []bands.Frequency
	}{
		{"n78", "0", []bands.Frequency{15 * khz1, 30 * khz1, 60 * khz1}},
		{"n78", "100", []bands.Frequency{30 * khz1, 60 * khz1}},
		{"n78", "35", nil},
		{"n257", "400", []bands.Frequency{120 * khz1}},
		{"B3", "0", []bands.Frequency{15 * khz1}},
		{"B103", "0", nil},
	} {
		if got := mustLookup(t, c.band).Spacings(mhz(t, c.width)); !slices.Equal(got, c.want) {
			t.Errorf("%s %s MHz: %v, want %v", c.band, c.width, got, c.want)
		}
	}
}

// The spacing taken when none is given: common practice, no source.
func TestDefaultSpacing(t *testing.T) {
	for _, c := range []struct {
		band, width string
		kHz         bands.Frequency
	}{
		{"B3", "20", 15}, {"n1", "20", 15}, {"n80", "20", 15}, {"n75", "20", 15}, {"n78", "20", 30}, {"n78", "100", 30}, {"n78", "35", 0},
		{"n41", "5", 15},                           // 30 kHz has no 5 MHz
		{"n257", "100", 120}, {"n263", "800", 480}, // 120 kHz has no 800 MHz: the next wider
		{"n247", "20", 30}, // FDD, but 15 kHz has no 20 MHz
		{"n510", "50", 120}, {"n28", "3", 15}, {"B103", "5", 0}, {"B107", "8", 15},
	} {
		if got := mustLookup(t, c.band).DefaultSpacing(mhz(t, c.width)); got != c.kHz*khz1 {
			t.Errorf("%s %s MHz: %s, want %d kHz", c.band, c.width, got, c.kHz)
		}
	}
	for _, b := range bands.All(0) {
		for _, w := range b.Widths() {
			if _, ok := b.Width(b.DefaultSpacing(w.Width), w.Width); !ok {
				t.Errorf("%s has no %s at the default %s", b.ID, w.Width, b.DefaultSpacing(w.Width))
			}
		}
	}
}

func TestBlockErrors(t *testing.T) {
	_, err := bands.ResourceBlocks(bands.FR1, 15*khz1, 100*mhz1)
	wantError(t, err, `FR1 channel at 15 kHz "100 MHz": must be 3, 5, 7, 10, 15, 20, 25, 30, 35, 40, 45, 50 MHz at 15 kHz (TS 38.101-1 Table 5.3.2-1)`)
	_, err = bands.GuardBand(bands.FR1, 120*khz1, 100*mhz1)
	wantError(t, err, `FR1 channel at 120 kHz "100 MHz": must be 15 kHz SCS, 30 kHz SCS, 60 kHz SCS (TS 38.101-1 Table 5.3.3-1)`)
	for _, r := range []bands.Range{0, 9} {
		_, err = bands.ResourceBlocks(r, 15*khz1, 20*mhz1)
		wantError(t, err, `frequency range "none": must be FR1, FR2-1, FR2-2, FR1-NTN or FR2-NTN`)
	}
	_, err = bands.LTEResourceBlocks(7 * mhz1)
	wantError(t, err, `LTE channel bandwidth "7 MHz": must be 1.4, 3, 5, 10, 15 or 20 MHz (TS 36.101 Table 5.6-1)`)
}

// What a band hands out is a copy: changing it changes nothing.
func TestListsAreCopies(t *testing.T) {
	b := mustLookup(t, "n46")
	before := b.Widths()[0]
	b.Widths()[0] = bands.ChannelWidth{}
	if b.Widths()[0] != before {
		t.Error("Widths hands out its own list")
	}
	b.ListedChannels()[0] = bands.ListedChannel{}
	b.Rasters()[0] = bands.Raster{}
	b.SyncRasters()[0] = bands.SyncRaster{}
	if b.ListedChannels()[0].Number == 0 || b.Rasters()[0].Step == 0 || b.SyncRasters()[0].Step == 0 {
		t.Error("a list of channels or rasters is handed out itself")
	}
}

func TestWidestSpacing(t *testing.T) {
	for _, c := range []struct {
		band, width1, width2 string
		kHz                  bands.Frequency // 0: none in common
	}{
		{"n78", "100", "20", 60}, {"n1", "20", "5", 15}, {"n1", "20", "10", 60}, {"n257", "50", "400", 120}, {"n257", "50", "50", 120},
		{"n41", "5", "100", 0}, {"n78", "35", "20", 0}, {"B3", "20", "10", 15}, {"n263", "100", "400", 120}, {"n263", "2000", "800", 960},
	} {
		b := mustLookup(t, c.band)
		w1, w2, ok := b.WidestSpacing(mhz(t, c.width1), mhz(t, c.width2))
		var best bands.Frequency // the plain way: the largest spacing in both lists
		for _, scs := range b.Spacings(mhz(t, c.width1)) {
			if slices.Contains(b.Spacings(mhz(t, c.width2)), scs) {
				best = scs
			}
		}
		if w1.SCS != c.kHz*khz1 || w2.SCS != w1.SCS || ok != (c.kHz != 0) || best != w1.SCS || ok && (w1.Width != mhz(t, c.width1) || w2.Width != mhz(t, c.width2)) {
			t.Errorf("%s %s and %s MHz: %+v, %+v, %v; want %d kHz", c.band, c.width1, c.width2, w1, w2, ok, c.kHz)
		}
	}
}
