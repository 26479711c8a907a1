package lte

import (
	"math/big"
	"strconv"

	"spectally/bands"
)

// Grant is one scheduling of the PDSCH or PUSCH: resource blocks of a subframe
// with a transport block size index, on a number of layers.
type Grant struct {
	Direction bands.Direction
	ITBS      ITBS
	Qm        int // modulation order; 0 leaves the channel bits and the code rate out
	PRB       int // allocated resource blocks
	Layers    int // 1 to 8, uplink 1 to 4
	Subframe  int // 0 to 9; 0 and 5 have synchronisation signals in their centre
	Scaling   int // altMCS-Table-scaling in eighths, 4 to 7; 0 is no scaling
	// Cell says what is kept from user data. If its RB is 0 the carrier is as wide
	// as the grant.
	Cell Cell
}

// Codeword is the transport block of one codeword and its code blocks.
type Codeword struct {
	Block
	Segmentation Segmentation
}

// Transport is what a grant carries.
type Transport struct {
	Bits      int // transport block bits, sum over the codewords
	Column    int // column n_prb of the size table
	Elements  int // resource elements of one layer that carry data
	Codewords [2]Codeword
	Cell      Cell // with its defaults filled in
}

// CodeBlocks is the number of code blocks of both codewords.
func (t *Transport) CodeBlocks() int {
	return t.Codewords[0].Segmentation.C + t.Codewords[1].Segmentation.C
}

// CodeRate is the effective code rate of the block: its bits and those of its CRC
// over the channel bits (TS 36.213 clause 7.1.7). It is nil where the channel bits
// were not counted.
func (b *Block) CodeRate() *big.Rat {
	if b.ChannelBits == 0 {
		return nil
	}
	return big.NewRat(int64(b.Bits+CRCBits), int64(b.ChannelBits))
}

// Decodable reports whether the code rate is at most 0.932; above it a UE may skip
// decoding (TS 36.213 clause 7.1.7). It is false where the channel bits were not
// counted.
func (b *Block) Decodable() bool { return b.ChannelBits > 0 && decodable(b.Bits, b.ChannelBits) }

// Transport works out the transport blocks of a grant. The error is a
// [*GapError] where the standard has no size, and a [*bands.ValueError] where a
// field is out of range or the subframe carries no data of that direction.
func (g Grant) Transport() (Transport, error) {
	cell := g.Cell
	if cell.RB == 0 {
		cell.RB, cell.PUCCH = max(g.PRB, 6), -1
	}
	cell, err := cell.withDefaults(g.Direction, g.Layers)
	if err != nil {
		return Transport{}, err
	}
	grid := cell.grid(g.Direction, g.Subframe, g.Layers)
	if err := g.check(&cell, &grid); err != nil {
		return Transport{}, err
	}
	scaling := g.Scaling
	if scaling == 0 {
		scaling = 8
	}
	t := Transport{Column: g.PRB, Elements: grid.elements(g.PRB), Cell: cell}
	if g.Direction == bands.Downlink {
		t.Column = cell.Frame.Subframe(g.Subframe).ScaledColumn(g.PRB, scaling)
	}
	if g.Direction == bands.Uplink && cell.Frame.Subframe(g.Subframe).Kind == SpecialSubframe {
		t.Column = max(3*g.PRB/8, 1)
	}
	for i, layers := range split[g.Layers] {
		if layers == 0 {
			continue
		}
		bits, err := CodewordSize(g.ITBS, t.Column, layers)
		if err != nil {
			return Transport{}, err
		}
		t.Bits += bits
		t.Codewords[i] = Codeword{
			Block{Layers: layers, MCS: -1, ITBS: g.ITBS, Qm: g.Qm, Bits: bits, ChannelBits: t.Elements * g.Qm * layers},
			segment(bits),
		}
	}
	return t, nil
}

func (g *Grant) check(cell *Cell, grid *grid) error {
	if g.Subframe < 0 || g.Subframe >= Subframes {
		return rangeError("subframe", g.Subframe, 0, Subframes-1, gridSource)
	}
	if g.Qm != 0 {
		if _, err := MCSTableFor(g.Direction, g.Qm); err != nil {
			return err
		}
	}
	if g.Scaling != 0 && (g.Scaling < 4 || g.Scaling > 7) {
		return rangeError("altMCS-Table-scaling in eighths", g.Scaling, 4, 7, oneLayer().source)
	}
	n := grid.blocks()
	if n == 0 {
		return &bands.ValueError{
			Param: "subframe", Got: strconv.Itoa(g.Subframe), Source: frames().configSource,
			Allowed: "a subframe with " + g.Direction.String() + " data in frame structure " + cell.Frame.String(),
		}
	}
	if g.PRB < 1 || g.PRB > n {
		return rangeError("allocated resource blocks", g.PRB, 1, n, oneLayer().source)
	}
	if allowed := PUSCHBlocks(g.PRB); g.Direction == bands.Uplink && allowed != g.PRB {
		return &bands.ValueError{
			Param: "PUSCH resource blocks", Got: strconv.Itoa(g.PRB), Allowed: "products of 2, 3 and 5",
			Nearest: strconv.Itoa(allowed), Source: puschSource,
		}
	}
	return nil
}
