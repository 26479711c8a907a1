package nr

import (
	"strconv"
	"time"

	"spectally/bands"
	"spectally/throughput/exact"
)

const ms = time.Millisecond

// sourceSets is where the overhead sets stand.
var sourceSets = bands.Source{Spec: "TR 37.910", Version: "1.0.0", Table: "B.3.1.1-2 and B.3.1.2-2"}

// preset sets an overhead set of TR 37.910 V1.0.0 Tables B.3.1.1-2 (downlink) and B.3.1.2-2
// (uplink) up, where single signals do not say otherwise.
//
// Read so, which gives the efficiencies that the report prints: TRS wider than the
// carrier end at its edge; an SS/PBCH block hides one of two DM-RS symbols; PT-RS skip one
// DM-RS symbol in the downlink and are in full uplink slots alone; DM-RS and data are in
// special slots too. Set 4 of the TDD downlink repeats SS/PBCH block, CSI-RS and CSI-IM
// every 20 slots at each spacing, has no TRS, and no SS/PBCH block where 20 blocks do not
// fit. In paired spectrum set 4 is chosen to meet the overhead of TS 38.306, and the report
// does not describe it in full, nor for FR2, nor for the uplink, which stays as it is.
func (g *Signals) preset(c *Carrier, s *Schedule) error {
	set := func(k signalKind, count int, period time.Duration) {
		if !g.given[k] {
			g.given[k], g.values[k] = true, recurring{count, 1, period}
		}
	}
	fr2, shared := c.Range.IsFR2(), s.Pattern.Share(s.Direction).Cmp(exact.Whole(1)) < 0
	e := func(allowed string) error {
		return &bands.ValueError{Param: "overhead set", Got: setName + strconv.Itoa(g.Set), Allowed: allowed, Source: sourceSets}
	}
	switch {
	case g.Set == 2 && fr2:
		return e("tr37910-1 or tr37910-3 in FR2")
	case g.Set == 4 && s.Direction == bands.Uplink:
		return nil
	case g.Set == 4 && (fr2 || !shared):
		return e("another: tr37910-4 is described for TDD downlinks of FR1 alone")
	}
	s.LeftOut = SlotSet{}
	if s.Direction == bands.Uplink {
		g.presetUplink(s, fr2, shared, set)
		return nil
	}
	s.DMRS = DMRS{Type: 2, Length: 1 + oneIf(s.Layers > 6)}
	set(signalPDCCH, 0, 0)
	set(signalCCE, 4, 0)
	if g.Set == 2 || g.Set == 4 {
		g.values[signalCCE].count = 2
	}
	if fr2 {
		set(signalSSB, 8, 20*ms)
		set(signalTRS, 1, 10*ms)
		set(signalPTRS, 4, 0)
		if g.Set == 3 {
			set(signalCSI, 12, 5*ms/2)
		}
		set(signalCSI, 8, 10*ms)
		return nil
	}
	switch g.Set {
	case 1:
		set(signalTRS, 1, 20*ms)
		set(signalCSI, 8, 20*ms)
	case 2, 3:
		set(signalTRS, 1, 80*ms)
		set(signalCSI, 12, 20*ms)
	default:
		slots := 20 * ms * time.Duration(15*bands.KHz) / time.Duration(c.SCS)
		set(signalCSI, 12, slots)
		if c.ResourceBlocks >= ssbBlocks {
			set(signalSSB, 1, slots)
		}
		set(signalSSB, 0, 0)
	}
	set(signalSSB, 1, 20*ms)
	return nil
}

func (g *Signals) presetUplink(s *Schedule, fr2, shared bool, set func(signalKind, int, time.Duration)) {
	s.DMRS = DMRS{Type: 1, Length: 1, Groups: 2}
	set(signalPUCCH, 1, 0)
	set(signalSpecial, 1, 0)
	switch {
	case fr2:
		set(signalPTRS, 4, 0)
		if g.Set == 3 {
			set(signalSRS, 1, 5*ms/2)
		}
		set(signalSRS, 1, 5*ms)
	case g.Set == 1 && !shared:
		set(signalSRS, 1, 10*ms)
	case g.Set == 1:
		set(signalSRS, 1, 20*ms)
	case g.Set == 2:
		s.DMRS = DMRS{Type: 2, Length: 1, Groups: 2}
		set(signalSRS, 1, 20*ms)
	case shared: // DM-RS of type 2 where SRS are, which is in the special slots
		s.DMRSRE, s.SpecialDMRSRE = 12, 8
		set(signalSRS, 0, 0)
	default: // and in one slot of 20 ms, 4 elements fewer beside the 12 of SRS
		if !g.given[signalSRS] {
			s.Taken = append(s.Taken, Taken{Slots(0, 0), 8 * s.ResourceBlocks})
		}
		set(signalSRS, 0, 0)
	}
}
