package lte

import (
	"sync/atomic"

	"spectally/bands"
	"spectally/throughput/internal/precoding"
)

// Block is the transport block of one codeword.
type Block struct {
	Layers      int // layers of the codeword; 0 where there is no such codeword
	MCS         int // I_MCS
	ITBS        ITBS
	Qm          int // modulation order
	Bits        int // transport block size
	ChannelBits int // bits that the codeword's resource elements carry; 0 where they were not counted
}

// Largest is the most that the tables let through in one subframe.
type Largest struct {
	Bits   int      // sum over the codewords
	PRB    int      // resource blocks used
	Blocks [2]Block // the codewords; the second is zero where there is one
	// Gap is the block that would have been larger if the standard had a size for
	// it; nil where there is none.
	Gap *GapError
}

// lteLargestKey is direction, modulation order / 2 and layers.
type largestTable [MaxPRB + 1]Largest

var largestTables [3][6][9]atomic.Pointer[largestTable]

// LargestBlock is the largest number of transport block bits that one subframe
// of 1 ms can carry on up to nPRB resource blocks with a modulation of at most
// order qm (2, 4, 6, 8; 10 in the downlink) and 1 to 8 layers (uplink 4): the
// largest over the rows of that modulation's MCS table, each codeword for itself.
// It is the standard's maximum, whatever control and reference signals leave room
// for; special subframes count by their column ([Subframe.Column]).
//
// The alternative indices 26A, 33A, 33B and 37A are not used; nor is a size that
// would not fit, with its CRC, if every resource element of the subframe carried
// data (I_TBS 6 at one block). In the uplink the number of blocks is 2^a 3^b 5^c,
// at most nPRB (TS 36.211 clause 5.3.3), and a UE limited to 16QAM uses the rows
// of 64QAM with order 4 (TS 36.213 clause 8.6.1) up to the code rate 0.932 that
// the downlink has (clause 7.1.7), which gives the 51024 bits of the UE
// categories without 64QAM (TS 36.306 Table 4.1-2).
func LargestBlock(dir bands.Direction, qm, layers, nPRB int) (Largest, error) {
	if dir > bands.Uplink || qm < 2 || qm > 10 || layers < 1 || layers >= len(split) {
		return Largest{}, largestArgument(dir, qm, layers, nPRB)
	}
	table := largestTables[dir][qm/2][layers].Load()
	if table == nil || nPRB < 1 || nPRB > MaxPRB || qm%2 != 0 {
		if err := largestArgument(dir, qm, layers, nPRB); err != nil {
			return Largest{}, err
		}
		table = newLargestTable(dir, qm, layers)
		largestTables[dir][qm/2][layers].Store(table)
	}
	return table[nPRB], nil
}

func largestArgument(dir bands.Direction, qm, layers, nPRB int) error {
	if err := checkLink(dir, layers); err != nil {
		return err
	}
	if _, err := MCSTableFor(dir, qm); err != nil {
		return err
	}
	if nPRB < 1 || nPRB > MaxPRB {
		return rangeError("number of resource blocks", nPRB, 1, MaxPRB, oneLayer().source)
	}
	return nil
}

func newLargestTable(dir bands.Direction, qm, layers int) *largestTable {
	mcs := schemes(dir, qm, false)
	table := new(largestTable)
	for n := 1; n <= MaxPRB; n++ {
		table[n] = table[n-1]
		if dir == bands.Uplink && PUSCHBlocks(n) != n {
			continue
		}
		here := Largest{PRB: n}
		for cw, l := range split[layers] {
			if l == 0 {
				continue
			}
			block, gap := largestCodeword(mcs, n, l)
			here.Blocks[cw] = block
			here.Bits += block.Bits
			if gap != nil {
				here.Gap = gap
			}
		}
		if here.Bits >= table[n].Bits {
			table[n] = here
		} else {
			table[n].Gap = here.Gap
		}
	}
	return table
}

// largestCodeword finds the largest block of one codeword at n blocks, and the
// larger one that the standard has no size for.
func largestCodeword(mcs []scheme, n, layers int) (Block, *GapError) {
	one, sizes := oneLayer(), sizes[layers]()
	best := Block{Layers: layers}
	var gap *GapError
	for _, m := range mcs {
		bits := int(sizes.bits[m.itbs][n])
		if bits == 0 {
			if gap == nil || int(one.bits[m.itbs][n]) > gap.OneBits {
				gap = sizeGap(m.itbs, n, layers)
			}
			continue
		}
		room := n * resourceBlockElements * m.qm * layers
		if m.limited {
			room = n * puschElements * m.qm * layers
		}
		if bits <= best.Bits || bits+CRCBits > room || (m.limited && !decodable(bits, room)) {
			continue
		}
		best.MCS, best.ITBS, best.Qm, best.Bits = m.index, m.itbs, m.qm, bits
	}
	if gap != nil && best.ITBS != 0 && gap.OneBits <= int(one.bits[best.ITBS][n]) {
		gap = nil
	}
	return best, gap
}

const (
	resourceBlockElements = 12 * 14 // resource elements of a block in a subframe, normal cyclic prefix
	puschElements         = 12 * 12 // of these, without the two symbols of the demodulation reference signal
)

// scheme is a row of an MCS table as a search uses it.
type scheme struct {
	index   int
	itbs    ITBS
	qm      int
	limited bool // 64QAM row used with 16QAM: bounded by the code rate
}

// schemes lists the rows that a modulation of at most order qm may use, with
// their alternative indices if these are wanted.
func schemes(dir bands.Direction, qm int, alternatives bool) []scheme {
	table, err := MCSTableFor(dir, qm)
	if err != nil {
		return nil
	}
	rows := table.Rows()
	usable := make([]scheme, 0, len(rows))
	for i := range rows {
		m := &rows[i]
		u := scheme{m.Index, m.ITBS, m.Qm, false}
		if m.Reserved() {
			continue
		}
		if m.Qm > qm {
			if dir == bands.Downlink || qm != 4 {
				continue
			}
			u.qm, u.limited = 4, true
		}
		usable = append(usable, u)
		if alternatives {
			for _, a := range m.Alternatives {
				u.itbs = a
				usable = append(usable, u)
			}
		}
	}
	return usable
}

// PUSCHBlocks is the largest number of resource blocks of the form 2^a 3^b 5^c that is
// at most n: what the transform precoder of the PUSCH takes (TS 36.211 clause 5.3.3). It
// is 0 if n is below 1.
func PUSCHBlocks(n int) int { return precoding.Blocks(n) }
