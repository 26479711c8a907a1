package fieldlog

import (
	"fmt"
	"math/big"
	"sort"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/render"
	"spectally/throughput"
	"spectally/throughput/exact"
	"spectally/throughput/lte"
	"spectally/throughput/nr"
)

// step is a row of a table of modulations and code rates.
type step struct {
	index, qm int
	rate2048  int // code rate times 2048
	source    render.Source
}

// implied finds what a rate in Mbit/s asks of the carriers in a direction; see [Analyse].
func (n *network) implied(rate, efficiency *big.Rat, d bands.Direction) *Implied {
	most, order, isNR := n.richest(d)
	if most == 0 {
		return nil
	}
	out := &Implied{Options: []Scheme{}, Leanest: []Scheme{}}
	for layers := 1; layers <= most; layers++ {
		for _, by := range [...]struct {
			list   *[]Scheme
			figure func(throughput.Rates) exact.Ratio
		}{
			{&out.Options, func(r throughput.Rates) exact.Ratio { return r.Scheduled }},
			{&out.Leanest, func(r throughput.Rates) exact.Ratio { return r.Schedulable }},
		} {
			s, ok := least(order, isNR, d, func(qm, rate2048 int) bool {
				sum := by.figure(n.within(throughput.Format{Layers: layers, Qm: qm, Rate2048: rate2048}, d))
				return !sum.IsZero() && mbpsRat(sum).Cmp(rate) >= 0
			})
			if ok {
				*by.list = append(*by.list, s.scheme(layers))
			}
		}
	}
	if len(out.Leanest) > 0 {
		out.Layers = out.Leanest[0].Layers
	}
	for i := range out.Options {
		if s := out.Options[i]; out.Lowest == nil || s.Bits < out.Lowest.Bits {
			out.Lowest = &s
		}
	}
	if steps := stepsOf(order, isNR, d); len(steps) > 0 {
		out.Source = steps[0].source
	}
	out.Statement = out.say(efficiency, most, 1<<order)
	return out
}

// within is what the carriers yield in a format, which several measurements ask about.
func (n *network) within(f throughput.Format, d bands.Direction) throughput.Rates {
	r, known := n.formats[f]
	if !known {
		if within, err := n.rates.Within(f); err == nil {
			r = within
		}
		if n.formats == nil {
			n.formats = make(map[throughput.Format]*throughput.Result)
		}
		n.formats[f] = r
	}
	if r == nil {
		return throughput.Rates{}
	}
	return r.Sum(d)
}

// least is the row of the smallest constellation that reaches a rate with the lowest code
// rate; false if none does. A code rate of 0 is the highest of the constellation.
func least(order int, isNR bool, d bands.Direction, reaches func(qm, rate2048 int) bool) (step, bool) {
	for qm := min(2, order); qm <= order; qm++ {
		steps := stepsOf(qm, isNR, d)
		if len(steps) == 0 || !reaches(qm, 0) {
			continue
		}
		last := len(steps) - 1 // known to reach it
		return steps[sort.Search(last, func(i int) bool { return reaches(qm, steps[i].rate2048) })], true
	}
	return step{}, false
}

// richest is the most layers and the highest modulation order of the carriers in a
// direction, and whether NR is among them.
func (n *network) richest(d bands.Direction) (layers, order int, nr bool) {
	for i := range n.rates.Carriers {
		l := n.rates.Carriers[i].Link(d)
		if l.IsZero() {
			continue
		}
		layers, order = max(layers, l.Layers), max(order, l.Qm())
		nr = nr || n.assessment.Carriers[i].Band.RAT == bands.NR
	}
	return layers, order, nr
}

// stepsOf lists the rows of a modulation, those with the lowest code rate first: of the
// MCS table of NR that reaches it, or of the CQI table of LTE where there is no NR carrier.
func stepsOf(qm int, isNR bool, d bands.Direction) []step {
	var steps []step
	if isNR {
		t, err := nr.MCSTableFor(d, qm)
		if err != nil {
			return nil
		}
		for _, m := range t.Rows(qm == 1) {
			if m.Qm == qm && !m.Reserved() {
				steps = append(steps, step{m.Index, qm, m.Rate2048, render.Source(t.Source())})
			}
		}
		return steps
	}
	t, err := lte.CQITableFor(qm)
	if err != nil {
		return nil
	}
	for _, q := range t.Rows() {
		if q.Qm == qm {
			steps = append(steps, step{q.Index, qm, 2 * q.CodeRate, render.Source(t.Source())})
		}
	}
	return steps
}

func (s step) scheme(layers int) Scheme {
	bits, _ := big.NewRat(int64(layers*s.qm*s.rate2048), 2048).Float64()
	return Scheme{Layers: layers, QAM: 1 << s.qm, CodeRate: float64(s.rate2048) / 2048, Index: s.index, Bits: bits, Table: s.source.Table}
}

func (i *Implied) say(efficiency *big.Rat, most, qam int) string {
	e := efficiency.FloatString(2) + " bit/s/Hz"
	usual, leanest := ways(i.Options), "at least "+ways(i.Leanest)
	switch {
	case len(i.Leanest) == 0:
		return fmt.Sprintf("%s is more than %s of %s can carry here.", e, counted(most, "layer"), constellation(qam))
	case usual == "":
		return e + " takes " + leanest + " and leaner signals than a usual network has."
	case usual == ways(i.Leanest):
		return e + " takes " + leanest + "."
	}
	return e + " takes " + usual + " in a usual schedule; " + leanest + " with the leanest signals."
}

// ways names schemes, those with more layers where their constellation is smaller.
func ways(list []Scheme) string {
	var texts []string
	for n, o := range list {
		if n == 0 || o.QAM < list[n-1].QAM {
			texts = append(texts, fmt.Sprintf("%s of %s at code rate %.2f", counted(o.Layers, "layer"), constellation(o.QAM), o.CodeRate))
		}
	}
	return strings.Join(texts, " or ")
}

// constellation names a constellation by its size.
func constellation(size int) string {
	switch size {
	case 2:
		return "pi/2-BPSK"
	case 4:
		return "QPSK"
	}
	return fmt.Sprintf("%dQAM", size)
}
