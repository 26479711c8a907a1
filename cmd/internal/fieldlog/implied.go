package fieldlog

import (
	"fmt"
	"math/big"

	"spectally/bands"
	"spectally/cmd/internal/render"
	"spectally/throughput/lte"
	"spectally/throughput/nr"
)

// step is a row of a table of modulations and code rates.
type step struct {
	index, qm int
	rate2048  int64 // code rate times 2048
}

// implied finds what an efficiency in bit/s/Hz, over the bandwidth and the time of a
// direction, asks for at least; see [Analyse].
func (n *network) implied(efficiency *big.Rat, d bands.Direction) *Implied {
	most, qam, nr := n.richest(d)
	steps, source := stepsFor(qam, nr, d)
	if most == 0 || len(steps) == 0 {
		return nil
	}
	out := &Implied{Options: []Scheme{}, Source: source}
	for layers := 1; layers <= most; layers++ {
		best := step{}
		for _, s := range steps {
			if s.bits(layers).Cmp(efficiency) >= 0 && (best.qm == 0 || s.below(best)) {
				best = s
			}
		}
		if best.qm == 0 {
			continue
		}
		scheme := best.scheme(layers)
		out.Options = append(out.Options, scheme)
		if out.Lowest == nil || scheme.Bits < out.Lowest.Bits {
			lowest := scheme
			out.Lowest = &lowest
		}
		if out.Layers == 0 {
			out.Layers = layers
		}
	}
	out.Statement = out.say(efficiency, most, qam)
	return out
}

// richest is the most layers and the largest constellation of the carriers in a
// direction, and whether NR is among them.
func (n *network) richest(d bands.Direction) (layers, qam int, nr bool) {
	for i := range n.rates.Carriers {
		l := n.rates.Carriers[i].Link(d)
		if l.IsZero() {
			continue
		}
		layers, qam = max(layers, l.Layers), max(qam, l.QAM)
		nr = nr || n.assessment.Carriers[i].Band.RAT == bands.NR
	}
	return layers, qam, nr
}

// stepsFor lists the rows of the table that a constellation calls for: the MCS table
// of NR, or the CQI table of LTE where there is no NR carrier.
func stepsFor(qam int, isNR bool, d bands.Direction) ([]step, render.Source) {
	qm := 0
	for ; qam > 1; qam >>= 1 {
		qm++
	}
	var steps []step
	if isNR {
		t, err := nr.MCSTableFor(d, qm)
		if err != nil {
			return nil, render.Source{}
		}
		for _, m := range t.Rows(false) {
			if !m.Reserved() {
				steps = append(steps, step{m.Index, m.Qm, int64(m.Rate2048)})
			}
		}
		return steps, render.Source(t.Source())
	}
	t, err := lte.CQITableFor(qm)
	if err != nil {
		return nil, render.Source{}
	}
	for _, q := range t.Rows() {
		if q.Qm != 0 {
			steps = append(steps, step{q.Index, q.Qm, 2 * int64(q.CodeRate)})
		}
	}
	return steps, render.Source(t.Source())
}

// bits are layers times modulation order times code rate.
func (s step) bits(layers int) *big.Rat { return big.NewRat(int64(layers*s.qm)*s.rate2048, 2048) }

// below tells whether s carries fewer bits than t, or as many with a smaller
// constellation.
func (s step) below(t step) bool {
	a, b := int64(s.qm)*s.rate2048, int64(t.qm)*t.rate2048
	return a < b || a == b && s.qm < t.qm
}

func (s step) scheme(layers int) Scheme {
	bits, _ := s.bits(layers).Float64()
	return Scheme{Layers: layers, QAM: 1 << s.qm, CodeRate: float64(s.rate2048) / 2048, Index: s.index, Bits: bits}
}

func (i *Implied) say(efficiency *big.Rat, most, qam int) string {
	e := efficiency.FloatString(2)
	if i.Layers == 0 {
		return fmt.Sprintf("%s bit/s/Hz is more than %s of %s carry at the highest code rate.", e, counted(most, "layer"), constellation(qam))
	}
	first := i.Options[0]
	s := fmt.Sprintf("%s bit/s/Hz needs %s at least on average, with %s at code rate %.2f", e, counted(first.Layers, "layer"), constellation(first.QAM), first.CodeRate)
	if last := i.Options[len(i.Options)-1]; last.Layers != first.Layers {
		s += fmt.Sprintf("; spread over %s, %s at code rate %.2f", counted(last.Layers, "layer"), constellation(last.QAM), last.CodeRate)
	}
	return s + "."
}

// constellation names a constellation by its size.
func constellation(size int) string {
	switch size {
	case 2:
		return "BPSK"
	case 4:
		return "QPSK"
	}
	return fmt.Sprintf("%dQAM", size)
}
