package bands_test

import (
	"slices"
	"testing"

	"spectally/bands"
)

// allRasters calls f for every raster of every NR band, the enhanced ones included.
func allRasters(f func(b *bands.Band, r *bands.Raster)) int {
	n := 0
	for _, b := range bands.All(bands.NR) {
		for _, r := range slices.Concat(b.Rasters(), b.EnhancedRasters()) {
			n++
			f(b, &r)
		}
	}
	return n
}

func arfcn(t testing.TB, n int32) bands.Frequency {
	t.Helper()
	f, err := bands.ARFCN(n).Frequency()
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// The first and last NR-ARFCN lie inside the band within one step of its edge, those
// of FDD bands in FR1 on the edge itself.
func TestRasterEnds(t *testing.T) {
	// The global raster above 24250 MHz begins at 24250.08 MHz (TS 38.104 V19.4.0
	// Table 5.4.2.1-1), so the band begins later than its edge.
	laterStart := map[string]bool{"n258": true}
	n := allRasters(func(b *bands.Band, r *bands.Raster) {
		if r.Step == 0 {
			if b.ID.String() != "n263" { // a list alone (TS 38.101-2 V19.4.0 Table 5.4.2.3-2)
				t.Errorf("%s has a raster without numbers", b.ID)
			}
			return
		}
		span := b.Span(r.Direction)
		low, high := arfcn(t, r.First)-span.Low, span.High-arfcn(t, r.Last)
		if low < 0 || high < 0 || high >= r.Spacing || low >= r.Spacing && !laterStart[b.ID.String()] {
			t.Errorf("%s %s %s: starts %s and ends %s inside %s", b.ID, r.Direction, r.Spacing, low, high, span)
		}
		if laterStart[b.ID.String()] && arfcn(t, r.First).MHz() != "24250.08" {
			t.Errorf("%s starts at %s", b.ID, arfcn(t, r.First))
		}
		if b.Range == bands.FR1 && b.Duplex == bands.FDD && (low != 0 || high != 0) {
			t.Errorf("%s %s %s: %s and %s off the band edges", b.ID, r.Direction, r.Spacing, low, high)
		}
	})
	if n < 2*113 {
		t.Errorf("only %d rasters", n)
	}
}

// A run of numbers ends on a step, and a step is as wide as the raster says.
func TestRasterSteps(t *testing.T) {
	allRasters(func(b *bands.Band, r *bands.Raster) {
		if r.Step == 0 {
			return
		}
		if (r.Last-r.First)%r.Step != 0 {
			t.Errorf("%s %s: %d:%d:%d does not end on a step", b.ID, r.Direction, r.First, r.Step, r.Last)
		}
		if got := arfcn(t, r.First+r.Step) - arfcn(t, r.First); r.First != r.Last && got != r.Spacing && !r.Listed {
			t.Errorf("%s %s: a step of %d is %s, the raster %s", b.ID, r.Direction, r.Step, got, r.Spacing)
		}
		if !r.Has(r.First) || !r.Has(r.Last) || r.Has(r.First-r.Step) || r.Has(r.Last+r.Step) || r.Step > 1 && r.Has(r.First+1) {
			t.Errorf("%s %s: %d:%d:%d has the wrong numbers", b.ID, r.Direction, r.First, r.Step, r.Last)
		}
	})
}

// EARFCN ranges begin on the lower band edge and end one step below the upper one;
// no two ranges share a number, but for the directions of a TDD band.
func TestEARFCNEnds(t *testing.T) {
	type owner struct {
		band      string
		direction bands.Direction
	}
	owners := make(map[int32]owner)
	for _, b := range bands.All(bands.LTE) {
		for _, r := range b.Rasters() {
			first, err := b.ChannelFrequency(r.First)
			last, err2 := b.ChannelFrequency(r.Last)
			span := b.Span(r.Direction)
			if err != nil || err2 != nil || first != span.Low || last != span.High-100*khz1 {
				t.Errorf("%s %s: %s to %s, want %s and 0.1 MHz less", b.ID, r.Direction, first, last, span)
			}
			for n := r.First; n <= r.Last; n++ {
				if o, taken := owners[n]; taken && !(o.band == b.ID.String() && b.Duplex == bands.TDD) {
					t.Fatalf("EARFCN %d belongs to %s %s and to %s %s", n, o.band, o.direction, b.ID, r.Direction)
				}
				owners[n] = owner{b.ID.String(), r.Direction}
			}
		}
	}
}

// A width that stands only at listed numbers is a width of the band; its numbers lie
// in the band, and its channel lies inside the band but for the entries that the note
// names: n46 60 MHz at 745332, n96 100 MHz at 871668, n102 20 MHz at 827668 and 80 MHz
// at 825668 in TS 38.101-1 V19.5.0 Tables 5.4.2.3-2 to -4, and the numbers below the
// lowest of LTE band 46.
func TestListedChannelsLieInBand(t *testing.T) {
	outside := make(map[string]int)
	for _, b := range bands.All(0) {
		for _, c := range b.ListedChannels() {
			d := bands.Downlink
			if !c.Downlink {
				d = bands.Uplink
			}
			if !b.HasWidth(d, c.Width) {
				t.Errorf("%s %d: %s is no width of the band", b.ID, c.Number, c.Width)
			}
			f, err := b.ChannelFrequency(c.Number)
			if err != nil {
				t.Errorf("%s: %v", b.ID, err)
			}
			if !b.Span(d).Covers(bands.Around(f, c.Width)) {
				outside[b.ID.String()]++
				if c.Note == "" {
					t.Errorf("%s %d leaves the band without a note", b.ID, c.Number)
				}
			}
			if !b.OnRaster(d, c.Number, c.Width) || !b.OnRaster(d, c.Number, 0) || !b.OnOwnRaster(d, c.Number, 120*khz1) {
				t.Errorf("%s %d at %s is not on the raster", b.ID, c.Number, c.Width)
			}
		}
	}
	for id, want := range map[string]int{"n46": 1, "n96": 1, "n102": 2, "B46": 2} {
		if outside[id] != want {
			t.Errorf("%s: %d channels leave the band, want %d", id, outside[id], want)
		}
		delete(outside, id)
	}
	if len(outside) > 0 {
		t.Errorf("channels leave their band: %v", outside)
	}
}

// A band marked as listed has a list, and the other way round; two bands have a list
// for 3 MHz alone.
func TestListsAndMarks(t *testing.T) {
	for _, b := range bands.All(0) {
		marked := slices.ContainsFunc(b.Rasters(), func(r bands.Raster) bool { return r.Listed })
		only3 := b.ID.Number == 106
		if marked != (len(b.ListedChannels()) > 0 && !only3) {
			t.Errorf("%s: raster listed %v, %d listed channels", b.ID, marked, len(b.ListedChannels()))
		}
	}
}

// The SS/PBCH block at every GSCN that a band allows lies inside the band. The runs of
// n46, n96 and n102 are only the outer limits of numbering (TS 38.101-1 V19.5.0 Table
// 5.4.3.3-1): there the list counts. In a 3 MHz channel the outer resource blocks of
// the broadcast channel are left out, so there it is the 12 resource blocks in the
// middle, those of the synchronisation signals, that lie inside (from memory).
func TestSyncRasterInsideBand(t *testing.T) {
	outerLimits := map[string]bool{"n46": true, "n96": true, "n102": true}
	blocks := 0
	for _, b := range bands.All(bands.NR) {
		for _, s := range b.SyncRasters() {
			entries := s.Entries()
			if len(entries) == 0 {
				t.Errorf("%s %s has no entry", b.ID, s.SCS)
				continue
			}
			if outerLimits[b.ID.String()] && s.List == nil {
				t.Errorf("%s has no list", b.ID)
			}
			if s.Step != 0 && (s.Last-s.First)%s.Step != 0 {
				t.Errorf("%s %s: %d:%d:%d does not end on a step", b.ID, s.SCS, s.First, s.Step, s.Last)
			}
			for _, g := range entries {
				f, err := g.Frequency()
				if err != nil || !s.Has(g) {
					t.Fatalf("%s GSCN %d: %v; an entry of its run: %v", b.ID, g, err, s.Has(g))
				}
				blocks++
				block := bands.SSBSpan(f, s.SCS)
				if s.Narrow {
					block.Low, block.High = block.Low+4*12*s.SCS, block.High-4*12*s.SCS
				}
				if !b.Downlink.Covers(block) {
					t.Errorf("%s GSCN %d: the block %s leaves %s", b.ID, g, block, b.Downlink)
				}
				if narrow, ok := bands.NarrowGSCNAt(f); s.Narrow && (!ok || narrow != g) {
					t.Errorf("%s: NarrowGSCNAt(%s) = %d, %v, want %d", b.ID, f, narrow, ok, g)
				}
				if wide, ok := bands.GSCNAt(f); !s.Narrow && (!ok || wide != g) {
					t.Errorf("%s: GSCNAt(%s) = %d, %v, want %d", b.ID, f, wide, ok, g)
				}
			}
		}
	}
	if blocks < 10000 {
		t.Errorf("only %d blocks", blocks)
	}
}

// Bands that the network reaches by themselves have a synchronisation raster;
// supplementary uplinks and the sidelink band n47 have none.
func TestSyncRasterExists(t *testing.T) {
	for _, b := range bands.All(bands.NR) {
		want := b.Has(bands.Downlink) && b.ID.String() != "n47"
		if got := len(b.SyncRasters()) > 0; got != want {
			t.Errorf("%s has a synchronisation raster: %v, want %v", b.ID, got, want)
		}
	}
}
