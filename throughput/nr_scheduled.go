package throughput

import "spectally/bands"

// NRSlotKind is a group of slots of a schedule that carry blocks of the same size.
type NRSlotKind struct {
	Special   bool // special slots of the TDD pattern
	Slots     int  // slots of this kind in the period
	Symbols   int  // symbols of the allocation, DM-RS included
	PRB       int  // resource blocks with data
	DMRSRE    int  // N_DMRS
	Limited   bool // PRB was lowered to keep within the limit
	Blocks    [2]NRTransportBlock
	Codewords int   // blocks sent at once: 0 (nothing fits), 1 or 2
	Sent      int   // times in the period that new blocks are sent
	Bits      int64 // transport block bits in the period
}

// nrMaxKinds is as many kinds as can occur: full slots, full slots with SRS, and
// special slots of two patterns, each also with shared resource blocks.
const nrMaxKinds = 8

// NRScheduled is the outcome of a schedule over its period.
type NRScheduled struct {
	Bits   int64 // transport block bits in the period
	Blocks int   // transport blocks in the period
	Frames int   // length of the period in frames of 10 ms

	blocksPerSecond Ratio // slots in a second, divided by those that one block spans
	kinds           [nrMaxKinds]NRSlotKind
	n               int
}

// Rate is the scheduled rate in bit/s, exactly.
func (r *NRScheduled) Rate() Ratio {
	if r.Frames == 0 {
		return Ratio{0, 1}
	}
	return Ratio{r.Bits * 100, int64(r.Frames)}.Reduced()
}

// BlockRate is the number of new transport blocks in a second.
func (r *NRScheduled) BlockRate() Ratio {
	if r.Frames == 0 {
		return Ratio{0, 1}
	}
	return Ratio{int64(r.Blocks) * 100, int64(r.Frames)}.Reduced()
}

// Kinds lists the kinds of slot that may carry data, in the order in which they
// first occur.
func (r *NRScheduled) Kinds() []NRSlotKind { return r.kinds[:r.n] }

// SlotLoad is the largest sum of V over the blocks of a slot, divided by the
// length of the slot, in bit/s: what TS 38.214 clause 5.1.3 compares with
// DataRate.
func (r *NRScheduled) SlotLoad() Ratio {
	var most int64
	for i := range r.n {
		most = max(most, r.kinds[i].scheduledBits())
	}
	return r.perSecond(most)
}

// AllocationLoad is the largest sum of V over the blocks of a slot, divided by
// the length of the allocation in the slot, in bit/s: what TS 38.214 clause 5.1.3
// compares with DataRateCC.
func (r *NRScheduled) AllocationLoad() Ratio {
	most := Ratio{0, 1}
	for i := range r.n {
		k := &r.kinds[i]
		if k.Codewords == 0 {
			continue
		}
		load := r.perSecond(k.scheduledBits()).Mul(Ratio{nrSymbols, int64(k.Symbols)})
		if load.Cmp(most) > 0 {
			most = load
		}
	}
	return most
}

// perSecond is the data rate of bits that are sent with every block.
func (r *NRScheduled) perSecond(bits int64) Ratio {
	if r.blocksPerSecond.Den == 0 {
		return Ratio{0, 1}
	}
	return Ratio{bits * r.blocksPerSecond.Num, r.blocksPerSecond.Den}.Reduced()
}

func (k *NRSlotKind) scheduledBits() int64 {
	return k.Blocks[0].ScheduledBits() + k.Blocks[1].ScheduledBits()
}

// Schedule works out the blocks of every slot of the period. It does not check
// whether the period of the pattern exists; [TDDPattern.Periods] does.
func (s *NRSchedule) Schedule() (r NRScheduled, err error) {
	if err := s.check(); err != nil {
		return r, err
	}
	numerology, err := NRNumerologyOf(s.SCS)
	if err != nil {
		return r, err
	}
	groups := 0
	if s.DMRSRE == 0 {
		if groups, err = s.DMRS.CDMGroups(s.Layers); err != nil {
			return r, err
		}
	}
	r.Frames = s.frames()
	r.blocksPerSecond = Ratio{int64(numerology.SlotsPerFrame) * 100, int64(max(1, s.BlockSlots))}
	s.count(&r, r.Frames*numerology.SlotsPerFrame)
	for i := range r.n {
		k := &r.kinds[i]
		if err := s.fill(&r, k, groups); err != nil {
			return NRScheduled{}, err
		}
		r.Bits += k.Bits
		r.Blocks += k.Sent * k.Codewords
	}
	return r, nil
}

// fill works out the blocks of a kind of slot. A special slot too short for its
// DM-RS carries nothing.
func (s *NRSchedule) fill(r *NRScheduled, k *NRSlotKind, groups int) error {
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
	a := NRAllocation{
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
	if s.Limit.Den != 0 && r.perSecond(k.scheduledBits()).Cmp(s.Limit) > 0 {
		r.limit(k, &a, s.Limit)
	}
	k.Sent = k.Slots / (max(1, s.Repetitions) * max(1, s.BlockSlots))
	k.Bits = int64(k.Sent) * int64(k.Blocks[0].TBS+k.Blocks[1].TBS)
	return nil
}

// limit finds the most resource blocks that keep within the limit: the size of a
// block does not fall with the number of resource blocks.
func (r *NRScheduled) limit(k *NRSlotKind, a *NRAllocation, limit Ratio) {
	k.Limited = true
	low, high := 0, k.PRB // low fits, high does not
	for high-low > 1 {
		k.PRB = (low + high) / 2
		a.PRB = k.PRB
		k.Blocks, k.Codewords, _ = a.TransportBlocks()
		if r.perSecond(k.scheduledBits()).Cmp(limit) > 0 {
			high = k.PRB
		} else {
			low = k.PRB
		}
	}
	k.PRB, a.PRB = low, low
	if low == 0 {
		k.Blocks, k.Codewords = [2]NRTransportBlock{}, 0
		return
	}
	k.Blocks, k.Codewords, _ = a.TransportBlocks()
}

// dmrsSymbols is the number of DM-RS symbols of a kind of slot. An uplink
// allocation that begins after the start of the slot has mapping type B.
func (s *NRSchedule) dmrsSymbols(k *NRSlotKind) int {
	c, duration := s.DMRS, k.Symbols
	switch {
	case s.Direction == bands.Uplink:
		c.MappingB = c.MappingB || k.Special
	case !c.MappingB:
		duration += s.ControlSymbols
	}
	return c.Symbols(s.Direction, duration)
}
