package throughput

import (
	"fmt"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/clauses"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
	"spectally/throughput/lte"
)

// lteMaximum adds the largest transport blocks of 1 ms up.
func (k *peak) lteMaximum(i int, d bands.Direction, name string) render.Step {
	l := k.taken.Carriers[i].Link(d)
	step := render.Step{
		Name:    name + ": maximum data rate",
		Formula: "R = largest transport blocks of the codewords / 1 ms",
		Result:  string(figures.Mbps(l.Max)) + " Mbit/s",
		Source:  clauses.OfLTE(d),
	}
	block, err := lte.LargestBlock(d, l.Qm(), l.Layers, l.ResourceBlocks)
	if err != nil {
		return step // Rate has reported it
	}
	step.Numbers = fmt.Sprintf("(%s) / 1 ms on %d resource blocks", lteTerms(block.Blocks[:]), block.PRB)
	return step
}

// lteTerms writes the blocks of codewords as a sum: "75376 (I_TBS 26, MCS 28) + …".
func lteTerms(blocks []lte.Block) string {
	var terms []string
	for i := range blocks {
		b := &blocks[i]
		if b.Layers == 0 {
			continue
		}
		terms = append(terms, fmt.Sprintf("%d [MCS %d, I_TBS %s, %s]", b.Bits, b.MCS, b.ITBS, words.Counted(b.Layers, "layer")))
	}
	return strings.Join(terms, " + ")
}

// lteSchedule shows what the subframes of a frame carry, those alike together.
func (k *peak) lteSchedule(i int, d bands.Direction, name string) (render.Working, error) {
	s, err := k.taken.LTESchedule(i, d)
	if err != nil {
		return nil, err
	}
	var steps render.Working
	var terms []string
	for n := range s.Subframes {
		sub := &s.Subframes[n]
		alike := subframesLike(s, n)
		if sub.Bits == 0 || alike[0] != n {
			continue
		}
		rates := make([]string, 0, 2)
		for c := range sub.Blocks {
			if rate := sub.Blocks[c].CodeRate(); rate != nil {
				rates = append(rates, rate.FloatString(3))
			}
		}
		step := render.Step{
			Name: fmt.Sprintf("%s, %s: transport blocks", name, subframeWords(alike)),
			Formula: fmt.Sprintf("largest blocks with (TBS + 24) / channel bits ≤ 0.932 in the %d resource elements of %d resource blocks that are left for data",
				sub.Elements, sub.PRB),
			Numbers: lteTerms(sub.Blocks[:]) + ", code rate " + words.And(rates),
			Result:  strconv.Itoa(sub.Bits) + " bits",
			Source:  clauses.LTEMCS,
		}
		if sub.Column != sub.PRB {
			step.Formula += fmt.Sprintf(", column n_prb = %d of the size table (special subframe)", sub.Column)
		}
		steps = append(steps, step)
		terms = append(terms, fmt.Sprintf("%d × %d", len(alike), sub.Bits))
	}
	if len(terms) == 0 {
		terms = []string{"0"}
	}
	structure := "R = sum over the subframes / 10 ms, frame structure " + s.Cell.Frame.String()
	if d == bands.Downlink {
		structure += ", " + words.Counted(s.Cell.ControlSymbols, "control symbol") + ", CRS of " + words.Counted(s.Cell.CRSPorts, "port")
	} else {
		structure += ", " + words.Counted(s.Cell.PUCCH, "resource block") + " of PUCCH"
	}
	return append(steps, render.Step{
		Name:    name + ": scheduled",
		Formula: structure,
		Numbers: "(" + strings.Join(terms, " + ") + ") / 10 ms",
		Result:  string(figures.Mbps(s.Rate())) + " Mbit/s",
		Source:  clauses.OfLTE(d),
	}), nil
}

// subframesLike lists the subframes that carry the same as one of them.
func subframesLike(s *lte.Schedule, n int) []int {
	var list []int
	for m := range s.Subframes {
		if s.Subframes[m] == s.Subframes[n] {
			list = append(list, m)
		}
	}
	return list
}

func subframeWords(list []int) string {
	if len(list) == 1 {
		return "subframe " + strconv.Itoa(list[0])
	}
	return "subframes " + figures.List(list, ", ")
}
