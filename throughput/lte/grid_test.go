package lte

import (
	"slices"
	"testing"

	"spectally/bands"
)

// drawing is a subframe drawn element by element: true where an element is not
// for user data.
type drawing [MaxPRB * 12][14]bool

// drawLTESubframe marks what TS 36.211 V19.3.0 maps to subframe i, subcarrier by
// subcarrier: the control region, the cell-specific reference signals of each port
// (clause 6.10.1.2, cell identity 0), synchronisation signals (6.11), PBCH (6.6.4)
// and UE-specific reference signals in whole subframes (6.10.3.2).
func drawLTESubframe(c *Cell, i, layers int) *drawing {
	d := new(drawing)
	n := c.Frame.symbols()
	subcarriers := 12 * c.RB
	fill := func(symbol, from, to int) {
		for k := from; k < to; k++ {
			d[k][symbol] = true
		}
	}
	for s := range c.controlSymbols(i) {
		fill(s, 0, subcarriers)
	}
	slot := n / 2
	for s := range n {
		l, ns := s%slot, s/slot
		for port := range c.CRSPorts {
			v := -1
			switch {
			case port <= 1 && l == 0:
				v = 3 * port
			case port <= 1 && l == slot-3:
				v = 3 - 3*port
			case port >= 2 && l == 1:
				v = (3*(ns%2) + 3*(port-2)) % 6
			}
			for k := v; v >= 0 && k < subcarriers; k += 6 {
				d[k][s] = true
			}
		}
		if c.UERS && c.Frame.Subframe(i).DownlinkSymbols == n && (l == 5 || l == 6) {
			for k := range subcarriers {
				if k%12%5 == 1 || (layers > 2 && k%12%5 == 0) {
					d[k][s] = true
				}
			}
		}
	}
	centre := subcarriers/2 - 36
	if i == 0 {
		for s := slot; s < slot+4; s++ {
			fill(s, centre, centre+72)
		}
	}
	var sync []int
	switch {
	case !c.Frame.TDD() && (i == 0 || i == 5):
		sync = []int{slot - 1, slot - 2}
	case c.Frame.TDD() && (i == 0 || i == 5):
		sync = []int{n - 1}
	case c.Frame.TDD() && (i == 1 || i == 6):
		sync = []int{2}
	}
	for _, s := range sync {
		fill(s, centre, centre+72)
	}
	return d
}

// drawnBlocks counts the free elements of each block, the most first. With
// UE-specific reference signals blocks that touch the centre are not there.
func drawnBlocks(c *Cell, i, layers int) []int {
	d := drawLTESubframe(c, i, layers)
	symbols := c.Frame.Subframe(i).DownlinkSymbols
	var blocks []int
	for b := range c.RB {
		free := 0
		for k := 12 * b; k < 12*b+12; k++ {
			for s := range symbols {
				if !d[k][s] {
					free++
				}
			}
		}
		touches := 12*b+12 > 6*c.RB-36 && 12*b < 6*c.RB+36
		central := (i%5 == 0 || (c.Frame.TDD() && i%5 == 1)) && touches
		if c.UERS && central {
			continue
		}
		if c.UERS && symbols < c.Frame.symbols() {
			free -= map[bool]int{false: 12, true: 24}[layers > 2]
		}
		blocks = append(blocks, free)
	}
	slices.SortFunc(blocks, func(a, b int) int { return b - a })
	return blocks
}

// cells are carriers of some widths with every kind of frame structure and overhead, with the
// number of layers they are for; defaults are filled in.
func cells(t *testing.T, widths ...int) map[Cell]int {
	t.Helper()
	cells := make(map[Cell]int)
	for _, rb := range widths {
		for _, name := range []string{"FDD", "FDD-ext", "2/7", "2/4-ext", "1/9", "5/3", "3/0", "0/5"} {
			for control := 1; control <= 4; control++ {
				for _, layers := range []int{1, 2, 4, 8} {
					for _, uers := range []bool{false, true} {
						c := Cell{RB: rb, Frame: frame(t, name), ControlSymbols: control, UERS: uers}
						if c, err := c.withDefaults(bands.Downlink, layers); err == nil {
							cells[c] = layers
						}
					}
				}
			}
		}
	}
	return cells
}

func TestGridDrawn(t *testing.T) {
	cells := cells(t, 6, 15, 25, 50, 75, 100)
	for c, layers := range cells {
		for i := range Subframes {
			g := c.grid(bands.Downlink, i, layers)
			if !c.Frame.Subframe(i).Carries(bands.Downlink) {
				if g != (grid{}) {
					t.Errorf("%+v subframe %d: %+v", c, i, g)
				}
				continue
			}
			want := drawnBlocks(&c, i, layers)
			if g.blocks() != len(want) {
				t.Fatalf("%+v, %d layers, subframe %d: %d blocks, drawn %d", c, layers, i, g.blocks(), len(want))
			}
			sum := 0
			for n, free := range want {
				sum += free
				if got := g.elements(n + 1); got != sum {
					t.Fatalf("%+v, %d layers, subframe %d, %d blocks: %d elements, drawn %d", c, layers, i, n+1, got, sum)
				}
			}
		}
	}
	if len(cells) < 500 {
		t.Errorf("%d cells only", len(cells))
	}
}

// A 20 MHz FDD carrier by hand: 13 symbols of 12 subcarriers less 12 elements of two
// CRS ports; the centre loses 2 x 72 elements to PSS and SSS and 4 x 72 - 24 to the
// PBCH. Uplink: 12 symbols of 12 on 96 of 98 blocks.
func TestGridByHand(t *testing.T) {
	cell, err := Cell{RB: 100}.withDefaults(bands.Downlink, 2)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range map[int]int{0: 14400 - 144 - 264, 1: 14400, 5: 14400 - 144, 9: 14400} {
		g := cell.grid(bands.Downlink, i, 2)
		if got := g.elements(100); got != want {
			t.Errorf("subframe %d: %d elements, want %d", i, got, want)
		}
	}
	cell.NoBroadcast, cell.SystemInformation = true, 4
	for i := range Subframes {
		if g := cell.grid(bands.Downlink, i, 2); g.elements(100) != 14400 || g.blocks() != 100 {
			t.Errorf("subframe %d without broadcast: %+v", i, g)
		}
	}
	cell.SRS = 1
	for i, want := range map[int]int{0: 11 * 12 * 96, 1: 12 * 12 * 96} {
		g := cell.grid(bands.Uplink, i, 1)
		if got := g.elements(96); got != want || g.blocks() != 98 {
			t.Errorf("uplink subframe %d: %d elements of %d blocks, want %d", i, got, g.blocks(), want)
		}
	}
}
