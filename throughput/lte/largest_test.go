package lte

import (
	"errors"
	"strings"
	"sync"
	"testing"

	"spectally/bands"
)

// Sums of largest transport blocks at 100 blocks: TS 36.306 V19.2.0 Tables 4.1-1,
// 4.1-2, 4.1A-1, 4.1A-2 (one carrier's share of the category's limit).
func TestLargestBlock(t *testing.T) {
	for _, c := range []struct {
		dir             bands.Direction
		qm, layers, prb int
		bits            int
		itbs            string
		description     string
	}{
		{bands.Downlink, 6, 1, 100, 75376, "26", "UL category 5 has the same block"},
		{bands.Downlink, 6, 2, 100, 150752, "26", "DL category 4"},
		{bands.Downlink, 6, 4, 100, 299552, "26", "DL category 5"},
		{bands.Downlink, 6, 8, 100, 599712, "26", "DL category 8, 2998560 in five carriers"},
		{bands.Downlink, 8, 1, 100, 97896, "33", "256QAM, largest single block of DL category 13"},
		{bands.Downlink, 8, 2, 100, 195792, "33", "DL category 16, 978960 in five carriers"},
		{bands.Downlink, 8, 4, 100, 391632, "33", "DL category 13"},
		{bands.Downlink, 8, 8, 100, 783312, "33", "DL category 14, 3916560 in five carriers"},
		{bands.Downlink, 10, 1, 100, 125808, "37", "DL category 20, largest single block"},
		{bands.Downlink, 10, 4, 100, 503280, "37", "DL category 20, two blocks"},
		{bands.Downlink, 10, 8, 100, 1005248, "37", "DL category 20, two blocks"},
		{bands.Uplink, 6, 1, 100, 75376, "26", "UL category 5"},
		{bands.Uplink, 4, 1, 100, 51024, "21", "UL category 3, without 64QAM"},
		{bands.Uplink, 8, 1, 100, 105528, "34", "UL category 16"},
		{bands.Uplink, 6, 4, 100, 299552, "26", "UL category 8, 1497760 in five carriers"},
		{bands.Uplink, 8, 4, 100, 423872, "34", "UL category 17, 2119360 in five carriers"},
	} {
		got, err := LargestBlock(c.dir, c.qm, c.layers, c.prb)
		if err != nil || got.Bits != c.bits || got.PRB != c.prb || got.Blocks[0].ITBS.String() != c.itbs || got.Gap != nil {
			t.Errorf("%s: %+v, %v; want %d bits of I_TBS %s", c.description, got, err, c.bits, c.itbs)
		}
	}
}

// The search once more without its tables: every row, every number of blocks up
// to n.
func TestLargestBlockSearch(t *testing.T) {
	for _, dir := range []bands.Direction{bands.Downlink, bands.Uplink} {
		for _, qm := range []int{2, 4, 6, 8, 10} {
			for layers := 1; layers <= 8; layers++ {
				best := 0
				for n := 1; n <= MaxPRB; n++ {
					got, err := LargestBlock(dir, qm, layers, n)
					if (dir == bands.Uplink && (qm == 10 || layers > 4)) != (err != nil) {
						t.Fatalf("%s, order %d, %d layers: error %v", dir, qm, layers, err)
					}
					if err != nil {
						break
					}
					if dir == bands.Downlink || puschProduct(n) {
						best = max(best, largestByHand(t, dir, qm, layers, n))
					}
					checkLargest(t, dir, qm, layers, n, &got)
					if got.Bits != best {
						t.Errorf("%s, order %d, %d layers, %d blocks: %d bits, want %d", dir, qm, layers, n, got.Bits, best)
					}
				}
			}
		}
	}
}

func puschProduct(n int) bool {
	for a := 1; a <= n; a *= 2 {
		for b := a; b <= n; b *= 3 {
			for c := b; c <= n; c *= 5 {
				if c == n {
					return true
				}
			}
		}
	}
	return false
}

func largestByHand(t *testing.T, dir bands.Direction, qm, layers, n int) int {
	t.Helper()
	table, err := MCSTableFor(dir, qm)
	if err != nil {
		t.Fatal(err)
	}
	first, second, err := Codewords(layers)
	if err != nil {
		t.Fatal(err)
	}
	sum := 0
	for _, l := range []int{first, second} {
		best := 0
		for index := range table.Rows() {
			m, err := table.MCS(index)
			if err != nil || l == 0 {
				continue // reserved
			}
			bits, err := CodewordSize(m.ITBS, n, l)
			rate := float64(bits+24) / float64(n*168*min(m.Qm, qm)*l)
			switch {
			case err != nil, rate > 1:
				continue
			case m.Qm > qm: // 16QAM in the uplink keeps the index; 144 of 168 elements carry data
				if dir != bands.Uplink || qm != 4 || rate*168/144 > 0.932 {
					continue
				}
			}
			best = max(best, bits)
		}
		sum += best
	}
	return sum
}

// What the result says of its codewords is so.
func checkLargest(t *testing.T, dir bands.Direction, qm, layers, n int, got *Largest) {
	t.Helper()
	sum, sumLayers := 0, 0
	for _, b := range got.Blocks {
		if b.Layers == 0 {
			continue
		}
		bits, err := CodewordSize(b.ITBS, got.PRB, b.Layers)
		if err != nil || bits != b.Bits || b.Qm > qm || got.PRB > n || (dir == bands.Uplink && !puschProduct(got.PRB)) {
			t.Errorf("%s, order %d, %d layers, %d blocks: %+v, %d bits, %v", dir, qm, layers, n, got, bits, err)
		}
		sum += bits
		sumLayers += b.Layers
	}
	if sum != got.Bits || sumLayers != layers {
		t.Errorf("%s, order %d, %d layers, %d blocks: %+v", dir, qm, layers, n, got)
	}
	last, err := LargestBlock(dir, qm, max(1, layers-1), n)
	if err != nil || last.Bits > got.Bits {
		t.Errorf("%s, order %d, %d blocks: %d bits on %d layers, %d on one less", dir, qm, n, got.Bits, layers, last.Bits)
	}
}

// 1024QAM on eight layers at 82 blocks asks for a size that the standard does not
// give (I_TBS 37, one-layer size 101840): the result says so and takes the
// largest that there is.
func TestLargestBlockGap(t *testing.T) {
	got, err := LargestBlock(bands.Downlink, 10, 8, 82)
	if err != nil || got.Gap == nil {
		t.Fatalf("%+v, %v", got, err)
	}
	if g := got.Gap; g.ITBS.String() != "37" || g.PRB != 82 || g.Layers != 4 || g.OneBits != 101840 {
		t.Errorf("gap %+v", g)
	}
	full, err := LargestBlock(bands.Downlink, 10, 8, 80)
	if err != nil || full.Gap != nil || got.Bits < full.Bits {
		t.Errorf("%d bits at 82 blocks, %d at 80, %v", got.Bits, full.Bits, err)
	}
	for _, n := range []int{6, 15, 25, 50, 75, 100} { // TS 36.101 V19.6.0 Table 5.6-1
		for _, qm := range []int{2, 4, 6, 8, 10} {
			for layers := 1; layers <= 8; layers++ {
				if got, err := LargestBlock(bands.Downlink, qm, layers, n); err != nil || got.Gap != nil {
					t.Errorf("order %d, %d layers, %d blocks: %+v, %v", qm, layers, n, got, err)
				}
			}
		}
	}
}

func TestLargestBlockErrors(t *testing.T) {
	for _, c := range []struct {
		dir             bands.Direction
		qm, layers, prb int
		param           string
	}{
		{0, 6, 1, 100, "link direction"}, {3, 6, 1, 100, "link direction"},
		{bands.Downlink, 3, 1, 100, "LTE downlink modulation order"}, {bands.Downlink, 12, 1, 100, "LTE downlink modulation order"},
		{bands.Uplink, 10, 1, 100, "LTE uplink modulation order"}, {bands.Downlink, -2, 1, 100, "LTE downlink modulation order"},
		{bands.Downlink, 6, 9, 100, "number of downlink layers"}, {bands.Uplink, 6, 5, 100, "number of uplink layers"},
		{bands.Downlink, 6, 0, 100, "number of downlink layers"},
		{bands.Downlink, 6, 1, 0, "number of resource blocks"}, {bands.Downlink, 6, 1, 111, "number of resource blocks"},
	} {
		for range 2 { // before and after the table of the valid arguments is there
			got, err := LargestBlock(c.dir, c.qm, c.layers, c.prb)
			var v *bands.ValueError
			if !errors.As(err, &v) || v.Param != c.param || got.Bits != 0 || strings.Contains(err.Error(), "\n") {
				t.Errorf("%+v: %+v, %v", c, got, err)
			}
			if _, err := LargestBlock(bands.Downlink, 6, 1, 100); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func TestLargestBlockConcurrent(t *testing.T) {
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			for layers := 1; layers <= 8; layers++ {
				if got, err := LargestBlock(bands.Downlink, 2, layers, 50); err != nil || got.Bits == 0 {
					t.Errorf("%d layers: %+v, %v", layers, got, err)
				}
			}
		})
	}
	wg.Wait()
}

// TS 36.211 V19.3.0 clause 5.3.3: 96 and 100 blocks are allowed, 97 to 99 are not.
func TestPUSCHBlocks(t *testing.T) {
	for n := 1; n <= MaxPRB; n++ {
		want := n
		for !puschProduct(want) {
			want--
		}
		if got := PUSCHBlocks(n); got != want {
			t.Errorf("%d blocks: %d, want %d", n, got, want)
		}
	}
	for n, want := range map[int]int{100: 100, 99: 96, 98: 96, 97: 96, 96: 96, 7: 6, 0: 0, -3: 0} {
		if got := PUSCHBlocks(n); got != want {
			t.Errorf("%d blocks: %d, want %d", n, got, want)
		}
	}
}

// LTE peak rates of a 20 MHz carrier: 75.376 Mbit/s a layer with 64QAM, 150.752 with
// two; 97.896 with 256QAM and 391.632 with four layers; in TDD by hand from the sizes of
// TS 36.213 V19.3.0 Table 7.1.7.2.1-1 (75376, and 55056 in column 75).
func TestPeakRate(t *testing.T) {
	for _, c := range []struct {
		frame      string
		dir        bands.Direction
		qm, layers int
		rate       int64
	}{
		{"FDD", bands.Downlink, 6, 1, 75_376_000}, {"FDD", bands.Downlink, 6, 2, 150_752_000},
		{"FDD", bands.Downlink, 8, 1, 97_896_000}, {"FDD", bands.Downlink, 8, 4, 391_632_000},
		{"FDD", bands.Downlink, 10, 1, 125_808_000}, {"FDD", bands.Uplink, 6, 1, 75_376_000},
		{"2/7", bands.Downlink, 6, 1, 100 * (6*75376 + 2*55056)}, {"2/5", bands.Downlink, 6, 1, 100 * 6 * 75376},
		{"2/9", bands.Downlink, 6, 2, 100 * 2 * (6*75376 + 2*27376)}, {"0/7", bands.Downlink, 6, 1, 100 * (2*75376 + 2*55056)},
		{"3/7", bands.Downlink, 6, 1, 100 * (6*75376 + 55056)}, {"5/0", bands.Downlink, 6, 1, 100 * 8 * 75376},
		{"2/7", bands.Uplink, 6, 1, 100 * 2 * 75376}, {"0/7", bands.Uplink, 6, 1, 100 * 6 * 75376},
		{"6/7", bands.Uplink, 8, 1, 100 * 5 * 105528},
	} {
		p, err := PeakRate(frame(t, c.frame), c.dir, c.qm, c.layers, 100)
		if err != nil || p.BitsPerSecond() != c.rate {
			t.Errorf("%s %s, order %d, %d layers: %d bit/s, %v; want %d", c.frame, c.dir, c.qm, c.layers, p.BitsPerSecond(), err, c.rate)
		}
		sum := 0
		for _, bits := range p.Subframes {
			sum += bits
		}
		if sum != p.FrameBits {
			t.Errorf("%s: subframes of %d bits, frame of %d", c.frame, sum, p.FrameBits)
		}
	}
	for _, bad := range []int{0, 111} {
		if _, err := PeakRate(Frame{}, bands.Downlink, 6, 1, bad); err == nil {
			t.Errorf("%d resource blocks have a rate", bad)
		}
	}
}
