package deploy_test

import (
	"bufio"
	"os"
	"strconv"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/ca/deploy"
)

func block(t testing.TB, s string) deploy.Block {
	t.Helper()
	b, err := deploy.ParseBlock(s)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// room finds what a band has of a block; nil if nothing.
func room(b deploy.Block, band string) *deploy.Room {
	for _, r := range deploy.Rooms(b) {
		if r.Band.ID.String() == band {
			return &r
		}
	}
	return nil
}

// lines reads the lines of a file of testdata, without comments, as fields.
func lines(t testing.TB, path string, fields int) [][]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var list [][]string
	for s := bufio.NewScanner(f); s.Scan(); {
		if line := s.Text(); line != "" && line[0] != '#' {
			list = append(list, strings.Split(line, " | "))
			if n := len(list[len(list)-1]); n != fields {
				t.Fatalf("%s: %q has %d fields, want %d", path, line, n, fields)
			}
		}
	}
	return list
}

// The expected values come from brute force over the facts of the standards, see the
// head of the file.
func TestLayouts(t *testing.T) {
	list := lines(t, "../../testdata/holdings/layouts.txt", 5)
	if len(list) < 60 {
		t.Fatalf("%d holdings, want 60 and more", len(list))
	}
	for _, want := range list {
		r := room(block(t, want[0]), want[1])
		if want[4] == "none" {
			if r != nil && len(r.Layouts()) > 0 {
				t.Errorf("%s in %s: a layout, want none", want[0], want[1])
			}
			continue
		}
		if r == nil {
			t.Errorf("%s: no room in %s", want[0], want[1])
			continue
		}
		best := r.Layouts()[0]
		up := best.UplinkResourceBlocks
		if r.Band.Duplex != bands.FDD {
			up = 0
		}
		got := strconv.Itoa(best.ResourceBlocks) + " " + strconv.Itoa(up) + " " + strconv.Itoa(len(best.Carriers))
		if expect := want[2] + " " + want[3] + " " + strconv.Itoa(len(strings.Fields(want[4]))); got != expect {
			t.Errorf("%s in %s: resource blocks, uplink, carriers %s, want %s", want[0], want[1], got, expect)
		}
	}
}

// Every carrier of every layout passes the check of package ca at its place, lies
// inside its block and shares no spectrum with its neighbours.
func TestLayoutsPassTheCheck(t *testing.T) {
	for _, line := range lines(t, "../../testdata/holdings/layouts.txt", 5) {
		b := block(t, line[0])
		for _, r := range deploy.Rooms(b) {
			for _, l := range r.Layouts() {
				checkLayout(t, b, &l)
			}
		}
	}
}

func checkLayout(t *testing.T, b deploy.Block, l *deploy.Layout) {
	t.Helper()
	name := b.String() + " in " + l.Band.ID.String()
	var all ca.Combination
	for i := range l.Carriers {
		c := &l.Carriers[i]
		all = append(all, c.Carrier)
		a := ca.Assess(ca.Combination{c.Carrier})
		for _, f := range a.RuleFindings() {
			switch f.Rule {
			case ca.RuleSupplementary, ca.RulePrimaryCell, ca.RuleSULPairing: // alone; a layout is no combination
			default:
				if f.Severity != ca.Note {
					t.Errorf("%s: %s: %s", name, c.Carrier, f.Message)
				}
			}
		}
		if down := c.Span(bands.Downlink); !down.IsZero() && !b.Downlink.Covers(down) {
			t.Errorf("%s: %s is %s", name, c.Carrier, down)
		}
		up := b.Uplink
		if up.IsZero() {
			up = b.Downlink
		}
		if s := c.Span(bands.Uplink); !s.IsZero() && !up.Covers(s) {
			t.Errorf("%s: uplink of %s is %s", name, c.Carrier, s)
		}
		if p := &a.Carriers[0]; p.UplinkCentre != 0 && c.UplinkCentre != 0 && p.UplinkCentre != c.UplinkCentre {
			t.Errorf("%s: uplink of %s at %s, package ca puts it at %s", name, c.Carrier, c.UplinkCentre, p.UplinkCentre)
		}
	}
	for _, f := range ca.CheckRules(all) {
		if f.Rule == ca.RuleOverlap {
			t.Errorf("%s: %s", name, f.Message)
		}
	}
}

func TestReasons(t *testing.T) {
	for _, c := range []struct {
		block, band string
		reason      deploy.Reason
		over        string
	}{
		// 3455 MHz is no place of the 30 kHz raster: 3454.98 and 3455.01 are.
		{"3410-3500", "n78", deploy.OffRaster, "10 kHz"},
		{"1805.05-1825.05/1710.05-1730.05", "n3", deploy.OffRaster, "50 kHz"},
		{"3410-3504", "n78", deploy.TooNarrow, "0 Hz"},
		{"3790-3900", "n78", deploy.OutsideBand, "0 Hz"},
		{"1805-1808/1710-1713", "n3", 0, ""}, // no channel so narrow
		// The only place is 2499.015 MHz, which TS 38.101-1 Table 5.3.5-1 rules out.
		{"2496.515-2501.515", "n41", deploy.NoEntry, "0 Hz"},
	} {
		r := room(block(t, c.block), c.band)
		if c.reason == 0 {
			if r != nil {
				t.Errorf("%s: a room in %s", c.block, c.band)
			}
			continue
		}
		left := r.Why()
		if l := r.Layouts(); len(l) > 0 {
			left = l[0].Left
		}
		if len(left) == 0 || left[0].Reason != c.reason || left[0].Over.String() != c.over {
			t.Errorf("%s in %s: left %+v, want %s, %s over", c.block, c.band, left, c.reason, c.over)
		}
	}
}

// With a tolerance the channel may pass the edge of the block, not that of the band.
func TestTolerance(t *testing.T) {
	r := room(block(t, "3410-3500"), "n78")
	r.Tolerance = 10 * bands.KHz
	l := r.Layouts()[0]
	if got := l.Carriers[0].String(); len(l.Carriers) != 1 || got != "n78:90@630334" {
		t.Errorf("%d carriers, %s; want n78:90@630334", len(l.Carriers), got)
	}
	r = room(block(t, "2500-2520.05"), "n7")
	if r != nil {
		t.Error("a TDD range is a room of n7")
	}
	r = room(block(t, "2620-2640/2500-2520"), "n7")
	r.Tolerance = bands.MHz
	for _, l := range r.Layouts() {
		if low := l.Carriers[0].Span(bands.Downlink).Low; low < 2620*bands.MHz {
			t.Errorf("channel from %s passes the edge of the band", low)
		}
	}
}

// More spectrum is never worse, on either side.
func TestMoreSpectrumIsNotWorse(t *testing.T) {
	for _, line := range lines(t, "../../testdata/holdings/layouts.txt", 5) {
		b := block(t, line[0])
		r := room(b, line[1])
		if r == nil || b.Downlink.Width() > 60*bands.MHz {
			continue
		}
		before := value(r)
		for _, by := range []bands.Frequency{100 * bands.KHz, 1_230 * bands.KHz, 5 * bands.MHz} {
			for _, side := range []int{-1, 1} {
				wider := b
				wider.Downlink = widen(b.Downlink, by, side)
				if !b.Uplink.IsZero() {
					wider.Uplink = widen(b.Uplink, by, side)
				}
				if w := room(wider, line[1]); w == nil || value(w) < before {
					t.Errorf("%s in %s by %s: fewer resource blocks than %s", wider, line[1], by, b)
				}
			}
		}
	}
}

func value(r *deploy.Room) bands.Frequency {
	l := r.Layouts()
	if len(l) == 0 {
		return 0
	}
	n := bands.Frequency(0)
	for i := range l[0].Carriers {
		a := ca.Assess(ca.Combination{l[0].Carriers[i].Carrier}).Carriers[0]
		n += a.Spacing * bands.Frequency(l[0].Carriers[i].ResourceBlocks)
		if r.Band.Duplex == bands.FDD {
			n += a.Spacing * bands.Frequency(l[0].Carriers[i].UplinkResourceBlocks)
		}
	}
	return n
}

func widen(s bands.Span, by bands.Frequency, side int) bands.Span {
	if side < 0 {
		s.Low -= by
	} else {
		s.High += by
	}
	return s
}

func TestMerge(t *testing.T) {
	list := []deploy.Block{block(t, "3450-3500"), block(t, "1815-1825/1720-1730"), block(t, "3410-3450"), block(t, "1805-1815/1710-1720"), block(t, "2110-2120/1920-1930")}
	var got []string
	for _, b := range deploy.Merge(list) {
		got = append(got, b.String())
	}
	if s := strings.Join(got, " "); s != "1805-1825/1710-1730 2110-2120/1920-1930 3410-3500" {
		t.Error(s)
	}
}

func TestParseBlock(t *testing.T) {
	for _, s := range []string{"1805-1825/1710-1730", "3410-3500", "3410.5-3500 MHz", " 1805 - 1825 / 1710-1730 mhz "} {
		b := block(t, s)
		if again := block(t, b.String()); again.Downlink != b.Downlink || again.Uplink != b.Uplink {
			t.Errorf("%q is %s, read back %s", s, b, again)
		}
	}
	for _, s := range []string{"", "3500-3410", "1805", "1805-1825/", "a-b", "1805-1825/1820-1840", "1805-1825/1710-1730/5-6", "-5-10"} {
		if b, err := deploy.ParseBlock(s); err == nil {
			t.Errorf("%q is read as %s", s, b)
		}
	}
}

func FuzzParseBlock(f *testing.F) {
	for _, s := range []string{"1805-1825/1710-1730", "3410-3500 MHz", "1-2/", "-", "1e9-2"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		b, err := deploy.ParseBlock(s)
		if err != nil {
			return
		}
		again, err := deploy.ParseBlock(b.String())
		if err != nil || again.Downlink != b.Downlink || again.Uplink != b.Uplink {
			t.Fatalf("%q is %s, read back %v, %v", s, b, again, err)
		}
	})
}

func BenchmarkLayouts(b *testing.B) {
	for _, s := range []string{"3410-3500", "1805-1830/1710-1735", "3400-3800"} {
		b.Run(s, func(b *testing.B) {
			spectrum := block(b, s)
			b.ReportAllocs()
			for b.Loop() {
				for _, r := range deploy.Rooms(spectrum) {
					if len(r.Layouts()) == 0 {
						b.Fatal("no layout")
					}
				}
			}
		})
	}
}
