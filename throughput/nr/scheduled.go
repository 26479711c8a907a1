package nr

import (
	"spectally/bands"
	"spectally/throughput/exact"
	"spectally/throughput/internal/precoding"
)

// SlotKind is a group of slots of a schedule that carry blocks of the same size.
type SlotKind struct {
	Special   bool // special slots of the TDD pattern
	Slots     int  // slots of this kind in the period
	Symbols   int  // symbols of the allocation, DM-RS included
	PRB       int  // resource blocks with data
	DMRSRE    int  // N_DMRS
	Taken     int  // elements that signals of single slots take from data
	Elements  int  // resource elements of one layer that are left for data
	Limited   bool // PRB was lowered to keep within the limit
	Blocks    [2]TransportBlock
	Codewords int   // blocks sent at once: 0 (nothing fits), 1 or 2
	Sent      int   // times in the period that new blocks are sent
	Bits      int64 // transport block bits in the period
}

// Scheduled is the outcome of a schedule over its period.
type Scheduled struct {
	Bits   int64 // transport block bits in the period
	Blocks int   // transport blocks in the period
	Frames int   // length of the period in frames of 10 ms

	blocksPerSecond exact.Ratio // slots in a second, divided by those that one block spans
	kinds           []SlotKind
}

// Rate is the scheduled rate in bit/s, exactly.
func (r *Scheduled) Rate() exact.Ratio {
	if r.Frames == 0 {
		return exact.Whole(0)
	}
	return exact.Of(r.Bits*100, int64(r.Frames)).Reduced()
}

// BlockRate is the number of new transport blocks in a second.
func (r *Scheduled) BlockRate() exact.Ratio {
	if r.Frames == 0 {
		return exact.Whole(0)
	}
	return exact.Of(int64(r.Blocks)*100, int64(r.Frames)).Reduced()
}

// Kinds lists the kinds of slot that may carry data, in the order in which they
// first occur.
func (r *Scheduled) Kinds() []SlotKind { return r.kinds }

// SlotLoad is the largest sum of V over the blocks of a slot, divided by the
// length of the slot, in bit/s: what TS 38.214 clause 5.1.3 compares with
// DataRate.
func (r *Scheduled) SlotLoad() exact.Ratio {
	var most int64
	for i := range r.kinds {
		most = max(most, r.kinds[i].scheduledBits())
	}
	return r.perSecond(most)
}

// AllocationLoad is the largest sum of V over the blocks of a slot, divided by
// the length of the allocation in the slot, in bit/s: what TS 38.214 clause 5.1.3
// compares with DataRateCC.
func (r *Scheduled) AllocationLoad() exact.Ratio {
	most := exact.Whole(0)
	for i := range r.kinds {
		k := &r.kinds[i]
		if k.Codewords == 0 {
			continue
		}
		load := r.perSecond(k.scheduledBits()).Mul(exact.Of(slotSymbols, int64(k.Symbols)))
		if load.Cmp(most) > 0 {
			most = load
		}
	}
	return most
}

// perSecond is the data rate of bits that are sent with every block.
func (r *Scheduled) perSecond(bits int64) exact.Ratio {
	if r.blocksPerSecond.Den == 0 {
		return exact.Whole(0)
	}
	return exact.Of(bits*r.blocksPerSecond.Num, r.blocksPerSecond.Den).Reduced()
}

func (k *SlotKind) scheduledBits() int64 {
	return k.Blocks[0].ScheduledBits() + k.Blocks[1].ScheduledBits()
}

// Schedule works out the blocks of every slot of the period. It does not check
// whether the period of the pattern exists; [TDDPattern.Periods] does.
func (s *Schedule) Schedule() (r Scheduled, err error) { return s.run(nil) }

// SlotBits lists the transport block bits of every slot of the period: those of the
// blocks that begin there.
func (s *Schedule) SlotBits() ([]int64, error) {
	n, err := NumerologyOf(s.SCS)
	if err != nil {
		return nil, err
	}
	kindAt := make([]int8, s.frames()*n.SlotsPerFrame)
	r, err := s.run(kindAt)
	if err != nil {
		return nil, err
	}
	bits := make([]int64, len(kindAt))
	for i, at := range kindAt {
		if at > 0 {
			k := &r.kinds[at-1]
			bits[i] = int64(k.Blocks[0].TBS + k.Blocks[1].TBS)
		}
	}
	return bits, nil
}

// run is [Schedule.Schedule]; it fills in the kind of each slot where kindAt is given.
func (s *Schedule) run(kindAt []int8) (r Scheduled, err error) {
	if err := s.check(); err != nil {
		return r, err
	}
	numerology, err := NumerologyOf(s.SCS)
	if err != nil {
		return r, err
	}
	groups := 0
	if s.DMRSRE == 0 {
		if groups, err = s.DMRS.CDMGroups(s.Layers); err != nil {
			return r, err
		}
		if s.precoded() {
			groups = 2 // the others of type 1 carry no data (TS 38.214 clause 6.2.2)
		}
	}
	r.Frames, r.kinds = s.frames(), make([]SlotKind, 0, 4)
	r.blocksPerSecond = exact.Of(int64(numerology.SlotsPerFrame)*100, int64(max(1, s.BlockSlots)))
	s.count(&r, r.Frames*numerology.SlotsPerFrame, kindAt)
	for i := range r.kinds {
		k := &r.kinds[i]
		if err := s.fill(&r, k, groups); err != nil {
			return Scheduled{}, err
		}
		r.Bits += k.Bits
		r.Blocks += k.Sent * k.Codewords
	}
	return r, nil
}

// fill works out the blocks of a kind of slot. A special slot too short for its DM-RS
// carries nothing.
func (s *Schedule) fill(r *Scheduled, k *SlotKind, groups int) error {
	k.DMRSRE = s.DMRSRE
	if k.Special && s.SpecialDMRSRE > 0 {
		k.DMRSRE = s.SpecialDMRSRE
	}
	if s.DMRSRE == 0 {
		symbols := s.dmrsSymbols(k)
		if symbols == 0 {
			return nil
		}
		k.DMRSRE = s.DMRS.RE(symbols, groups)
	}
	if k.Special && 12*k.Symbols-k.DMRSRE-s.XOverhead <= 0 {
		return nil
	}
	a := Allocation{
		PRB:       k.PRB,
		Symbols:   k.Symbols,
		DMRSRE:    k.DMRSRE,
		XOverhead: s.XOverhead,
		Layers:    s.Layers,
		Qm:        s.MCS.Qm,
		Rate2048:  s.MCS.Rate2048,
		Slots:     s.BlockSlots,
	}
	var err error
	if k.Blocks, k.Codewords, err = a.TransportBlocks(); err != nil {
		return err
	}
	taken := k.Taken + s.signalElements(k)
	k.Elements = max(0, (12*k.Symbols-k.DMRSRE)*k.PRB-taken)
	if taken > 0 {
		if err := s.fit(k, &a); err != nil || k.Codewords == 0 {
			return err
		}
	}
	if s.Limit.Den != 0 && r.perSecond(k.scheduledBits()).Cmp(s.Limit) > 0 {
		s.limit(r, k, &a)
	}
	k.Sent = k.Slots / (max(1, s.Repetitions) * max(1, s.BlockSlots))
	k.Bits = int64(k.Sent) * int64(k.Blocks[0].TBS+k.Blocks[1].TBS)
	return nil
}

// limit finds the most resource blocks that keep within the limit: the size of a
// block does not fall with the number of resource blocks.
func (s *Schedule) limit(r *Scheduled, k *SlotKind, a *Allocation) {
	k.Limited = true
	low, high := 0, k.PRB // low fits, high does not
	for high-low > 1 {
		k.PRB = (low + high) / 2
		a.PRB = k.PRB
		k.Blocks, k.Codewords, _ = a.TransportBlocks()
		if r.perSecond(k.scheduledBits()).Cmp(s.Limit) > 0 {
			high = k.PRB
		} else {
			low = k.PRB
		}
	}
	if s.precoded() {
		low = precoding.Blocks(low)
	}
	k.PRB, a.PRB = low, low
	if low == 0 {
		k.Blocks, k.Codewords = [2]TransportBlock{}, 0
		return
	}
	k.Blocks, k.Codewords, _ = a.TransportBlocks()
}

// dmrsSymbols is the number of DM-RS symbols of a kind of slot. An uplink
// allocation that begins after the start of the slot has mapping type B.
func (s *Schedule) dmrsSymbols(k *SlotKind) int {
	c, duration := s.DMRS, k.Symbols
	switch {
	case s.Direction == bands.Uplink:
		c.MappingB = c.MappingB || k.Special
	case !c.MappingB:
		duration += s.ControlSymbols
	}
	return c.Symbols(s.Direction, duration)
}
