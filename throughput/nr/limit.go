package nr

import (
	"spectally/throughput/exact"
)

// RateLimit compares a data rate with the limit that holds for it, both in bit/s
// and exact.
type RateLimit struct {
	Load  exact.Ratio // what the blocks ask of the UE
	Limit exact.Ratio // what the UE has to handle
}

// String writes load and limit with their unit.
func (l RateLimit) String() string { return l.Load.Rate() + " of " + l.Limit.Rate() }

// Holds tells whether the load is within the limit.
func (l RateLimit) Holds() bool { return l.Load.Cmp(l.Limit) <= 0 }

// DataRate is the check of TS 38.214 clauses 5.1.3 (PDSCH) and 6.1.4 (PUSCH) over
// the carriers of one frequency range in a cell group: at any instant the sum of
// V over the blocks in the air, each divided by the length of its slot, may not
// exceed DataRate. Each schedule gives its heaviest slot. The limit is the maximum
// data rate summed over the carriers, by TS 38.306 clause 4.1.2.
func DataRate(limit exact.Ratio, carriers ...*Scheduled) RateLimit {
	l := RateLimit{exact.Whole(0), limit}
	for _, c := range carriers {
		l.Load = l.Load.Add(c.SlotLoad())
	}
	return l
}

// DataRateCC is the check of the same clauses for one carrier: the sum of V over
// the blocks of a slot, divided by the length of their allocation, may not exceed
// DataRateCC, the maximum data rate of the carrier. It holds only where
// processingType2Enabled is set, where an MCS index is a reserved one, where
// unicast and multicast PDSCH share the frequencies, or for an actual repetition
// of PUSCH repetition type B. Ordinary peak schedules need not meet it.
func DataRateCC(limit exact.Ratio, carrier *Scheduled) RateLimit {
	return RateLimit{carrier.AllocationLoad(), limit}
}
