package throughput

import (
	"spectally/bands"
	"spectally/ca"
	"spectally/throughput/exact"
	"spectally/throughput/nr"
)

// uplinkOf is the NR carrier whose cell the supplementary uplinks belong to, the first on
// which the UE transmits; -1 where there is none.
func (r *Result) uplinkOf() int {
	for i := range r.Carriers {
		p := &r.assessment.Carriers[i]
		if p.Band.RAT == bands.NR && p.Info.Duplex != bands.SUL && p.Transmits {
			return i
		}
	}
	return -1
}

// InTurn lists the carriers, counted from 0, that share the uplink of a cell in turn: the
// uplink and its supplementary uplinks, none that its user marks as transmitting beside
// it. Of these only the fastest counts for the maximum; a scheduler chooses slot by slot,
// and what it then sends is in [Result.InTurnRates].
func (r *Result) InTurn() []int {
	cell := r.uplinkOf()
	if cell < 0 {
		return nil
	}
	list := []int{cell}
	for i := range r.Carriers {
		p := &r.assessment.Carriers[i]
		if p.Info.Duplex == bands.SUL && p.Transmit != ca.Yes && !r.Carriers[i].Uplink.IsZero() {
			list = append(list, i)
		}
	}
	if len(list) < 2 {
		return nil
	}
	return list
}

// InTurnRates is what the uplinks of [Result.InTurn] send in turn.
func (r *Result) InTurnRates() Rates { return r.inTurn }

// scheduleInTurn works out what the uplinks of a cell send in turn: in every slot of the
// widest spacing in time that one of them which sends the most there, since a UE
// transmits on one at a time (TS 38.214 clause 6.1.6).
func (r *Result) scheduleInTurn(list []int) error {
	for _, v := range [...]struct {
		rate *exact.Ratio
		plan func(s *nr.Schedule) nr.Schedule
		one  func(l *Link) exact.Ratio
	}{
		{&r.inTurn.Scheduled, func(s *nr.Schedule) nr.Schedule { return *s }, func(l *Link) exact.Ratio { return l.Scheduled }},
		{&r.inTurn.Schedulable, (*nr.Schedule).Leanest, func(l *Link) exact.Ratio { return l.Schedulable }},
	} {
		var best []int64 // bits in each millisecond
		for _, i := range list {
			plan, err := r.NRPlan(i, bands.Uplink)
			if err != nil {
				return err
			}
			chosen := v.plan(&plan)
			bits, err := chosen.SlotBits()
			if err != nil {
				return err
			}
			each := perMillisecond(bits, 10*max(2, chosen.Frames))
			if most := plan.Limit.Mul(exact.Of(1, 1000)); !most.IsZero() {
				for k := range each {
					each[k] = min(each[k], most.Num/most.Den)
				}
			}
			if len(each) > len(best) {
				best, each = each, best
			}
			for k := range best {
				if len(each) > 0 {
					best[k] = max(best[k], each[k%len(each)])
				}
			}
		}
		sum := int64(0)
		for _, n := range best {
			sum += n
		}
		*v.rate = exact.Of(sum*1000, int64(len(best))).Reduced()
		for _, i := range list { // DataRate may hold one alone below it, and none above
			if one := v.one(&r.Carriers[i].Uplink); one.Cmp(*v.rate) > 0 {
				*v.rate = one
			}
		}
	}
	if r.inTurn.Schedulable.Cmp(r.inTurn.Scheduled) < 0 {
		r.inTurn.Schedulable = r.inTurn.Scheduled
	}
	return nil
}

// perMillisecond adds up the bits of slots, of so many milliseconds together, that begin in
// the same millisecond.
func perMillisecond(bits []int64, ms int) []int64 {
	list := make([]int64, ms)
	for i, n := range bits {
		list[i*ms/len(bits)] += n
	}
	return list
}
