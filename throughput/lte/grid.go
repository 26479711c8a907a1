package lte

import "spectally/bands"

// grid is what a subframe offers to user data, in resource elements of one
// layer: whole blocks, and blocks that are wholly or half in the central 72
// subcarriers, where synchronisation signals and the broadcast channel are.
type grid struct {
	clear, half, full             int // number of blocks by how much of them is in the centre: none, half, all
	clearEach, halfEach, fullEach int // elements of such a block
}

func (g *grid) blocks() int { return g.clear + g.half + g.full }

// elements is the number of elements of n blocks, those with the most first.
func (g *grid) elements(n int) int {
	clear := min(n, g.clear)
	half := min(n-clear, g.half)
	return clear*g.clearEach + half*g.halfEach + (n-clear-half)*g.fullEach
}

// grid counts the elements of subframe i in a direction. The cell has its
// defaults filled in.
func (c *Cell) grid(dir bands.Direction, i, layers int) grid {
	sub := c.Frame.Subframe(i)
	switch {
	case dir == bands.Uplink && sub.Kind == SpecialSubframe && c.UpPTS > 0:
		return grid{clear: c.RB, clearEach: 12 * c.UpPTS}
	case !sub.Carries(dir), dir == bands.Downlink && c.isMBSFN(i) && !c.UERS:
		return grid{}
	case dir == bands.Uplink:
		return c.uplinkGrid(i)
	}
	control := c.controlSymbols(i)
	each := 12 * (sub.DownlinkSymbols - control)
	for s := control; s < sub.DownlinkSymbols && !c.isMBSFN(i); s++ {
		each -= c.referenceElements(s)
	}
	if c.UERS {
		each -= uersElements(layers)
	}
	g := grid{clear: c.RB, clearEach: each}
	if c.NoBroadcast || c.Frame.Type3() {
		return g
	}
	if loss := c.centralLoss(i, control, sub.DownlinkSymbols); loss > 0 {
		g.half, g.full = 0, 6
		if c.RB%2 == 1 {
			g.half, g.full = 2, 5
		}
		g.clear -= g.half + g.full
		g.halfEach, g.fullEach = each-loss, each-2*loss
		if c.UERS { // no PDSCH on ports 7 to 14 in these blocks (TS 36.213 clause 7.1, from memory)
			g.half, g.full = 0, 0
		}
	}
	if i == 5 {
		g.take(c.SystemInformation)
	}
	return g
}

// take removes n blocks, those outside the centre first.
func (g *grid) take(n int) {
	for _, have := range []*int{&g.clear, &g.half, &g.full} {
		taken := min(n, *have)
		*have -= taken
		n -= taken
	}
}

// controlSymbols is the length of the control region of subframe i (TS 36.211
// Table 6.7-1).
func (c *Cell) controlSymbols(i int) int {
	if c.Frame.TDD() && (i == 1 || i == 6) || c.isMBSFN(i) {
		return min(c.ControlSymbols, 2)
	}
	return c.ControlSymbols
}

// referenceElements is the number of elements of a block that cell-specific
// reference signals take in symbol s of a subframe (TS 36.211 clause 6.10.1.2):
// two for each port, in the first and the third but last symbol of a slot for
// ports 0 and 1, in the second for ports 2 and 3. Elements of one port are empty
// on the others.
func (c *Cell) referenceElements(s int) int {
	slot := c.Frame.symbols() / 2
	switch l := s % slot; {
	case l == 0 || l == slot-3:
		return 2 * min(c.CRSPorts, 2)
	case l == 1 && c.CRSPorts == 4:
		return 4
	}
	return 0
}

// uersElements is the number of elements of a pair of blocks that
// UE-specific reference signals take on ports 7 to 14 (TS 36.211 clause
// 6.10.3.2; 24 for eight layers also in TR 37.910 clause B.3.2). DwPTS is taken to
// have as many.
func uersElements(layers int) int {
	if layers > 2 {
		return 24
	}
	return 12
}

// centralLoss is the number of elements of half a block, six subcarriers, that
// synchronisation signals and the broadcast channel take in the centre of
// subframe i. The signals fill 62 of the 72 subcarriers and keep the others empty
// (TS 36.211 clauses 6.11.1.2, 6.11.2.2); the broadcast channel leaves out the
// reference signals of four ports however many there are (clause 6.6.4).
func (c *Cell) centralLoss(i, control, symbols int) int {
	n := c.Frame.symbols()
	loss := 0
	for _, s := range c.syncSymbols(i) {
		if control <= s && s < symbols {
			loss += 6
		}
	}
	if i == 0 {
		for s := n / 2; s < n/2+4; s++ {
			loss += 6 - c.referenceElements(s)/2
		}
	}
	return loss
}

// syncSymbols lists the symbols of subframe i that carry a synchronisation
// signal (TS 36.211 clauses 6.11.1.2, 6.11.2.2).
func (c *Cell) syncSymbols(i int) []int {
	n := c.Frame.symbols()
	switch {
	case !c.Frame.TDD() && i%5 == 0:
		return []int{n/2 - 2, n/2 - 1}
	case c.Frame.TDD() && i%5 == 0:
		return []int{n - 1}
	case c.Frame.TDD() && i%5 == 1:
		return []int{2}
	}
	return nil
}

// uplinkGrid counts the elements of the PUSCH: two symbols of a subframe are the
// demodulation reference signal (TS 36.211 clause 5.5.2.1), the last may be kept
// for sounding.
func (c *Cell) uplinkGrid(i int) grid {
	symbols := c.Frame.symbols() - 2
	before := 0
	for j := range i {
		if c.Frame.Subframe(j).Carries(bands.Uplink) {
			before++
		}
	}
	if before < c.SRS {
		symbols--
	}
	return grid{clear: c.RB - c.PUCCH, clearEach: 12 * symbols}
}

// decodable reports whether a transport block with its CRC has a code rate of
// at most 0.932, above which a UE may skip decoding (TS 36.213 clause 7.1.7).
func decodable(bits, channelBits int) bool {
	return 1000*(bits+CRCBits) <= 932*channelBits
}
