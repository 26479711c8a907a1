package lte

import (
	"maps"
	"testing"

	"spectally/bands"
	"spectally/throughput/exact"
)

// signalledByHand lists the numbers of resource blocks that several layers can be
// allocated of a carrier, group by group and block by block (TS 36.213 V19.3.0 clauses
// 7.1.6.1, 7.1.6.2, Table 7.1.6.1-1).
func signalledByHand(blocks int) map[int]bool {
	size := 4
	for i, most := range []int{10, 26, 63} {
		if blocks <= most {
			size = i + 1
			break
		}
	}
	sums := map[int]bool{0: true}
	groups := 0
	for left := blocks; left > 0; left -= size {
		groups++
		with := maps.Clone(sums)
		for n := range sums {
			with[n+min(size, left)] = true
		}
		sums = with
	}
	for n := 1; n <= groups-map[int]int{1: 0, 2: 1, 3: 2, 4: 2}[size]-1; n++ {
		sums[n] = true
	}
	return sums
}

func TestGroups(t *testing.T) {
	for blocks := 6; blocks <= MaxPRB; blocks++ {
		want := signalledByHand(blocks)
		for n := 1; n <= blocks; n++ {
			if signalled(n, blocks) != want[n] {
				t.Errorf("%d of %d blocks: %v", n, blocks, !want[n])
			}
		}
	}
}

// bestByHand searches a subframe without leaving anything out: every number of
// blocks, every row of the MCS table, the code rate as a fraction.
func bestByHand(t *testing.T, c *Cell, dir bands.Direction, i, qm, layers int) int {
	t.Helper()
	table, err := MCSTableFor(dir, qm)
	if err != nil {
		t.Fatal(err)
	}
	sub := c.Frame.Subframe(i)
	if !sub.Carries(dir) {
		return 0
	}
	first, second, err := Codewords(layers)
	if err != nil {
		t.Fatal(err)
	}
	var blocks []int
	if dir == bands.Downlink {
		blocks = drawnBlocks(c, i, layers)
	} else {
		for range c.RB - c.PUCCH {
			blocks = append(blocks, 12*(c.Frame.symbols()-2))
		}
	}
	best, elements := 0, 0
	for k, free := range blocks {
		elements += free
		column := sub.Column(k + 1)
		if dir == bands.Downlink && layers > 1 && !signalledByHand(c.RB)[k+1] {
			continue
		}
		if dir == bands.Uplink {
			if column = k + 1; !puschProduct(k + 1) {
				continue
			}
		}
		sum := 0
		for _, l := range []int{first, second} {
			most := 0
			for index := range table.Rows() {
				m, err := table.MCS(index)
				if err != nil || l == 0 || (m.Qm > qm && (dir == bands.Downlink || qm != 4)) {
					continue
				}
				size, err := CodewordSize(m.ITBS, column, l)
				if err == nil && float64(size+24)/float64(elements*min(m.Qm, qm)*l) <= 0.932 {
					most = max(most, size)
				}
			}
			sum += most
		}
		best = max(best, sum)
	}
	return best
}

func TestScheduleSearch(t *testing.T) {
	count := 0
	cells := cells(t, 6, 15, 25)
	for layers := 1; layers <= 8; layers++ {
		c, err := Cell{RB: 100, Frame: frame(t, "2/7")}.withDefaults(bands.Downlink, layers)
		if err != nil {
			t.Fatal(err)
		}
		cells[c] = layers
	}
	for c, layers := range cells {
		for _, qm := range []int{4, 6, 8, 10} {
			s, err := c.Schedule(bands.Downlink, qm, layers)
			if err != nil {
				t.Fatal(err)
			}
			sum := 0
			for i := range Subframes {
				got := s.Subframes[i]
				if want := bestByHand(t, &c, bands.Downlink, i, qm, layers); got.Bits != want {
					t.Errorf("%+v, order %d, %d layers, subframe %d: %+v, want %d bits", c, qm, layers, i, got, want)
				}
				sum += got.Bits
				count++
			}
			if sum != s.FrameBits || s.Rate().Cmp(exact.Whole(int64(sum)*100)) != 0 {
				t.Errorf("%+v: frame of %d bits, subframes %d", c, s.FrameBits, sum)
			}
		}
	}
	if count < 9000 {
		t.Errorf("%d subframes only", count)
	}
}

func TestScheduleUplinkSearch(t *testing.T) {
	for _, rb := range []int{6, 15, 25, 50, 75, 100} {
		for _, name := range []string{"FDD", "FDD-ext", "0/7", "2/7"} {
			for layers := 1; layers <= 4; layers++ {
				for _, qm := range []int{2, 4, 6, 8} {
					c := Cell{RB: rb, Frame: frame(t, name)}
					s, err := c.Schedule(bands.Uplink, qm, layers)
					if err != nil {
						t.Fatal(err)
					}
					for i := range Subframes {
						if want := bestByHand(t, &s.Cell, bands.Uplink, i, qm, layers); s.Subframes[i].Bits != want {
							t.Errorf("%+v, order %d, %d layers, subframe %d: %+v, want %d bits", c, qm, layers, i, s.Subframes[i], want)
						}
					}
				}
			}
		}
	}
}

// What is scheduled fits its channel bits, is no more than the standard's maximum,
// and does not fall with layers, width or modulation; more overhead carries no
// more.
func TestScheduleProperties(t *testing.T) {
	rate := func(c Cell, dir bands.Direction, qm, layers int) int64 {
		t.Helper()
		s, err := c.Schedule(dir, qm, layers)
		if err != nil {
			t.Fatal(err)
		}
		peak, err := PeakRate(c.Frame, dir, qm, layers, c.RB)
		if err != nil {
			t.Fatal(err)
		}
		for i, sub := range s.Subframes {
			if sub.Bits > peak.Subframes[i] {
				t.Errorf("%+v %s, order %d, %d layers, subframe %d: %d bits, the maximum is %d", c, dir, qm, layers, i, sub.Bits, peak.Subframes[i])
			}
			for _, b := range sub.Blocks {
				if b.Bits+CRCBits > b.ChannelBits && b.Layers > 0 && sub.PRB > 0 {
					t.Errorf("%+v subframe %d: %+v does not fit", c, i, b)
				}
			}
		}
		return s.Rate().Num
	}
	for _, name := range []string{"FDD", "2/7", "1/4"} {
		for _, dir := range []bands.Direction{bands.Downlink, bands.Uplink} {
			last := int64(0)
			for _, rb := range []int{6, 15, 25, 50, 75, 100} {
				c := Cell{RB: rb, Frame: frame(t, name), CRSPorts: 4, UERS: dir == bands.Downlink}
				wide := rate(c, dir, 6, 2)
				if wide <= last {
					t.Errorf("%s %s: %d bit/s at %d blocks, %d before", name, dir, wide, rb, last)
				}
				last = wide
				for layers := 1; layers < maxLayers(dir); layers++ {
					// Two layers' reference signals take fewer elements than three layers'.
					if a, b := rate(c, dir, 6, layers), rate(c, dir, 6, layers+1); a >= b {
						t.Errorf("%s %s, %d blocks: %d bit/s on %d layers, %d on one more", name, dir, rb, a, layers, b)
					}
				}
				more := c
				more.ControlSymbols, more.SRS, more.PUCCH, more.SystemInformation = 3, 10, 4, 2
				if rate(more, dir, 6, 2) > wide {
					t.Errorf("%s %s, %d blocks: more overhead carries more", name, dir, rb)
				}
			}
			c := Cell{RB: 100, Frame: frame(t, name)}
			last = 0
			for _, qm := range []int{2, 4, 6, 8} {
				r := rate(c, dir, qm, 2)
				if r <= last {
					t.Errorf("%s %s: %d bit/s with order %d, %d before", name, dir, r, qm, last)
				}
				last = r
			}
		}
	}
}

// Alternatives can only help; 26A and 33A are for subframes with less room.
func TestScheduleAlternatives(t *testing.T) {
	helped := 0
	for _, qm := range []int{6, 8, 10} {
		for layers := 1; layers <= 8; layers++ {
			c := Cell{RB: 100}
			plain, err := c.Schedule(bands.Downlink, qm, layers)
			if err != nil {
				t.Fatal(err)
			}
			c.Alternatives = true
			with, err := c.Schedule(bands.Downlink, qm, layers)
			if err != nil || with.FrameBits < plain.FrameBits {
				t.Errorf("order %d, %d layers: %d bits with alternatives, %d without, %v", qm, layers, with.FrameBits, plain.FrameBits, err)
			}
			if with.FrameBits > plain.FrameBits {
				helped++
			}
		}
	}
	if helped == 0 {
		t.Error("no alternative was ever used")
	}
}

func TestScheduleErrors(t *testing.T) {
	for name, c := range map[string]Cell{
		"no width": {}, "ports": {RB: 100, CRSPorts: 1}, "control": {RB: 6, ControlSymbols: 1},
	} {
		if s, err := c.Schedule(bands.Downlink, 6, 2); err == nil {
			t.Errorf("%s: %+v", name, s)
		}
	}
	for _, c := range []struct {
		dir        bands.Direction
		qm, layers int
	}{{0, 6, 1}, {bands.Downlink, 7, 1}, {bands.Uplink, 10, 1}, {bands.Uplink, 6, 8}, {bands.Downlink, 6, 0}} {
		if s, err := (Cell{RB: 100}).Schedule(c.dir, c.qm, c.layers); err == nil {
			t.Errorf("%+v: %+v", c, s)
		}
	}
}

// More schedules than are kept give the same answers again.
func TestScheduleKept(t *testing.T) {
	first, err := Cell{RB: 50}.Schedule(bands.Uplink, 6, 1)
	if err != nil {
		t.Fatal(err)
	}
	for rb := 6; rb <= MaxPRB; rb++ {
		for srs := range 10 {
			if _, err := (Cell{RB: rb, SRS: srs}).Schedule(bands.Uplink, 6, 1); err != nil {
				t.Fatal(err)
			}
		}
	}
	if n := len(schedules.m); n > schedulesKept {
		t.Errorf("%d schedules are kept", n)
	}
	again, err := Cell{RB: 50}.Schedule(bands.Uplink, 6, 1)
	if err != nil || *again != *first {
		t.Errorf("%+v, %v; before %+v", again, err, first)
	}
}
