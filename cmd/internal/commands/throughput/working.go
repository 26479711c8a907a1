package throughput

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/blocksteps"
	"spectally/cmd/internal/clauses"
	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
	"spectally/throughput"
	"spectally/throughput/exact"
	"spectally/throughput/nr"
)

// working shows how the rates of every carrier came about.
func (k *peak) working() render.Working {
	var steps render.Working
	for i := range k.count() {
		for _, d := range directions {
			l := k.taken.Carriers[i].Link(d)
			if l.IsZero() {
				continue
			}
			name := fmt.Sprintf("carrier %d (%s) %s", k.number(i), combination.Bare(&k.carriers.Carriers[i]), d)
			var more render.Working
			var err error
			if k.carriers.Carriers[i].Band.RAT == bands.NR {
				steps = append(steps, k.nrMaximum(i, d, name))
				more, err = k.nrSchedule(i, d, name)
			} else {
				steps = append(steps, k.lteMaximum(i, d, name))
				more, err = k.lteSchedule(i, d, name)
			}
			if err != nil {
				panic(err) // the rates have come of the same schedules
			}
			steps = append(steps, more...)
		}
		if q, ok := k.taken.Quality(i); ok {
			steps = append(steps, k.qualityStep(i, &q))
		}
	}
	if k.count() > 1 {
		for _, d := range directions {
			steps = append(steps, k.sumStep(d))
		}
	}
	return steps
}

// nrMaximum is the formula of TS 38.306 with its numbers.
func (k *peak) nrMaximum(i int, d bands.Direction, name string) render.Step {
	l := k.taken.Carriers[i].Link(d)
	oh := nr.Overhead(k.carriers.Carriers[i].Info.Range, d)
	mu := 0
	if n, err := nr.NumerologyOf(l.SCS); err == nil {
		mu = n.Mu
	}
	return render.Step{
		Name:    name + ": maximum data rate",
		Formula: "R = v × Qm × f × R_max × 12 × N_PRB / T_s × (1 − OH)",
		Numbers: fmt.Sprintf("%d × %d × %s × 948/1024 × 12 × %d / (1 ms / (14 × 2^%d)) × (1 − %s)", l.Layers, l.Qm(), combination.Scaling(l), l.ResourceBlocks, mu, figures.Decimals(oh, 1, 2)),
		Result:  string(figures.Mbps(l.Max)) + " Mbit/s",
		Source:  clauses.MaxRate,
	}
}

// nrSchedule shows the slots of the period, the transport block of each kind of them,
// and their sum.
func (k *peak) nrSchedule(i int, d bands.Direction, name string) (render.Working, error) {
	plan, err := k.taken.NRPlan(i, d)
	if err != nil {
		return nil, err
	}
	s, err := plan.Schedule()
	if err != nil {
		return nil, err
	}
	steps := render.Working{nrSlotStep(name, &plan, &s)}
	var terms []string
	for n := range s.Kinds() {
		kind := &s.Kinds()[n]
		where := fmt.Sprintf("%s, %s of %d symbols", name, slotWord(kind), kind.Symbols)
		steps = append(steps, dmrsStep(where, &plan, kind))
		if kind.Codewords == 0 {
			continue
		}
		for _, c := range blocksteps.Codewords(kind.Blocks, kind.Codewords) {
			b := &kind.Blocks[c.Index]
			a := nr.Allocation{PRB: kind.PRB, Symbols: kind.Symbols, DMRSRE: kind.DMRSRE, XOverhead: plan.XOverhead,
				Layers: b.Layers, Qm: plan.MCS.Qm, Rate2048: plan.MCS.Rate2048}
			steps = append(steps, blocksteps.Of(where+c.Label, &a, b, d)...)
			terms = append(terms, fmt.Sprintf("%d × %d", kind.Sent*c.Times, b.TBS))
		}
	}
	if len(terms) == 0 {
		terms = []string{"0"}
	} else {
		steps = append(steps, dataRateSteps(name, &plan, &s)...)
	}
	return append(steps, render.Step{
		Name:    name + ": scheduled",
		Formula: "R = sum over the slots of TBS / period",
		Numbers: "(" + strings.Join(terms, " + ") + ") / " + strconv.Itoa(10*s.Frames) + " ms",
		Result:  string(figures.Mbps(s.Rate())) + " Mbit/s",
		Source:  clauses.OfNR(d),
	}), nil
}

// dataRateSteps compares the heaviest slot with the data rates that a UE has to
// handle.
func dataRateSteps(name string, plan *nr.Schedule, s *nr.Scheduled) render.Working {
	source := render.Source{Spec: clauses.PDSCH.Spec, Version: clauses.PDSCH.Version, Table: "clause 5.1.3"}
	if plan.Direction == bands.Uplink {
		source.Table = "clause 6.1.4"
	}
	compare := func(l nr.RateLimit) string {
		if l.Holds() {
			return "holds"
		}
		return "does not hold"
	}
	slot, alone := nr.DataRate(plan.Limit, s), nr.DataRateCC(plan.Limit, s)
	return render.Working{{
		Name:    name + ": heaviest slot against DataRate",
		Formula: "sum of C × floor(TBS / C) over the codewords / length of the slot ≤ DataRate",
		Numbers: string(figures.Mbps(slot.Load)) + " Mbit/s ≤ " + string(figures.Mbps(slot.Limit)) + " Mbit/s",
		Result:  compare(slot),
		Source:  source,
	}, {
		Name:    name + ": heaviest allocation against DataRateCC",
		Formula: "sum of C × floor(TBS / C) over the codewords / length of the allocation ≤ DataRateCC",
		Numbers: string(figures.Mbps(alone.Load)) + " Mbit/s ≤ " + string(figures.Mbps(alone.Limit)) + " Mbit/s",
		Result:  compare(alone) + "; asked for only with processing type 2, reserved MCS indices and repetition type B",
		Source:  source,
	}}
}

func slotWord(k *nr.SlotKind) string {
	if k.Special {
		return "special slots"
	}
	return "slots"
}

// nrSlotStep counts the slots of the period by kind.
func nrSlotStep(name string, plan *nr.Schedule, s *nr.Scheduled) render.Step {
	pattern := "no TDD pattern"
	if !plan.Pattern.IsZero() {
		pattern = plan.Pattern.String()
	}
	var kinds []string
	for n := range s.Kinds() {
		k := &s.Kinds()[n]
		text := fmt.Sprintf("%d %s of %d symbols on %d resource blocks", k.Slots, slotWord(k), k.Symbols, k.PRB)
		if k.Limited {
			text += " (fewer than there are, so that DataRate is kept)"
		}
		kinds = append(kinds, text)
	}
	step := render.Step{
		Name:    name + ": slots with data",
		Formula: fmt.Sprintf("slots in %d ms at %s, %s", 10*s.Frames, plan.SCS, pattern),
		Result:  words.And(kinds),
		Source:  clauses.TDDPattern,
	}
	if len(kinds) == 0 {
		step.Result = "none"
	}
	var without []string
	if plan.ControlSymbols > 0 {
		without = append(without, words.Counted(plan.ControlSymbols, "symbol")+" of each for control")
	}
	if plan.ControlBlocks > 0 {
		without = append(without, words.Counted(plan.ControlBlocks, "resource block")+" of each for control")
	}
	if n := plan.LeftOut.Len(); n > 0 {
		without = append(without, "slot "+plan.LeftOut.String()+" for synchronisation and broadcast")
	}
	if plan.SoundingSlots > 0 && plan.SoundingSymbols > 0 {
		without = append(without, fmt.Sprintf("%s of %s for sounding", words.Counted(plan.SoundingSymbols, "symbol"), words.Counted(plan.SoundingSlots, "slot")))
	}
	if plan.FullSlotsOnly && !plan.Pattern.IsZero() {
		without = append(without, "the special slots")
	}
	if len(without) > 0 {
		step.Numbers = "all of the direction, without " + words.And(without)
	}
	return step
}

// dmrsStep counts the resource elements of demodulation reference signals.
func dmrsStep(name string, plan *nr.Schedule, kind *nr.SlotKind) render.Step {
	step := render.Step{Name: name + ": DM-RS in a resource block", Source: render.Source(plan.DMRS.Source(plan.Direction)), Formula: "N_DMRS = DM-RS symbols × CDM groups without data × elements of a group"}
	groups, err := plan.DMRS.CDMGroups(plan.Layers)
	each := plan.DMRS.RE(1, 1)
	if err != nil || groups*each == 0 {
		return step // Schedule has reported it
	}
	step.Numbers = fmt.Sprintf("%d × %d × %d (%s)", kind.DMRSRE/(groups*each), groups, each, plan.DMRS)
	step.Result = strconv.Itoa(kind.DMRSRE)
	if kind.DMRSRE == 0 {
		step.Numbers, step.Result = "", "none fits: the slots carry nothing"
	}
	return step
}

// qualityStep shows how the signal leads to a rate.
func (k *peak) qualityStep(i int, q *throughput.Quality) render.Step {
	l := &k.taken.Carriers[i].Downlink
	share := k.taken.Carriers[i].Frame.Share(bands.Downlink)
	step := render.Step{
		Name:    fmt.Sprintf("carrier %d (%s) downlink: expected", k.number(i), combination.Bare(&k.carriers.Carriers[i])),
		Formula: fmt.Sprintf("R = min(%s × log2(1 + SINR), %s) × layers × width × downlink share of time", figures.Exact(q.Curve.Alpha), figures.Exact(q.Curve.MaxEfficiency)),
		Numbers: fmt.Sprintf("%s bit/s/Hz at %s dB × %d × %s MHz × %s", strconv.FormatFloat(q.Efficiency, 'f', 4, 64), figures.Decibels(q.SINR), l.Layers, l.Width.MHz(), share),
		Result:  string(figures.Mbps(q.Rate)) + " Mbit/s",
		Source:  render.Source(q.Curve.Source),
	}
	if q.Capped {
		step.Result += ", the scheduled rate, which is lower"
	}
	return step
}

// sumStep adds the carriers of a direction up.
func (k *peak) sumStep(d bands.Direction) render.Step {
	var highest, sent []string
	for i := range k.taken.Carriers {
		if l := k.taken.Carriers[i].Link(d); l.Counted {
			scheduled := l.Scheduled
			if d == bands.Uplink && slices.Contains(k.taken.InTurn(), i) {
				scheduled = k.taken.InTurnRates().Scheduled
			}
			highest, sent = append(highest, string(figures.Mbps(l.Max))), append(sent, string(figures.Mbps(scheduled)))
		}
	}
	sums, _ := k.sums(d)
	step := render.Step{Name: d.String() + " of all carriers", Formula: "maximum and scheduled rate, each summed over the carriers", Source: clauses.MaxRate,
		Result: string(figures.Mbps(sums.Max)) + " and " + string(figures.Mbps(sums.Scheduled)) + " Mbit/s"}
	if len(highest) > 0 {
		less := func(r exact.Ratio) string {
			if r.Num == 0 {
				return ""
			}
			return " − " + string(figures.Mbps(r)) + " on shared spectrum"
		}
		lost := k.taken.SharedRates(d)
		step.Numbers = strings.Join(highest, " + ") + less(lost.Max) + " and " + strings.Join(sent, " + ") + less(lost.Scheduled)
	}
	return step
}
