package nr

import (
	"math/bits"
	"strconv"
	"strings"
	"sync"

	"spectally/bands"
	"spectally/data"
	"spectally/throughput/exact"
	"spectally/throughput/internal/printed"
)

// TransportBlock is one transport block and the working by which its size
// came about (TS 38.214 clause 5.1.3.2 for PDSCH, 6.1.4.2 for PUSCH; code
// blocks and CRC by TS 38.212 clauses 5.2.2, 6.2 and 7.2).
type TransportBlock struct {
	TBS int `json:"tbs_bits"` // size in bits without CRC
	RE  int `json:"n_re"`     // step 1: N_RE
	// Info is step 2: N_info. It is exact: its denominator is a power of two.
	Info       float64 `json:"n_info"`
	CodeRate   float64 `json:"code_rate"` // R, exact likewise
	Qm         int     `json:"qm"`
	CodeBlocks int     `json:"code_blocks"` // C
	BaseGraph  int     `json:"base_graph"`  // LDPC base graph: 1 or 2
	CRCBits    int     `json:"crc_bits"`    // of the transport block: 16 or 24

	Layers        int  `json:"layers"`         // v of this codeword
	REPerPRB      int  `json:"n_re_prb"`       // step 1: N'_RE before the cap of 156
	Large         bool `json:"large"`          // N_info above 3824: step 4 instead of step 3
	N             int  `json:"n"`              // n of step 3 or 4
	Quantised     int  `json:"n_info_prime"`   // N'_info of step 3 or 4
	CodeBlockBits int  `json:"code_block_len"` // K' : bits of a code block with its CRC
}

// capRE is the most resource elements that count for each resource block
// (TS 38.214 clause 5.1.3.2, step 1).
const capRE = 156

// small is the largest N_info that takes its size from Table 5.1.3.2-1.
const small = 3824

// infoBits is the number of fraction bits of N_info: rates are counted in
// 1/2048 and the scaling of paging and random access in 1/4.
const infoBits = 13

var (
	tbsTables = data.Lazy("nr_tbs")
	// smallSizes holds, for each N'_info/8, the smallest entry of Table
	// 5.1.3.2-1 that is not less.
	smallSizes = sync.OnceValue(func() *[small/8 + 1]uint16 {
		sizes, next := new([small/8 + 1]uint16), 0
		for _, row := range data.Find(tbsTables(), "small").Rows {
			for field := range strings.FieldsSeq(row[1]) {
				for size := printed.Int(field); next <= size/8; next++ {
					sizes[next] = uint16(size)
				}
			}
		}
		return sizes
	})
)

// Allocation is what sets the size of a transport block: the resources of one
// codeword and its modulation and coding scheme.
type Allocation struct {
	PRB     int // n_PRB: allocated resource blocks, 1 to 275
	Symbols int // N_symb: symbols of the allocation in the slot, DM-RS symbols included, 1 to 14
	// DMRSRE is N_DMRS: resource elements of DM-RS for each resource block over
	// the allocation, those of CDM groups without data included.
	DMRSRE    int
	XOverhead int // N_oh: 0, 6, 12 or 18
	Layers    int // v: 1 to 8; above 4 there are two codewords
	Qm        int // modulation order: 1, 2, 4, 6, 8, 10
	Rate2048  int // target code rate times 2048
	// Slots is the number of slots that one block spans (TBoMS, uplink): 1, 2, 4
	// or 8; 0 is 1.
	Slots int
	// ScalingField is the TB scaling field of DCI 1_0 with P-, RA- or MSGB-RNTI:
	// 0, 1, 2 for a factor of 1, 1/2, 1/4.
	ScalingField int
}

// WithMCS returns a with the modulation order and code rate of m.
func (a Allocation) WithMCS(m MCS) Allocation {
	a.Qm, a.Rate2048 = m.Qm, m.Rate2048
	return a
}

// Rate2048 takes a target code rate to the count that [Allocation] has: 2048
// times the rate. It is an error if that is no whole number from 1 to 2048.
func Rate2048(rate exact.Ratio) (int, error) {
	if r := rate.Reduced(); r.Den > 0 && 2048%r.Den == 0 && 0 < r.Num && r.Num <= r.Den {
		return int(2048 / r.Den * r.Num), nil
	}
	return 0, rateError(rate)
}

func rateError(rate exact.Ratio) error {
	return &bands.ValueError{Param: "code rate", Got: rate.String(), Allowed: "above 0, at most 1, in steps of 1/2048, such as 490/1024"}
}

// TransportBlock works out the block of an allocation of one codeword, that is of
// up to four layers. See [Allocation.TransportBlocks] for more.
func (a *Allocation) TransportBlock() (b TransportBlock, err error) {
	if !a.valid(4) {
		return b, a.fault(4)
	}
	a.size(a.Layers, &b)
	return b, nil
}

// TransportBlocks works out the one or two blocks of an allocation of up to
// eight layers: with five layers or more there are two codewords, of which the
// first takes half the layers, rounded down (TS 38.211 clauses 7.3.1.3 and
// 6.3.1.3). Both have the same modulation and coding scheme. The number of
// codewords is 1 or 2; without the second, that block is zero.
func (a *Allocation) TransportBlocks() (blocks [2]TransportBlock, codewords int, err error) {
	if !a.valid(8) {
		return blocks, 0, a.fault(8)
	}
	first, second := Codewords(a.Layers)
	a.size(first, &blocks[0])
	if second == 0 {
		return blocks, 1, nil
	}
	a.size(second, &blocks[1])
	return blocks, 2, nil
}

// Codewords splits 1 to 8 layers over the codewords: up to four layers go to
// one codeword, above the first takes half of them, rounded down (TS 38.211
// clauses 7.3.1.3 and 6.3.1.3).
func Codewords(layers int) (first, second int) {
	if layers <= 4 {
		return layers, 0
	}
	return layers / 2, layers - layers/2
}

// size runs the four steps for an allocation that has been checked.
func (a *Allocation) size(layers int, b *TransportBlock) {
	perPRB := 12*a.Symbols - a.DMRSRE - a.XOverhead
	re := min(capRE, perPRB) * a.PRB * max(1, a.Slots)
	// N_info times 2^13.
	info := uint64(re*a.Rate2048*a.Qm*layers) << (2 - a.ScalingField)

	b.RE, b.REPerPRB, b.Qm, b.Layers = re, perPRB, a.Qm, layers
	b.Info = float64(info) / (1 << infoBits)
	b.CodeRate = float64(a.Rate2048) / 2048
	b.Large = info > small<<infoBits
	if b.Large {
		b.large(info, a.Rate2048)
	} else {
		b.N = max(3, bits.Len64(info)-1-infoBits-6)
		b.Quantised = max(24, int(info>>infoBits>>b.N<<b.N))
		b.TBS = int(smallSizes()[b.Quantised/8])
	}
	b.segment(a.Rate2048)
}

// large is step 4, for N_info above 3824.
func (b *TransportBlock) large(info uint64, rate2048 int) {
	rest := info - 24<<infoBits
	b.N = bits.Len64(rest) - 1 - infoBits - 5
	shift := b.N + infoBits
	b.Quantised = max(3840, int((rest+1<<(shift-1))>>shift<<b.N))
	bits, blocks := uint32(b.Quantised+24), uint32(1) // 32 bits divide faster
	switch {
	case rate2048 <= 2048/4:
		blocks = (bits + 3815) / 3816
	case b.Quantised > 8424:
		blocks = (bits + 8423) / 8424
	}
	b.TBS = int(8*blocks*((bits+8*blocks-1)/(8*blocks))) - 24
}

// segment chooses CRC and base graph and cuts the block (TS 38.212 clauses
// 7.2.1, 7.2.2 and 5.2.2; 6.2.1 and 6.2.2 for PUSCH).
func (b *TransportBlock) segment(rate2048 int) {
	b.CRCBits = 16
	if b.TBS > 3824 {
		b.CRCBits = 24
	}
	b.BaseGraph = 1
	if b.TBS <= 292 || b.TBS <= 3824 && 100*rate2048 <= 67*2048 || rate2048 <= 2048/4 {
		b.BaseGraph = 2
	}
	largest := 8448 // K_cb
	if b.BaseGraph == 2 {
		largest = 3840
	}
	total := b.TBS + b.CRCBits
	b.CodeBlocks, b.CodeBlockBits = 1, total
	if total > largest {
		b.CodeBlocks = int(uint32(total+largest-25) / uint32(largest-24))
		b.CodeBlockBits = int(uint32(total)/uint32(b.CodeBlocks)) + 24
	}
}

// ChannelBits is the number of bits that the counted resource elements carry:
// N_RE * Qm * v.
func (b *TransportBlock) ChannelBits() int { return b.RE * b.Qm * b.Layers }

// EffectiveCodeRate is (TBS + CRC) / ChannelBits. Above 0.95 a UE may skip the
// decoding of a first transmission (TS 38.214 clause 5.1.3).
func (b *TransportBlock) EffectiveCodeRate() exact.Ratio {
	return exact.Of(int64(b.TBS+b.CRCBits), int64(b.ChannelBits())).Reduced()
}

// ScheduledBits is V = C * floor(A/C), the bits of the block that count against
// the data rate of the UE (TS 38.214 clause 5.1.3).
func (b *TransportBlock) ScheduledBits() int64 {
	if b.CodeBlocks == 0 {
		return 0
	}
	return int64(b.CodeBlocks * (b.TBS / b.CodeBlocks))
}

// valid tells whether the steps can be run for at most maxLayers layers.
func (a *Allocation) valid(maxLayers int) bool {
	return uint(a.PRB-1) < maxBlocks &&
		uint(a.Symbols-1) < slotSymbols &&
		a.DMRSRE >= 0 &&
		validOverhead(a.XOverhead) &&
		uint(a.Layers-1) < uint(maxLayers) &&
		validQm(a.Qm) &&
		uint(a.Rate2048-1) < 2048 &&
		validBlockSlots(a.Slots) &&
		uint(a.ScalingField) < 3 &&
		12*a.Symbols-a.DMRSRE-a.XOverhead > 0
}

func validOverhead(n int) bool { return n == 0 || n == 6 || n == 12 || n == 18 }

func validBlockSlots(n int) bool { return n == 0 || n == 1 || n == 2 || n == 4 || n == 8 }

// fault names the first field that is wrong.
func (a *Allocation) fault(maxLayers int) error {
	e := func(param string, got int, allowed, clause string) error {
		return &bands.ValueError{Param: param, Got: strconv.Itoa(got), Allowed: allowed,
			Source: bands.Source{Spec: "TS 38.214", Version: tbsSource().Version, Table: clause}}
	}
	const steps = "clause 5.1.3.2"
	switch {
	case uint(a.PRB-1) >= maxBlocks:
		return e("resource blocks", a.PRB, "1 to "+strconv.Itoa(maxBlocks), steps)
	case uint(a.Symbols-1) >= slotSymbols:
		return e("symbols", a.Symbols, "1 to 14", steps)
	case a.DMRSRE < 0:
		return e("DM-RS resource elements for each resource block", a.DMRSRE, "0 or more", steps)
	case !validOverhead(a.XOverhead):
		return e("xOverhead", a.XOverhead, "0, 6, 12 or 18", steps)
	case uint(a.Layers-1) >= uint(maxLayers):
		allowed := "1 to " + strconv.Itoa(maxLayers)
		if maxLayers == 4 {
			allowed += " for each codeword; more layers make two codewords"
		}
		return e("layers", a.Layers, allowed, steps)
	case !validQm(a.Qm):
		return e("modulation order", a.Qm, "1, 2, 4, 6, 8 or 10", steps)
	case uint(a.Rate2048-1) >= 2048:
		return rateError(exact.Of(int64(a.Rate2048), 2048))
	case !validBlockSlots(a.Slots):
		return e("slots of one transport block", a.Slots, "1, 2, 4 or 8", "clause 6.1.4.2")
	case uint(a.ScalingField) >= 3:
		return e("TB scaling field", a.ScalingField, "0, 1 or 2", steps)
	}
	return e("resource elements left for data in a resource block", 12*a.Symbols-a.DMRSRE-a.XOverhead, "at least 1: fewer DM-RS, less xOverhead or more symbols", steps)
}

func tbsSource() bands.Source { return data.Find(tbsTables(), "small").Source }
