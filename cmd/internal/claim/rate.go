package claim

import (
	"math/big"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/assumed"
	"spectally/cmd/internal/render"
	"spectally/throughput"
	"spectally/throughput/exact"
)

// Where the figures of a working come from.
var (
	sourceMaximumNR  = render.Source{Spec: "TS 38.306", Version: "19.2.0", Table: "clause 4.1.2"}
	sourceMaximumLTE = render.Source{Spec: "TS 36.213", Version: "19.3.0", Table: "clause 7.1.7"}
	sourceBlocksNR   = render.Source{Spec: "TS 38.214", Version: "19.3.0", Table: "clause 5.1.3.2"}
	sourceUplinkNR   = render.Source{Spec: "TS 38.214", Version: "19.3.0", Table: "clause 6.1.4.2"}
	sourceUplinkLTE  = render.Source{Spec: "TS 36.213", Version: "19.3.0", Table: "clause 8.6.2"}
)

// ceilings are the figures that a rate is held against: only the first decides.
type ceilings struct {
	schedulable, maximum span
	scheduled            *big.Rat
}

// ceilings of a direction; false if they are not known.
func (e *Evidence) ceilings(d bands.Direction) (c ceilings, ok bool) {
	b, ok := e.boundsOf(d)
	if !ok {
		return c, false
	}
	usual := e.usual(d)
	of := func(rate func(*throughput.Rates) exact.Ratio) span {
		s := span{low: mbps(rate(&b.Least)), usual: mbps(rate(usual)), high: mbps(rate(&b.Most))}
		return s
	}
	return ceilings{
		schedulable: of(func(r *throughput.Rates) exact.Ratio { return r.Schedulable }),
		maximum:     of(func(r *throughput.Rates) exact.Ratio { return r.Max }),
		scheduled:   mbps(usual.Scheduled),
	}, true
}

// hasNR tells whether an NR carrier has a part in a rate.
func (e *Evidence) hasNR() bool {
	for i := range e.Assessment.Carriers {
		if e.Assessment.Carriers[i].Band.RAT == bands.NR {
			return true
		}
	}
	return false
}

// rateSources are the clauses of a schedule and of the maximum: those of NR as soon as
// there is an NR carrier, since TS 38.306 adds the part of LTE to it.
func (e *Evidence) rateSources(d bands.Direction) (schedule, maximum render.Source) {
	switch {
	case e.hasNR() && d == bands.Uplink:
		return sourceUplinkNR, sourceMaximumNR
	case e.hasNR():
		return sourceBlocksNR, sourceMaximumNR
	case d == bands.Uplink:
		return sourceUplinkLTE, sourceUplinkLTE
	}
	return sourceMaximumLTE, sourceMaximumLTE
}

// rateTerms writes the rates of the carriers that count as a sum.
func (j *judge) rateTerms(d bands.Direction, of func(*throughput.Rates) exact.Ratio) string {
	return j.terms(func(i int, _ *ca.Placed) string {
		l := j.evidence.Rates.Carriers[i].Link(d)
		if l.IsZero() || !l.Counted {
			return ""
		}
		return trim(mbps(of(&l.Rates)), 3)
	}, " Mbit/s")
}

// readCeiling adds the reading that decides whether carriers can be sent a rate.
func (j *judge) readCeiling(d bands.Direction, meaning string, c *ceilings, b *stated) *Reading {
	return j.readAs("", meaning, c.schedulable, b, "Mbit/s", AtLeast, j.ceilingStep(d))
}

func (j *judge) ceilingStep(d bands.Direction) render.Step {
	source, _ := j.evidence.rateSources(d)
	return render.Step{
		Formula: "sum of the transport blocks of a frame, a second", Source: source,
		Numbers: j.rateTerms(d, func(r *throughput.Rates) exact.Ratio { return r.Schedulable }),
	}
}

// peak judges a peak rate: a network must be able to send at least as much to one
// phone.
func (j *judge) peak() {
	d := j.claim.direction()
	b := statedAs(j.claim.Rate, j.claim.About)
	c, ok := j.evidence.ceilings(d)
	if !ok {
		j.conclude(Undecided, "What the carriers can yield in the ", d.String(), " is not known.")
		j.need("carriers with ", map[bands.Direction]string{bands.Downlink: "a ", bands.Uplink: "an "}[d], d.String())
		return
	}
	r := *j.read("", "the most a network can send", c.schedulable, &b, "Mbit/s", AtLeast, j.ceilingStep(d))
	_, source := j.evidence.rateSources(d)
	j.read("", "what a usual network schedules", exactly(c.scheduled), &b, "Mbit/s", AtLeast, render.Step{
		Formula: "sum of the transport blocks of a frame, a second", Numbers: j.rateTerms(d, func(r *throughput.Rates) exact.Ratio { return r.Scheduled })})
	maximum := *j.read("", "the standard's maximum rate", c.maximum, &b, "Mbit/s", AtLeast, render.Step{
		Formula: "sum of the maximum data rates of the carriers", Numbers: j.rateTerms(d, func(r *throughput.Rates) exact.Ratio { return r.Max }), Source: source})
	j.assume()
	phone := j.evidence.onePhone()
	switch {
	case phone.verdict == Fails:
		j.led(Fails, " ", "for one phone: ", phone.reason, " A network can send at most ", trim(c.schedulable.high, 1), " Mbit/s over all of them, to several phones.")
	case r.Verdict == Fails && maximum.Verdict != Fails:
		j.conclude(Fails, "Only the formula reaches that, ", maximum.rangeText(), ": it counts every symbol and does not discount TDD. A network can send at most ", trim(c.schedulable.high, 1), " Mbit/s.")
	case r.Verdict == Fails && r.Relation == AtLeast || r.Verdict == Fails && r.Relation == MoreThan:
		j.led(Fails, ": ", "a network can send at most ", trim(c.schedulable.high, 1), " Mbit/s", j.whatever(&c.schedulable), ".")
	case r.Verdict == Fails:
		j.led(Fails, ": ", "a network can send ", r.rangeText(), ".")
	case phone.verdict == Undecided:
		j.conclude(Undecided, "The carriers can be sent ", r.rangeText(), ", but ", phone.reason)
		j.need("a configuration of the standard that covers these carriers")
	case r.Verdict == Holds:
		j.holdsAs(&r, phone.as())
		j.quote(&r)
	default:
		reaches := func(rate *big.Rat) bool { return b.meets(r.Relation, rate) }
		j.conclude(Undecided, "It depends on what was left open: ", r.rangeText(), "; a usual network schedules ", trim(c.scheduled, 1), " Mbit/s", j.evidence.plainly(d, reaches), ".")
		j.Needs = append(j.Needs, j.evidence.needs(d, reaches)...)
	}
}

// whatever says that nothing left open would help.
func (j *judge) whatever(s *span) string {
	if s.isExact() {
		return ""
	}
	return ", whatever was left open"
}

// assume takes over what the usual figures rest on.
func (j *judge) assume() {
	j.Assumptions = append(j.Assumptions, j.evidence.Assumptions...)
	if e := j.evidence; e.Rates != nil {
		if text := assumed.Short(e.Rates.Assumptions(), j.claim.direction()); text != "" {
			j.Brief = unite(j.Brief, []string{text + ", for the usual network alone"})
		}
	}
}

// measured judges a rate that is said to have been measured.
func (j *judge) measured() {
	d := j.claim.direction()
	b := statedAs(j.claim.Rate, j.claim.About)
	values := j.evidence.measured(d)
	if len(values) > 0 {
		_, high := extremes(values)
		numbers := listed(values) + " Mbit/s"
		j.read("", "the best run", exactly(high), &b, "Mbit/s", AtLeast, render.Step{Formula: "highest of the runs", Numbers: numbers})
		j.read("", "the median of the runs", exactly(Median(values)), &b, "Mbit/s", AtLeast, render.Step{Formula: "middle of the runs in order", Numbers: numbers})
		j.read("", "the average of the runs", exactly(mean(values)), &b, "Mbit/s", AtLeast, render.Step{Formula: "sum of the runs / number of runs", Numbers: numbers})
	}
	possible := Undecided
	c, known := j.evidence.ceilings(d)
	if known && !j.claim.Relation.below() {
		possible = j.readCeiling(d, "the most a network can send", &c, &b).Verdict
		j.assume()
	}
	switch {
	case possible == Fails:
		j.led(Fails, ": ", "a network can send at most ", trim(c.schedulable.high, 1), " Mbit/s over these carriers", j.whatever(&c.schedulable), ".")
	case len(values) > 0 && j.Readings[0].Holds:
		j.holdsAs(&j.Readings[0])
		j.quote(&j.Readings[0])
	case len(values) > 0:
		j.led(Fails, ": ", "the best run reached ", j.Readings[0].text(), ".")
	case known:
		j.conclude(Undecided, "The carriers can carry that much, but no run shows it.")
		j.need("a run of the test, with --runs")
	default:
		j.conclude(Undecided, "Neither runs nor carriers are given.")
		j.need("a run of the test, with --runs")
	}
}

// share judges a share of the peak against the rate stated with it, else the runs. The
// peak is what a network can send at most; the standard's maximum is another reading.
func (j *judge) share() {
	d := j.claim.direction()
	b := statedAs(j.claim.Share, j.claim.About)
	c, ok := j.evidence.ceilings(d)
	type measure struct {
		name  string
		value *big.Rat
	}
	var measures []measure
	if j.claim.Rate.IsGiven() {
		measures = append(measures, measure{"the rate stated", j.claim.Rate.Rat()})
	} else if values := j.evidence.measured(d); len(values) > 0 {
		_, high := extremes(values)
		measures = append(measures, measure{"the median of the runs", Median(values)}, measure{"the best run", high})
	}
	switch {
	case !ok:
		j.conclude(Undecided, "What the carriers can yield in the ", d.String(), " is not known.")
		j.need("the carriers")
		return
	case len(measures) == 0:
		j.conclude(Undecided, "No measured rate is given.")
		j.need("a run of the test, with --runs")
		return
	}
	schedule, maximum := j.evidence.rateSources(d)
	peaks := []struct {
		meaning string
		rate    span
		source  render.Source
	}{
		{"what a network can send at most", c.schedulable, schedule},
		{"what a usual network schedules", exactly(c.scheduled), schedule},
		{"the standard's maximum rate", c.maximum, maximum},
	}
	for _, m := range measures {
		for _, p := range peaks {
			value := shareOf(m.value, &p.rate)
			j.read("", m.name+" as a share of "+p.meaning, value, &b, "%", Equal,
				render.Step{Formula: "100 * measured / peak", Numbers: "100 * " + trim(m.value, 3) + " / " + trim(p.rate.usual, 3), Source: p.source})
		}
	}
	j.assume()
	r, holding := &j.Readings[0], j.first(Holds)
	switch {
	case r.Holds:
		j.holdsAs(r)
		j.quote(r)
	case r.Verdict == Undecided || holding != nil || j.first(Undecided) != nil:
		j.conclude(Undecided, sentence(r.Meaning), " is ", r.rangeText(), j.alsoHolding(holding), ".")
		if r.Verdict == Undecided {
			j.need(j.evidence.openOf(d))
		} else {
			j.need("the statement to say which peak and which run it means")
		}
	default:
		j.led(Fails, " ", "under every reading: ", r.Meaning, " is ", r.rangeText(), ".")
	}
}

// shareOf is a measured rate as a share of a peak, in per cent. What was measured was
// sent: a peak below it is none, however much was left open.
func shareOf(measured *big.Rat, peak *span) span {
	hundred := big.NewRat(100, 1)
	share := func(peak *big.Rat) *big.Rat {
		if peak.Sign() == 0 {
			return hundred
		}
		return new(big.Rat).Quo(new(big.Rat).Mul(measured, hundred), peak)
	}
	s := peak.each(share)
	if s.high.Cmp(hundred) > 0 {
		s.high = hundred
		if s.low.Cmp(hundred) > 0 {
			s.high = s.low
		}
	}
	return s
}

// alsoHolding names another reading that holds.
func (j *judge) alsoHolding(r *Reading) string {
	if r == nil {
		return ""
	}
	return "; only " + r.Meaning + " is " + r.text()
}

// sentence begins a sentence with a meaning.
func sentence(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return string(s[0]-'a'+'A') + s[1:]
}
