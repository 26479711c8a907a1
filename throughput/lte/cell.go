package lte

import (
	"fmt"
	"slices"
	"strconv"

	"spectally/bands"
	"spectally/data"
)

// Cell says what an LTE carrier keeps back from user data, as far as a
// scheduler's limits depend on it. Cells compare with ==. RB must be given; the
// zero value of every other field is the default that its comment names.
type Cell struct {
	// RB is the number of resource blocks N_RB of the carrier, 6 to 110.
	RB int
	// Frame is the frame structure; by default FDD with normal cyclic prefix.
	Frame Frame
	// ControlSymbols is the length of the control region: 1 to 3 symbols, 2 to 4
	// where RB is at most 10; DwPTS has at most 2 (TS 36.211 Table 6.7-1). Default: the
	// shortest, as in the reference channels of TS 38.101-4 Annexes A.3.2.1.4 and
	// A.3.2.2.6.
	ControlSymbols int
	// CRSPorts is the number of ports of the cell-specific reference signal: 1, 2
	// or 4. Default: as many as the layers need, 1, 2 or 4, and 1 where the layers
	// are sent on ports of their own (UERS), as in TR 37.910 clause B.3.2.
	CRSPorts int
	// UERS sends the PDSCH with UE-specific reference signals (ports 7 to 14,
	// transmission modes 9 and 10); more than four layers always do.
	UERS bool
	// SystemInformation is the number of resource blocks of subframe 5 that carry
	// system information instead of user data, outside the central six; RB or more
	// keeps the whole subframe. It is counted in every frame, as in the reference
	// channels of TS 38.101-4; SIB1 itself is sent in every second. Default: none.
	SystemInformation int
	// NoBroadcast counts subframes as if they had no synchronisation signals, no
	// broadcast channel and no system information.
	NoBroadcast bool
	// PUCCH is the number of resource blocks kept for the uplink control channel.
	// Default 2, as in TR 37.910 clause B.3.2; negative for none.
	PUCCH int
	// SRS is the number of uplink subframes of a frame whose last symbol is kept for
	// sounding. Default: none.
	SRS int
	// MBSFN is the number of MBSFN subframes of a frame. Beyond their control region they
	// have no cell-specific reference signals (TS 36.211 clause 6.10.1.2): the PDSCH is sent
	// there with UE-specific ones (UERS), and where those are not used the subframes are
	// multicast's. Default: none.
	MBSFN int
	// PRS is the number of downlink subframes with positioning reference signals in every
	// PRSPeriod milliseconds (TS 36.211 clause 6.10.4.3): 1, 2, 4 or 6 in 160, 320, 640 or
	// 1280. They carry no user data here. Default: none.
	PRS, PRSPeriod int
	// UpPTS is the number of symbols of PUSCH in UpPTS (symPUSCH-UpPts of Release 14, with
	// special subframe configuration 10: TS 36.211 Table 4.2-1). Default: none.
	UpPTS int
	// Alternatives lets every block choose between an index of the MCS table and the
	// alternatives that configuration may put in its place (26A, 33A, 33B, 37A).
	Alternatives bool
	// CodeRate2048 is the highest code rate that a block may have, times 2048. Default:
	// 0.932, above which a UE may skip decoding (TS 36.213 clause 7.1.7).
	CodeRate2048 int
}

var (
	controlSource = data.Source{Spec: "TS 36.211", Version: "19.3.0", Table: "6.7-1"}
	gridSource    = data.Source{Spec: "TS 36.211", Version: "19.3.0", Table: "clause 6.10"}
)

// Leanest is the cell with the least that the standard lets a network keep from user
// data: the shortest control region, no synchronisation signals, broadcast channel and
// system information, as between the subframes that have them, no PUCCH and no sounding.
// Its schedule of some layers is what any other of the carrier can send at most, without the
// alternative indices of the MCS tables, which the maximum rate leaves out too. PUSCH has all
// of a long UpPTS; above four layers, which have UE-specific reference signals anyway, every
// subframe that may be MBSFN is.
func (c Cell) Leanest(layers int) Cell {
	lean := Cell{RB: c.RB, Frame: c.Frame, NoBroadcast: true, PUCCH: -1, CodeRate2048: c.CodeRate2048}
	if c.Frame.longUpPTS() {
		lean.UpPTS = maxUpPTS
	}
	if layers > 4 {
		lean.MBSFN = len(c.Frame.mbsfnSubframes())
	}
	return lean
}

// maxUpPTS is the number of symbols of the long UpPTS.
const maxUpPTS = 6

// longUpPTS tells whether UpPTS is long enough for PUSCH.
func (f Frame) longUpPTS() bool { return f.tdd && f.special == 10 && !f.extended }

// mbsfnSubframes lists the subframes of a frame that may be MBSFN subframes (TS 36.331
// MBSFN-SubframeConfig, from memory).
func (f Frame) mbsfnSubframes() []int {
	candidates := []int{1, 2, 3, 6, 7, 8}
	switch {
	case f.assisted:
		return nil
	case f.tdd:
		candidates = []int{3, 4, 7, 8, 9}
	}
	return slices.DeleteFunc(candidates, func(i int) bool {
		kind := f.Subframe(i).Kind
		return kind != Paired && kind != DownlinkOnly
	})
}

// isMBSFN tells whether subframe i is an MBSFN subframe.
func (c *Cell) isMBSFN(i int) bool {
	return c.MBSFN > 0 && slices.Contains(c.Frame.mbsfnSubframes()[:c.MBSFN], i)
}

// withDefaults fills in what is left at zero for a number of layers, and checks
// what is given.
func (c Cell) withDefaults(dir bands.Direction, layers int) (Cell, error) {
	if err := checkLink(dir, layers); err != nil {
		return c, err
	}
	if c.RB < 6 || c.RB > MaxPRB {
		return c, rangeError("resource blocks of the carrier", c.RB, 6, MaxPRB, gridSource)
	}
	shortest, longest := 1, 3
	if c.RB <= 10 {
		shortest, longest = 2, 4
	}
	if c.ControlSymbols == 0 {
		c.ControlSymbols = shortest
	}
	if c.ControlSymbols < shortest || c.ControlSymbols > longest {
		return c, rangeError("control symbols", c.ControlSymbols, shortest, longest, controlSource)
	}
	if dir == bands.Downlink {
		if err := c.antennas(layers); err != nil {
			return c, err
		}
	}
	if c.SystemInformation < 0 {
		return c, rangeError("resource blocks of system information", c.SystemInformation, 0, c.RB, data.Source{})
	}
	if c.SRS < 0 || c.SRS > Subframes {
		return c, rangeError("subframes with SRS", c.SRS, 0, Subframes, data.Source{})
	}
	if most := len(c.Frame.mbsfnSubframes()); c.MBSFN < 0 || c.MBSFN > most {
		return c, rangeError("MBSFN subframes of frame structure "+c.Frame.String(), c.MBSFN, 0, most, gridSource)
	}
	if c.PRS != 0 && !slices.Contains([]int{1, 2, 4, 6}, c.PRS) {
		return c, &bands.ValueError{Param: "positioning subframes", Got: strconv.Itoa(c.PRS), Allowed: "1, 2, 4 or 6", Source: gridSource}
	}
	if c.UpPTS < 0 || c.UpPTS > maxUpPTS {
		return c, rangeError("symbols of PUSCH in UpPTS", c.UpPTS, 0, maxUpPTS, frames().specialSource)
	}
	if c.UpPTS > 0 && c.Frame.tdd && !c.Frame.longUpPTS() {
		return c, &bands.ValueError{Param: "PUSCH in UpPTS with frame structure", Got: c.Frame.String(), Allowed: "special subframe configuration 10", Source: frames().specialSource}
	}
	if c.PUCCH == 0 {
		c.PUCCH = 2
	}
	c.PUCCH = max(c.PUCCH, 0)
	if dir == bands.Uplink && c.PUCCH >= c.RB {
		return c, rangeError("resource blocks of the PUCCH", c.PUCCH, 1, c.RB-1, data.Source{})
	}
	return c, nil
}

func (c *Cell) antennas(layers int) error {
	c.UERS = c.UERS || layers > 4
	if c.UERS && c.Frame.ExtendedCP() {
		return &bands.ValueError{
			Param: "cyclic prefix", Got: "extended",
			Allowed: "normal with UE-specific reference signals and above four layers", Source: gridSource,
		}
	}
	switch {
	case c.CRSPorts != 0:
	case c.UERS || layers == 1:
		c.CRSPorts = 1
	case layers == 2:
		c.CRSPorts = 2
	default:
		c.CRSPorts = 4
	}
	if c.CRSPorts != 1 && c.CRSPorts != 2 && c.CRSPorts != 4 {
		return &bands.ValueError{Param: "CRS ports", Got: strconv.Itoa(c.CRSPorts), Allowed: "1, 2 or 4", Source: gridSource}
	}
	if !c.UERS && layers > c.CRSPorts {
		return &bands.ValueError{
			Param: "CRS ports", Got: strconv.Itoa(c.CRSPorts),
			Allowed: fmt.Sprintf("at least the %d layers without UE-specific reference signals", layers), Source: codewordSource,
		}
	}
	return nil
}
