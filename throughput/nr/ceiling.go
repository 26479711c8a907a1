package nr

import (
	"spectally/bands"
	"spectally/throughput/exact"
)

// Ceiling is the most that the standard lets a network send on the carrier with the
// pattern, the layers and the MCS of the schedule, in bit/s: no schedule sends more.
//
//   - No PDCCH in the slots of the PDSCH: semi-persistent scheduling in every slot
//     (TS 38.213 clause 10.2), or control on another carrier.
//   - The fewest DM-RS that hold the layers ([DMRS] of either type and length, and the
//     enhanced types of Release 18 with twice the ports), in as few symbols as there are.
//   - No CSI-RS, TRS, SS/PBCH block, PUCCH or SRS, no xOverhead, and data in the special
//     slots too: all of these are left to configuration.
//   - No slot with more than Limit, DataRate of TS 38.214 clauses 5.1.3 and 6.1.4, where
//     there is one.
//
// In a slot of 14 symbols N'_RE comes to its limit of 156 anyway (TS 38.214 clause
// 5.1.3.2). The limit cuts what is sent and not whole resource blocks, so that it is one
// for every choice of them.
func (s *Schedule) Ceiling() (exact.Ratio, error) {
	lean := s.Leanest()
	r, err := lean.Schedule()
	if err != nil || s.Limit.IsZero() {
		return r.Rate(), err
	}
	perSlot := s.Limit.Mul(exact.Of(r.blocksPerSecond.Den, r.blocksPerSecond.Num))
	sum := exact.Whole(0)
	for _, k := range r.Kinds() {
		bits := exact.Whole(int64(k.Blocks[0].TBS + k.Blocks[1].TBS))
		if bits.Cmp(perSlot) > 0 {
			bits = perSlot
		}
		sum = sum.Add(bits.Mul(exact.Whole(int64(k.Sent))))
	}
	return sum.Mul(exact.Of(100, int64(r.Frames))), nil
}

// Leanest is the schedule behind [Schedule.Ceiling], without its limit.
func (s *Schedule) Leanest() Schedule {
	return Schedule{
		Direction: s.Direction, SCS: s.SCS, ResourceBlocks: s.ResourceBlocks, Layers: s.Layers, MCS: s.MCS,
		Pattern: s.Pattern, Frames: s.Frames, DMRSRE: s.leanestDMRS(),
	}
}

// leanestDMRS is the least N_DMRS for the layers. With transform precoding both CDM
// groups of type 1 go without data (TS 38.214 clause 6.2.2).
func (s *Schedule) leanestDMRS() int {
	if s.precoded() {
		return 2 * dmrsTypes[1].elements
	}
	least := 12 * slotSymbols
	for _, t := range dmrsTypes[1:] {
		for length := 1; length <= 2; length++ {
			ports := 4 * length // of a CDM group, with the enhanced types
			if groups := (s.Layers + ports - 1) / ports; groups <= t.groups {
				least = min(least, groups*length*t.elements)
			}
		}
	}
	return least
}

// leastSymbols is the shortest allocation of a slot: PDSCH of mapping type A has three
// symbols at least, of type B two (TS 38.214 Table 5.1.2.1-1); PUSCH four and one (Table
// 6.1.2.1-1). A special slot of the uplink has type B.
func (s *Schedule) leastSymbols(special bool) int {
	b := s.DMRS.MappingB || s.DMRSRE != 0 // which type is not said with DMRSRE
	switch {
	case s.Direction == bands.Downlink && b:
		return 2
	case s.Direction == bands.Downlink:
		return 3
	case b || special:
		return 1
	}
	return 4
}
