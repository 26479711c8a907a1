package nr

import (
	"strconv"
	"time"

	"spectally/bands"
	"spectally/throughput/exact"
)

// Signals are the control and reference signals of a carrier as a network sets them up,
// beside its DM-RS: an overhead set of TR 37.910, single signals, or both, of which the
// single ones go before. What is not given stays as [NewSchedule] has it. Signals compare
// with ==.
type Signals struct {
	// Set is an overhead set of TR 37.910 Tables B.3.1.1-2 and B.3.1.2-2: 1 to 4; 0 is none.
	Set    int
	given  [signalKinds]bool
	values [signalKinds]recurring
}

// recurring is a quantity, and how often it is there.
type recurring struct {
	count, by int
	period    time.Duration
}

type signalKind uint8

const (
	signalPDCCH   signalKind = iota // symbols at the start of a downlink slot
	signalCCE                       // control channel elements between the data of a downlink slot
	signalSSB                       // SS/PBCH blocks in a period
	signalCSI                       // resource elements of a resource block in a period: CSI-RS and CSI-IM
	signalTRS                       // two slots of a period
	signalPTRS                      // every so manieth resource block
	signalPUCCH                     // resource blocks, by symbols
	signalSRS                       // symbols in a period
	signalSpecial                   // PUSCH in special slots
	signalKinds
)

// IsZero tells whether nothing is given.
func (g Signals) IsZero() bool { return g == Signals{} }

// Elements of signals in resource elements.
const (
	cceElements  = 72  // of a control channel element (TS 38.211 clause 7.3.2.2)
	ssbBlocks    = 20  // resource blocks of an SS/PBCH block (TS 38.211 clause 7.4.3.1)
	ssbElements  = 960 // all of them in its four symbols
	trsElements  = 12  // of a resource block in both slots together, by two in each of them
	trsMaxBlocks = 52  // TS 38.214 clause 5.1.6.1.1
)

// Taken are resource elements of slots that signals take from data.
type Taken struct {
	Slots    SlotSet
	Elements int // of each slot
}

// Apply sets the signals up in a schedule of the carrier. DM-RS, where given, replaces that
// of a set. It is an error if a signal does not come round in a whole number of slots.
func (g Signals) Apply(c *Carrier, dmrs *DMRS, s *Schedule) error {
	if g.Set != 0 {
		if err := g.preset(c, s); err != nil {
			return err
		}
	}
	if dmrs != nil {
		s.DMRS, s.DMRSRE, s.SpecialDMRSRE = *dmrs, 0, 0
	}
	if g.IsZero() {
		return nil
	}
	for k := range g.values {
		if p := g.values[k].period; p > 0 {
			s.Frames = max(s.frames(), int((p+10*time.Millisecond-1)/(10*time.Millisecond)))
		}
	}
	if s.Direction == bands.Uplink {
		return g.uplink(s)
	}
	return g.downlink(c, s)
}

func (g *Signals) downlink(c *Carrier, s *Schedule) error {
	if g.given[signalPDCCH] {
		s.ControlSymbols = g.values[signalPDCCH].count
	}
	s.ControlElements, s.PTRS = cceElements*g.values[signalCCE].count, g.values[signalPTRS].count
	full := 0
	if groups, err := s.DMRS.CDMGroups(s.Layers); err == nil {
		full = s.DMRS.RE(s.DMRS.Symbols(s.Direction, slotSymbols), groups)
	}
	if g.given[signalSSB] {
		s.LeftOut = SlotSet{}
		each := ssbElements
		if g.Set != 4 {
			each -= ssbBlocks * full / 2 // it hides one of two DM-RS symbols
		}
		for _, slot := range s.ssbSlots(c, g.values[signalSSB].count) {
			if err := s.take(g.values[signalSSB].period, each, func(start, end int) int { return start + slot }); err != nil {
				return err
			}
		}
	}
	if err := s.take(g.values[signalCSI].period, g.values[signalCSI].count*s.ResourceBlocks, s.fullSlot(1)); err != nil {
		return err
	}
	for half := range 2 {
		if err := s.take(g.values[signalTRS].period, trsElements*min(trsMaxBlocks, s.ResourceBlocks), s.fullSlot(2+half)); err != nil {
			return err
		}
	}
	return nil
}

func (g *Signals) uplink(s *Schedule) error {
	s.PTRS = g.values[signalPTRS].count
	if g.given[signalSpecial] {
		s.FullSlotsOnly = g.values[signalSpecial].count == 0
	}
	if v := g.values[signalPUCCH]; g.given[signalPUCCH] {
		s.ControlBlocks, s.ControlElements = v.count, 0
		if v.by < slotSymbols {
			s.ControlBlocks, s.ControlElements = 0, 12*v.count*v.by
		}
	}
	if v := g.values[signalSRS]; g.given[signalSRS] {
		s.SoundingSymbols, s.SoundingSlots = v.count, 0
		special := s.Pattern.parts[0].ulSymbols > 0 || s.Pattern.parts[1].ulSymbols > 0
		if v.period > 0 && !(s.FullSlotsOnly && special) { // SRS falls into the special slots where they carry no data
			s.SoundingSlots = int(time.Duration(s.frames()) * 10 * time.Millisecond / v.period)
		}
	}
	return nil
}

// take counts elements of one slot of each period.
func (s *Schedule) take(period time.Duration, elements int, slot func(start, end int) int) error {
	if period == 0 || elements == 0 {
		return nil
	}
	n, err := NumerologyOf(s.SCS)
	if err != nil {
		return err
	}
	length := period * time.Duration(n.SlotsPerFrame)
	if length%(10*time.Millisecond) != 0 {
		return &bands.ValueError{Param: "period of a signal at " + s.SCS.String(), Got: periodText(period) + " ms", Allowed: "a whole number of slots"}
	}
	every := int(length / (10 * time.Millisecond))
	var slots SlotSet
	for start := 0; start < s.frames()*n.SlotsPerFrame; start += every {
		if at := slot(start, start+every); at >= 0 {
			slots = slots.Union(Slots(at, at))
		}
	}
	s.Taken = append(s.Taken, Taken{slots, elements})
	return nil
}

// fullSlot finds the slot with a number among those wholly of the direction, again and
// again where there are fewer; -1 where there is none.
func (s *Schedule) fullSlot(number int) func(start, end int) int {
	return func(start, end int) int {
		var full []int
		for i := start; i < end && len(full) <= number; i++ {
			if slot := s.Pattern.Slot(i); s.Pattern.IsZero() || slot.Symbols(s.Direction) == slotSymbols {
				full = append(full, i)
			}
		}
		if len(full) == 0 {
			return -1
		}
		return full[number%len(full)]
	}
}

// ssbSlots are the slots of a number of SS/PBCH blocks, those of their places in a half
// frame that the pattern leaves to the downlink.
func (s *Schedule) ssbSlots(c *Carrier, count int) []int {
	places := 8
	if c.Range.IsFR2() {
		places = 64
	}
	var list []int
	for b := range places {
		slot, needs := ssbSlot(c, b), 8+4*(b%2) // symbols up to its last
		if at := s.Pattern.Slot(slot); len(list) < count && (s.Pattern.IsZero() || at.Symbols(bands.Downlink) >= needs) {
			list = append(list, slot)
		}
	}
	return list
}

// ssbSlot is the slot of the carrier in which an SS/PBCH block of a half frame lies (TS
// 38.213 clause 4.1, cases A to D): two in a slot of their own spacing, which is 15 kHz for
// carriers of 15 kHz, 30 kHz for others of FR1, 120 kHz for FR2, where a pair of slots is
// left free after every eight.
func ssbSlot(c *Carrier, block int) int {
	slot := block / 2
	switch {
	case c.Range.IsFR2():
		slot += 2 * (block / 16)
		if c.SCS == 60*bands.KHz {
			slot /= 2
		}
	case c.SCS == 60*bands.KHz:
		slot = block // a slot of 30 kHz lasts two
	}
	return slot
}

// signalElements are the elements of a slot that signals take besides those of single slots.
func (s *Schedule) signalElements(k *SlotKind) int {
	sum := s.ControlElements
	switch {
	case s.PTRS == 0:
	case s.Direction == bands.Downlink:
		sum += (k.Symbols - 1) * k.PRB / s.PTRS
	case !k.Special:
		sum += 2 * slotSymbols * k.PRB / s.PTRS // two ports
	}
	return sum
}

// mostCodeRate is the effective code rate above which a UE may skip decoding (TS 38.214
// clauses 5.1.3): information bits with CRC over the bits of the channel. It holds for the
// uplink here too.
var mostCodeRate = exact.Of(95, 100)

// fit lowers the MCS of a kind of slot until its blocks go into the elements that the
// signals leave. The sizes of the blocks do not know of those signals (TS 38.214 clause
// 5.1.3.2).
func (s *Schedule) fit(k *SlotKind, a *Allocation) (err error) {
	rows := []MCS{s.MCS}
	if s.MCS.Table.valid() {
		for _, m := range s.MCS.Table.Rows(s.MCS.Qm == 1) {
			if e := m.Qm * m.Rate2048; e > 0 && e < s.MCS.Qm*s.MCS.Rate2048 {
				rows = append(rows, m)
			}
		}
	}
	for range rows {
		best := 0
		for i := range rows {
			if rows[i].Qm*rows[i].Rate2048 > rows[best].Qm*rows[best].Rate2048 {
				best = i
			}
		}
		*a = a.WithMCS(rows[best])
		rows[best] = MCS{}
		if k.Blocks, k.Codewords, err = a.TransportBlocks(); err != nil {
			return err
		}
		b := &k.Blocks[max(0, k.Codewords-1)] // the one with the most layers
		if channel := int64(k.Elements * a.Qm * b.Layers); exact.Whole(int64(b.TBS+b.CRCBits)).Cmp(mostCodeRate.Mul(exact.Whole(channel))) <= 0 {
			return nil
		}
	}
	k.Blocks, k.Codewords = [2]TransportBlock{}, 0
	return nil
}

// PeakRate is the peak data rate of Report ITU-R M.2410 as TR 37.910 equation 5.1.1-1 counts
// it, in bit/s: every resource element that is left for data at the highest code rate,
// 948/1024, whatever sizes blocks have.
func (s *Schedule) PeakRate(r *Scheduled) exact.Ratio {
	elements := int64(0)
	for i := range r.kinds {
		elements += int64(r.kinds[i].Elements) * int64(r.kinds[i].Slots)
	}
	return exact.Of(elements*int64(s.Layers*s.MCS.Qm)*948*100, 1024*int64(r.Frames)).Reduced()
}

func periodText(p time.Duration) string {
	return strconv.FormatFloat(float64(p)/float64(time.Millisecond), 'f', -1, 64)
}
