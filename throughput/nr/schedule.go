package nr

import (
	"strconv"

	"spectally/bands"
	"spectally/throughput/exact"
)

// Schedule is what a base station may send on one NR carrier in one direction:
// the same modulation and coding scheme and all resource blocks in every slot that
// carries data. [NewSchedule] fills in this program's assumptions.
type Schedule struct {
	Direction      bands.Direction
	SCS            bands.Frequency
	ResourceBlocks int // N_RB of the carrier
	Layers         int // 1 to 8; above 4 there are two codewords
	MCS            MCS
	Pattern        TDDPattern // none: every slot carries the direction
	Frames         int        // length of the period in frames of 10 ms; 0 is 2

	// ControlSymbols are the symbols at the start of a downlink slot without data
	// (PDCCH), ControlBlocks the resource blocks of an uplink slot without data
	// (PUCCH).
	ControlSymbols, ControlBlocks int
	// SoundingSlots full uplink slots of the period end in SoundingSymbols symbols
	// without data (SRS).
	SoundingSlots, SoundingSymbols int

	// ControlElements are the resource elements that PDCCH or PUCCH take between the data
	// of every slot, PTRS says that every so manieth resource block has phase tracking
	// reference signals (0: none), and Taken are the elements of slots with other signals.
	ControlElements, PTRS int
	Taken                 []Taken

	DMRS DMRS
	// DMRSRE is N_DMRS of a full slot given directly, as reference channels list
	// it, and SpecialDMRSRE that of a special slot (0: the same). If DMRSRE is 0,
	// both follow from DMRS.
	DMRSRE, SpecialDMRSRE int
	XOverhead             int // 0, 6, 12 or 18

	// FullSlotsOnly keeps data out of special slots.
	FullSlotsOnly bool
	// LeftOut are the slots of the period without data: those with SS/PBCH blocks
	// and broadcast, measurement gaps.
	LeftOut SlotSet
	// Shared are the slots of the period in which SharedBlocks resource blocks are
	// not for data, because an SS/PBCH block (20 of them) or broadcast is there.
	Shared       SlotSet
	SharedBlocks int

	// Repetitions is the number of times that a block is sent (aggregation factor,
	// repetition); BlockSlots the number of slots of one block (TBoMS): 1, 2, 4 or
	// 8. 0 is 1 in both.
	Repetitions, BlockSlots int

	// Limit is the data rate in bit/s that the blocks of a slot may not exceed
	// (DataRate of TS 38.214 clause 5.1.3); where they would, fewer resource blocks
	// are used. Not given, there is no limit.
	Limit exact.Ratio
}

// NewSchedule fills in what this program assumes where nothing is given:
//
//   - the highest MCS of the table that reaches the modulation order;
//   - downlink: 2 symbols of PDCCH in FR1, 1 in FR2, and slot 0 of every 20 ms left
//     out for SS/PBCH block and broadcast, as in the reference channels of
//     TS 38.101-4 Annex A.3.2;
//   - uplink: 1 resource block of PUCCH in every slot and 1 symbol of SRS every
//     10 ms in paired spectrum, every 20 ms in TDD, as in TR 37.910 Table
//     B.3.1.2-2; the SRS falls into a special slot that has uplink symbols, and
//     special slots carry no PUSCH (common practice, no source). There is no PRACH;
//   - [DefaultDMRS] and xOverhead 0;
//   - the maximum data rate of the carrier as the limit.
//
// A scaling factor lowers the limit alone.
func NewSchedule(c Carrier, p TDDPattern) (Schedule, error) {
	limit, err := c.MaxRate()
	if err != nil {
		return Schedule{}, err
	}
	table, err := MCSTableFor(c.Direction, c.Qm)
	if err != nil {
		return Schedule{}, err
	}
	mcs, err := table.Highest(c.Qm)
	if err != nil {
		return Schedule{}, err
	}
	s := Schedule{
		Direction:      c.Direction,
		SCS:            c.SCS,
		ResourceBlocks: c.ResourceBlocks,
		Layers:         c.Layers,
		MCS:            mcs,
		Pattern:        p,
		Frames:         2,
		DMRS:           DefaultDMRS(c.Direction, c.Layers),
		Limit:          limit,
	}
	if c.Direction == bands.Downlink {
		s.ControlSymbols = 2 - oneIf(c.Range.IsFR2())
		s.LeftOut = SlotSet{firstSlot}
		return s, nil
	}
	s.ControlBlocks, s.FullSlotsOnly = 1, true
	s.SoundingSymbols = 1
	switch {
	case p.IsZero():
		s.SoundingSlots = 2
	case p.parts[0].ulSymbols == 0 && p.parts[1].ulSymbols == 0:
		s.SoundingSlots = 1
	}
	return s, nil
}

// firstSlot is the range of slot 0; it is never changed.
var firstSlot = []slotRange{{0, 0}}

// frames is the length of the period.
func (s *Schedule) frames() int {
	if s.Frames == 0 {
		return 2
	}
	return s.Frames
}

// check looks at what the single allocations do not: they check the rest.
func (s *Schedule) check() error {
	e := func(param string, got int, allowed string) error {
		return &bands.ValueError{Param: param, Got: strconv.Itoa(got), Allowed: allowed}
	}
	switch {
	case s.Direction != bands.Downlink && s.Direction != bands.Uplink:
		return e("direction", int(s.Direction), "downlink or uplink")
	case s.Frames < 0 || s.Frames > 1024:
		return e("frames", s.Frames, "1 to 1024")
	case s.ResourceBlocks < 1 || s.ResourceBlocks > maxBlocks:
		return e("resource blocks", s.ResourceBlocks, "1 to "+strconv.Itoa(maxBlocks))
	case s.ControlSymbols < 0 || s.ControlSymbols >= slotSymbols:
		return e("control symbols", s.ControlSymbols, "0 to 13")
	case s.ControlBlocks < 0 || s.ControlBlocks >= s.ResourceBlocks:
		return e("control resource blocks", s.ControlBlocks, "0 to "+strconv.Itoa(s.ResourceBlocks-1))
	case s.SharedBlocks < 0:
		return e("shared resource blocks", s.SharedBlocks, "0 or more")
	case s.SoundingSymbols < 0 || s.SoundingSymbols >= slotSymbols:
		return e("sounding symbols", s.SoundingSymbols, "0 to 13")
	case s.SoundingSlots < 0:
		return e("sounding slots", s.SoundingSlots, "0 or more")
	case s.Repetitions < 0 || s.Repetitions > 32:
		return e("repetitions", s.Repetitions, "1 to 32")
	case s.SpecialDMRSRE < 0:
		return e("DM-RS resource elements of special slots", s.SpecialDMRSRE, "0 or more")
	case s.precoded() && s.Layers != 1:
		return &bands.ValueError{Param: "layers", Got: strconv.Itoa(s.Layers), Allowed: "1 with transform precoding", Source: sourcePrecoding}
	case s.precoded() && s.DMRSRE == 0 && s.DMRS.Type == 2:
		return e("DM-RS type", s.DMRS.Type, "1 with transform precoding")
	case s.MCS.Reserved():
		return e("MCS index", s.MCS.Index, "one with a code rate")
	}
	return nil
}
