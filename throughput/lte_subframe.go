package throughput

import (
	"math/big"
	"sync"

	"spectally/bands"
	"spectally/data"
)

// The length of a subframe and of a frame in basic time units Ts = 1/30720000 s
// (TS 36.211 clause 4).
const (
	LTESubframeTs = 30720
	LTEFrameTs    = LTESubframes * LTESubframeTs
)

var (
	lteCyclicPrefixes = [...]string{"normal", "extended"}
	lteSymbols        = [...]int{14, 12} // of a subframe
)

func lteCyclicPrefix(extended bool) int {
	if extended {
		return 1
	}
	return 0
}

// LTESubframeKind is what a subframe is for.
type LTESubframeKind uint8

// The kinds of subframe. The zero kind is none.
const (
	LTEPaired          LTESubframeKind = iota + 1 // FDD: downlink and uplink at once, on two frequencies; type 3: either
	LTEDownlinkOnly                               // D
	LTESpecialSubframe                            // S: DwPTS, guard period, UpPTS
	LTEUplinkOnly                                 // U
)

// String writes the letter of TS 36.211 Table 4.2-2, D, S or U, and "FDD" for a
// paired subframe, to which one of frame structure type 3 is equal for either direction.
func (k LTESubframeKind) String() string {
	switch k {
	case LTEPaired:
		return "FDD"
	case LTEDownlinkOnly:
		return "D"
	case LTESpecialSubframe:
		return "S"
	case LTEUplinkOnly:
		return "U"
	}
	return "none"
}

// LTESubframe is one subframe: how its 1 ms is divided, in symbols and exactly in
// basic time units. In FDD downlink and uplink each have all of it, and in type 3 one
// of them.
type LTESubframe struct {
	Kind                                         LTESubframeKind
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
func (s LTESubframe) Column(nPRB int) int { return s.ScaledColumn(nPRB, 8) }

// ScaledColumn is [LTESubframe.Column] where the MCS index asks for
// altMCS-Table-scaling, given in eighths of the number of blocks (4 to 7; 8 is no
// scaling), before rounding down ([LTEMCS].Scaled; TS 36.213 clause 7.1.7).
func (s LTESubframe) ScaledColumn(nPRB, eighths int) int {
	if s.eighths == 0 || nPRB < 1 || eighths < 1 {
		return 0
	}
	return max(nPRB*s.eighths*eighths/64, 1)
}

// Carries reports whether user data of a direction is sent in the subframe. UpPTS
// carries none: PUSCH there is an option of Release 14 (symPUSCH-UpPts) that is
// not counted.
func (s LTESubframe) Carries(dir bands.Direction) bool {
	if dir == bands.Downlink {
		return s.eighths > 0
	}
	return dir == bands.Uplink && (s.Kind == LTEPaired || s.Kind == LTEUplinkOnly)
}

type lteFrameTables struct {
	configs                     [][LTESubframes]LTESubframeKind
	special                     [len(lteCyclicPrefixes)][]LTESubframe
	configSource, specialSource data.Source
}

var (
	lteFrameFile = data.Lazy("lte_frame")
	lteFrames    = sync.OnceValue(loadLTEFrames)
)

func loadLTEFrames() *lteFrameTables {
	t := new(lteFrameTables)
	configs := data.Find(lteFrameFile(), "uplink-downlink")
	t.configSource = configs.Source
	for _, row := range configs.Rows {
		var kinds [LTESubframes]LTESubframeKind
		for i, c := range row[2] {
			switch c {
			case 'D':
				kinds[i] = LTEDownlinkOnly
			case 'S':
				kinds[i] = LTESpecialSubframe
			case 'U':
				kinds[i] = LTEUplinkOnly
			}
		}
		t.configs = append(t.configs, kinds)
	}
	special := data.Find(lteFrameFile(), "special")
	t.specialSource = special.Source
	for _, row := range special.Rows {
		extended := row[0] == lteCyclicPrefixes[1]
		cp := lteCyclicPrefix(extended)
		s := LTESubframe{
			Kind:            LTESpecialSubframe,
			DownlinkSymbols: tableInt(row[2]), GuardSymbols: tableInt(row[3]), UplinkSymbols: tableInt(row[4]),
			DownlinkTs: tableInt(row[5]), UplinkTs: tableInt(row[6]),
		}
		s.GuardTs = LTESubframeTs - s.DownlinkTs - s.UplinkTs
		s.eighths = lteDwPTSEighths(tableInt(row[1]), extended, s.DownlinkSymbols)
		t.special[cp] = append(t.special[cp], s)
	}
	return t
}

// lteDwPTSEighths is the share of the allocated blocks that is the column of the
// size table in DwPTS (TS 36.213 clause 7.1.7), in eighths.
func lteDwPTSEighths(config int, extended bool, symbols int) int {
	switch {
	case symbols <= 3:
		return 0
	case !extended && config >= 9, extended && config == 7:
		return 3
	}
	return 6
}

// Subframe describes subframe i, 0 to 9, of the frame; the zero LTESubframe if
// there is no such subframe.
func (f LTEFrame) Subframe(i int) LTESubframe {
	if i < 0 || i >= LTESubframes {
		return LTESubframe{}
	}
	n := f.symbols()
	if !f.tdd {
		return LTESubframe{
			Kind: LTEPaired, DownlinkSymbols: n, UplinkSymbols: n,
			DownlinkTs: LTESubframeTs, UplinkTs: LTESubframeTs, eighths: 8,
		}
	}
	t := lteFrames()
	switch kind := t.configs[f.config][i]; kind {
	case LTESpecialSubframe:
		return t.special[lteCyclicPrefix(f.extended)][f.special]
	case LTEDownlinkOnly:
		return LTESubframe{Kind: kind, DownlinkSymbols: n, DownlinkTs: LTESubframeTs, eighths: 8}
	default:
		return LTESubframe{Kind: kind, UplinkSymbols: n, UplinkTs: LTESubframeTs}
	}
}

// SwitchPeriodMS is how often a TDD frame turns from downlink to uplink, in
// milliseconds: 5 or 10 (TS 36.211 Table 4.2-2). It is 0 in FDD.
func (f LTEFrame) SwitchPeriodMS() int {
	if !f.tdd {
		return 0
	}
	if f.Subframe(6).Kind == LTESpecialSubframe {
		return 5
	}
	return 10
}

// LTEShares is how a frame divides into downlink, guard period and uplink, in
// basic time units of a frame of [LTEFrameTs].
type LTEShares struct{ Downlink, Guard, Uplink int }

// Shares adds up the subframes of the frame. In FDD downlink and uplink each
// have the whole frame, and in type 3 either may have it.
func (f LTEFrame) Shares() LTEShares {
	var s LTEShares
	for i := range LTESubframes {
		sub := f.Subframe(i)
		s.Downlink += sub.DownlinkTs
		s.Guard += sub.GuardTs
		s.Uplink += sub.UplinkTs
	}
	return s
}

// LTEShare turns basic time units of a frame into a share of it, exactly.
func LTEShare(ts int) *big.Rat { return big.NewRat(int64(ts), LTEFrameTs) }
