package lte

import (
	"math/big"
	"sync"

	"spectally/bands"
	"spectally/data"
	"spectally/throughput/internal/printed"
)

// The length of a subframe and of a frame in basic time units Ts = 1/30720000 s
// (TS 36.211 clause 4).
const (
	SubframeTs = 30720
	FrameTs    = Subframes * SubframeTs
)

var (
	cyclicPrefixes  = [...]string{"normal", "extended"}
	subframeSymbols = [...]int{14, 12} // of a subframe
)

func cyclicPrefix(extended bool) int {
	if extended {
		return 1
	}
	return 0
}

// SubframeKind is what a subframe is for.
type SubframeKind uint8

// The kinds of subframe. The zero kind is none.
const (
	Paired          SubframeKind = iota + 1 // FDD: downlink and uplink at once, on two frequencies
	DownlinkOnly                            // D
	SpecialSubframe                         // S: DwPTS, guard period, UpPTS
	UplinkOnly                              // U
)

// String writes the letter of TS 36.211 Table 4.2-2, D, S or U, and "FDD" for a
// paired subframe.
func (k SubframeKind) String() string {
	switch k {
	case Paired:
		return "FDD"
	case DownlinkOnly:
		return "D"
	case SpecialSubframe:
		return "S"
	case UplinkOnly:
		return "U"
	}
	return "none"
}

// Subframe is one subframe: how its 1 ms is divided, in symbols and exactly in
// basic time units. In FDD downlink and uplink each have all of it.
type Subframe struct {
	Kind                                         SubframeKind
	DownlinkSymbols, GuardSymbols, UplinkSymbols int
	DownlinkTs, GuardTs, UplinkTs                int
	eighths                                      int // share of the allocated blocks that is the column of the size table; 0: no PDSCH
}

// Column is the column n_prb of the size table for nPRB blocks that are allocated
// in the subframe's downlink part (TS 36.213 clause 7.1.7): nPRB in an ordinary
// subframe; in DwPTS max(floor(0.75 nPRB), 1), or 0.375 instead of 0.75 in special
// subframe configurations 9 and 10, and 7 with extended cyclic prefix. It is 0 where
// the subframe carries no downlink data: an uplink subframe, and a DwPTS of three
// symbols.
func (s Subframe) Column(nPRB int) int { return s.ScaledColumn(nPRB, 8) }

// ScaledColumn is [Subframe.Column] where the MCS index asks for
// altMCS-Table-scaling, given in eighths of the number of blocks (4 to 7; 8 is no
// scaling), before rounding down ([MCS].Scaled; TS 36.213 clause 7.1.7).
func (s Subframe) ScaledColumn(nPRB, eighths int) int {
	if s.eighths == 0 || nPRB < 1 || eighths < 1 {
		return 0
	}
	return max(nPRB*s.eighths*eighths/64, 1)
}

// Carries reports whether user data of a direction is sent in the subframe. UpPTS
// carries none unless the cell has it there ([Cell.UpPTS]).
func (s Subframe) Carries(dir bands.Direction) bool {
	if dir == bands.Downlink {
		return s.eighths > 0
	}
	return dir == bands.Uplink && (s.Kind == Paired || s.Kind == UplinkOnly)
}

type frameTables struct {
	configs                     [][Subframes]SubframeKind
	special                     [len(cyclicPrefixes)][]Subframe
	configSource, specialSource data.Source
}

var (
	frameFile = data.Lazy("lte_frame")
	frames    = sync.OnceValue(loadFrames)
)

func loadFrames() *frameTables {
	t := new(frameTables)
	configs := data.Find(frameFile(), "uplink-downlink")
	t.configSource = configs.Source
	for _, row := range configs.Rows {
		var kinds [Subframes]SubframeKind
		for i, c := range row[2] {
			switch c {
			case 'D':
				kinds[i] = DownlinkOnly
			case 'S':
				kinds[i] = SpecialSubframe
			case 'U':
				kinds[i] = UplinkOnly
			}
		}
		t.configs = append(t.configs, kinds)
	}
	special := data.Find(frameFile(), "special")
	t.specialSource = special.Source
	for _, row := range special.Rows {
		extended := row[0] == cyclicPrefixes[1]
		cp := cyclicPrefix(extended)
		s := Subframe{
			Kind:            SpecialSubframe,
			DownlinkSymbols: printed.Int(row[2]), GuardSymbols: printed.Int(row[3]), UplinkSymbols: printed.Int(row[4]),
			DownlinkTs: printed.Int(row[5]), UplinkTs: printed.Int(row[6]),
		}
		s.GuardTs = SubframeTs - s.DownlinkTs - s.UplinkTs
		s.eighths = dwPTSEighths(printed.Int(row[1]), extended, s.DownlinkSymbols)
		t.special[cp] = append(t.special[cp], s)
	}
	return t
}

// dwPTSEighths is the share of the allocated blocks that is the column of the
// size table in DwPTS (TS 36.213 clause 7.1.7), in eighths.
func dwPTSEighths(config int, extended bool, symbols int) int {
	switch {
	case symbols <= 3:
		return 0
	case !extended && config >= 9, extended && config == 7:
		return 3
	}
	return 6
}

// Subframe describes subframe i, 0 to 9, of the frame; the zero Subframe if
// there is no such subframe.
func (f Frame) Subframe(i int) Subframe {
	if i < 0 || i >= Subframes {
		return Subframe{}
	}
	n := f.symbols()
	switch {
	case f.assisted && i < int(f.config):
		return Subframe{Kind: DownlinkOnly, DownlinkSymbols: n, DownlinkTs: SubframeTs, eighths: 8}
	case f.assisted:
		return Subframe{Kind: UplinkOnly, UplinkSymbols: n, UplinkTs: SubframeTs}
	case !f.tdd:
		return Subframe{
			Kind: Paired, DownlinkSymbols: n, UplinkSymbols: n,
			DownlinkTs: SubframeTs, UplinkTs: SubframeTs, eighths: 8,
		}
	}
	t := frames()
	switch kind := t.configs[f.config][i]; kind {
	case SpecialSubframe:
		return t.special[cyclicPrefix(f.extended)][f.special]
	case DownlinkOnly:
		return Subframe{Kind: kind, DownlinkSymbols: n, DownlinkTs: SubframeTs, eighths: 8}
	default:
		return Subframe{Kind: kind, UplinkSymbols: n, UplinkTs: SubframeTs}
	}
}

// SwitchPeriodMS is how often a TDD frame turns from downlink to uplink, in
// milliseconds: 5 or 10 (TS 36.211 Table 4.2-2). It is 0 in FDD.
func (f Frame) SwitchPeriodMS() int {
	if !f.tdd {
		return 0
	}
	if f.Subframe(6).Kind == SpecialSubframe {
		return 5
	}
	return 10
}

// Shares is how a frame divides into downlink, guard period and uplink, in
// basic time units of a frame of [FrameTs].
type Shares struct{ Downlink, Guard, Uplink int }

// Shares adds up the subframes of the frame. In FDD downlink and uplink each
// have the whole frame.
func (f Frame) Shares() Shares {
	var s Shares
	for i := range Subframes {
		sub := f.Subframe(i)
		s.Downlink += sub.DownlinkTs
		s.Guard += sub.GuardTs
		s.Uplink += sub.UplinkTs
	}
	return s
}

// Share turns basic time units of a frame into a share of it, exactly.
func Share(ts int) *big.Rat { return big.NewRat(int64(ts), FrameTs) }
