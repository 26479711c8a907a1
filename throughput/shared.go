package throughput

import (
	"spectally/bands"
	"spectally/throughput/exact"
)

// SharedRates is what the carriers of LTE and NR that lie in the same spectrum cannot send
// beside each other in a direction: they take turns there, so that of both the one that
// sends more on it has all of the time. The sums leave it out.
func (r *Result) SharedRates(d bands.Direction) Rates {
	var lost Rates
	for i := range r.Carriers {
		for j := range i {
			a, b := r.Carriers[i].Link(d), r.Carriers[j].Link(d)
			if !a.Counted || !b.Counted || a.IsZero() || b.IsZero() {
				continue
			}
			shared := r.assessment.SharedWidth(i, j, d)
			if shared <= 0 {
				continue
			}
			less := func(of func(*Rates) exact.Ratio) exact.Ratio {
				x := of(&a.Rates).Mul(exact.Of(int64(shared), int64(a.Width)))
				if y := of(&b.Rates).Mul(exact.Of(int64(shared), int64(b.Width))); y.Cmp(x) < 0 {
					return y
				}
				return x
			}
			lost = lost.Add(Rates{
				less(func(r *Rates) exact.Ratio { return r.Max }), less(func(r *Rates) exact.Ratio { return r.Schedulable }),
				less(func(r *Rates) exact.Ratio { return r.Scheduled }), less(func(r *Rates) exact.Ratio { return r.Expected }),
			})
		}
	}
	return lost
}

func (r Rates) sub(s Rates) Rates {
	return Rates{r.Max.Sub(s.Max), r.Schedulable.Sub(s.Schedulable), r.Scheduled.Sub(s.Scheduled), r.Expected.Sub(s.Expected)}
}
