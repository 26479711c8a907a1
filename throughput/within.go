package throughput

import (
	"slices"

	"spectally/bands"
	"spectally/throughput/nr"
)

// Format is a number of layers with a modulation and a code rate.
type Format struct {
	Layers   int
	Qm       int // modulation order: bits of a modulation symbol
	Rate2048 int // code rate times 2048; 0 is the highest that the modulation has
}

// Within works out what could be scheduled if no link had more layers or a higher
// modulation order than the format, and those of its modulation no higher code rate. What
// a UE has to handle (DataRate of TS 38.214 clauses 5.1.3 and 6.1.4) stays as it is. The
// result must have been scheduled ([Result.Schedule]).
func (r *Result) Within(f Format) (*Result, error) {
	held := *r
	held.Carriers, held.within = slices.Clone(r.Carriers), &f
	for i := range held.Carriers {
		for _, d := range [...]bands.Direction{bands.Downlink, bands.Uplink} {
			if l := held.Carriers[i].Link(d); !l.IsZero() {
				l.Layers, l.QAM = min(l.Layers, f.Layers), min(l.QAM, 1<<f.Qm)
			}
		}
	}
	return &held, held.Schedule(r.settings)
}

// hold keeps the schedule of a link within a format.
func (f *Format) hold(l *Link, s *nr.Schedule) {
	s.Limit = l.Max
	if f.Rate2048 == 0 || l.Qm() != f.Qm {
		return
	}
	for _, m := range s.MCS.Table.Rows(f.Qm == 1) {
		if m.Qm == f.Qm && m.Rate2048 == f.Rate2048 {
			s.MCS = m
		}
	}
}

// codeRate is the highest code rate times 2048 that a block of a link of LTE may have; 0
// where only the standard bounds it.
func (f *Format) codeRate(l *Link) int {
	if f == nil || l.Qm() != f.Qm {
		return 0
	}
	return f.Rate2048
}
