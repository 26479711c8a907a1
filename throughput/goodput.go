package throughput

import (
	"spectally/bands"
	"spectally/throughput/exact"
)

// BlockRate is the number of new transport blocks in a second on carrier i, counted
// from 0, in a direction, as [Result.Schedule] has them sent.
func (r *Result) BlockRate(i int, d bands.Direction) (exact.Ratio, error) {
	if r.Carriers[i].Link(d).IsZero() {
		return exact.Whole(0), nil
	}
	if r.assessment.Carriers[i].Band.RAT == bands.LTE {
		s, err := r.LTESchedule(i, d)
		if err != nil {
			return exact.Ratio{}, err
		}
		n := int64(0)
		for j := range s.Subframes {
			for _, b := range s.Subframes[j].Blocks {
				if b.Bits > 0 {
					n++
				}
			}
		}
		return exact.Whole(n * 100).Mul(r.airtime(i)), nil
	}
	plan, err := r.NRPlan(i, d)
	if err != nil {
		return exact.Ratio{}, err
	}
	s, err := plan.Schedule()
	return s.BlockRate().Mul(r.airtime(i)), err
}

// Goodput takes the scheduled rate of carrier i, counted from 0, down to IP packets
// and TCP payload. nr and lte are the headers of the two technologies.
func (r *Result) Goodput(i int, d bands.Direction, nr, lte *PacketHeaders) (Goodput, error) {
	h := nr
	if r.assessment.Carriers[i].Band.RAT == bands.LTE {
		h = lte
	}
	blocks, err := r.BlockRate(i, d)
	if err != nil {
		return Goodput{}, err
	}
	return h.Goodput(r.Carriers[i].Link(d).Scheduled, blocks)
}

// GoodputSum adds up the goodput of the links of a direction that count.
func (r *Result) GoodputSum(d bands.Direction, nr, lte *PacketHeaders) (Goodput, error) {
	sum := Goodput{exact.Whole(0), exact.Whole(0)}
	for i := range r.Carriers {
		if !r.Carriers[i].Link(d).Counted {
			continue
		}
		g, err := r.Goodput(i, d, nr, lte)
		if err != nil {
			return Goodput{}, err
		}
		sum.IP, sum.TCP = sum.IP.Add(g.IP), sum.TCP.Add(g.TCP)
	}
	return sum, nil
}
