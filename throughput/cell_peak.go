package throughput

import (
	"spectally/bands"
	"spectally/throughput/exact"
	"spectally/throughput/lte"
	"spectally/throughput/nr"
)

// nrOrthogonalLayers is how many layers can have DM-RS ports of their own with
// configuration type 1 (TS 38.211 clause 7.4.1.1.2); beyond, ports are used again
// with another scrambling.
const nrOrthogonalLayers = 8

// CellPeak is the peak of carrier i, counted from 0, with a number of layers in the air
// at once: as many phones as fit, each with the layers of one phone, and one with the
// rest. The DM-RS of NR leave room for the layers of all; where fewer layers carry more
// for it, that holds. The result must have been scheduled ([Result.Schedule]).
func (r *Result) CellPeak(i int, d bands.Direction, layers int) (Rates, error) {
	l := r.Carriers[i].Link(d)
	if l.IsZero() {
		return Rates{}, nil
	}
	peak, err := r.sharedPeak(i, d, layers)
	if err != nil || layers <= singleDMRSLayers || l.Layers > singleDMRSLayers || r.assessment.Carriers[i].Band.RAT != bands.NR {
		return peak, err
	}
	fewer, err := r.sharedPeak(i, d, singleDMRSLayers)
	if fewer.Scheduled.Cmp(peak.Scheduled) > 0 {
		peak.Scheduled = fewer.Scheduled
	}
	if fewer.Schedulable.Cmp(peak.Schedulable) > 0 {
		peak.Schedulable = fewer.Schedulable
	}
	return peak, err
}

// singleDMRSLayers is how many layers single-symbol DM-RS of type 1 hold.
const singleDMRSLayers = 4

func (r *Result) sharedPeak(i int, d bands.Direction, layers int) (Rates, error) {
	l := r.Carriers[i].Link(d)
	phones, rest := layers/l.Layers, layers%l.Layers
	var sum Rates
	for _, part := range [...]struct{ phones, layers int }{{phones, l.Layers}, {1, rest}} {
		if part.layers == 0 || part.phones == 0 {
			continue
		}
		one, err := r.phonePeak(i, d, part.layers, layers)
		if err != nil {
			return Rates{}, err
		}
		n := exact.Whole(int64(part.phones))
		sum = sum.Add(Rates{Max: one.Max.Mul(n), Schedulable: one.Schedulable.Mul(n), Scheduled: one.Scheduled.Mul(n)})
	}
	return sum, nil
}

// phonePeak is the peak of one phone with some of the layers that are in the air.
func (r *Result) phonePeak(i int, d bands.Direction, layers, all int) (Rates, error) {
	p, l := &r.assessment.Carriers[i], r.Carriers[i].Link(d)
	if layers == all && layers == l.Layers {
		return Rates{Max: l.Max, Schedulable: l.Schedulable, Scheduled: l.Scheduled}, nil
	}
	if p.Band.RAT == bands.LTE {
		return r.ltePhonePeak(i, d, layers)
	}
	carrier := l.nr(p, d)
	carrier.Layers = layers
	s, err := nr.NewSchedule(carrier, r.Carriers[i].Frame.Pattern)
	if err != nil {
		return Rates{}, err
	}
	orthogonal := min(all, nrOrthogonalLayers)
	dmrs := nr.DefaultDMRS(d, orthogonal)
	if dmrs.Groups, err = dmrs.CDMGroups(orthogonal); err != nil {
		return Rates{}, err
	}
	if err := r.settings.Signals.Apply(&carrier, &dmrs, &s); err != nil {
		return Rates{}, err
	}
	done, err := s.Schedule()
	if err != nil {
		return Rates{}, err
	}
	most, err := s.Ceiling()
	return Rates{Max: s.Limit, Schedulable: most, Scheduled: done.Rate().Mul(r.airtime(i))}, err
}

func (r *Result) ltePhonePeak(i int, d bands.Direction, layers int) (Rates, error) {
	l := *r.Carriers[i].Link(d)
	if layers == l.Layers {
		return Rates{Max: l.Max, Schedulable: l.Schedulable, Scheduled: l.Scheduled}, nil
	}
	l.Layers = layers
	limit, err := l.lteMax(d)
	if err != nil {
		return Rates{}, err
	}
	cell := lte.Cell{RB: l.ResourceBlocks, Frame: r.Carriers[i].Frame.LTE}
	s, err := r.lteCell(i, &l).Schedule(d, l.Qm(), layers)
	if err != nil {
		return Rates{}, err
	}
	most, err := cell.Leanest(layers).Schedule(d, l.Qm(), layers)
	if err != nil {
		return Rates{}, err
	}
	return Rates{Max: limit, Schedulable: most.Rate(), Scheduled: s.Rate().Mul(r.airtime(i))}, nil
}
