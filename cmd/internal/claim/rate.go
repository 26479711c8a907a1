package claim

import (
	"math/big"

	"spectally/bands"
	"spectally/cmd/internal/render"
	"spectally/throughput"
)

// peakReading is a ceiling as a claim can mean it.
type peakReading struct {
	meaning string
	rate    *big.Rat // Mbit/s
	formula string
	numbers string
	source  render.Source
}

// peaks lists the ceilings of a direction; none if they are not known.
func (j *judge) peaks(d bands.Direction) []peakReading {
	rates, ok := j.evidence.ceilings(d)
	if !ok {
		return nil
	}
	source, formula := j.rateSource()
	list := []peakReading{{
		meaning: "the standard's maximum rate", rate: mbps(rates.Max), source: source, formula: formula,
		numbers: j.terms(d, func(r *throughput.Rates) throughput.Ratio { return r.Max }),
	}}
	if !rates.Scheduled.IsZero() {
		list = append(list, peakReading{
			meaning: "what a scheduler can send", rate: mbps(rates.Scheduled), source: sourceBlocksNR, formula: "sum of the transport blocks of a frame, a second",
			numbers: j.terms(d, func(r *throughput.Rates) throughput.Ratio { return r.Scheduled }),
		})
	}
	return list
}

// rateSource is the clause of the maximum: that of NR as soon as there is an NR
// carrier, since TS 38.306 adds the part of LTE to it.
func (j *judge) rateSource() (render.Source, string) {
	for i := range j.evidence.Assessment.Carriers {
		if j.evidence.Assessment.Carriers[i].Band.RAT == bands.NR {
			return sourceMaximumNR, "sum of the maximum data rates of the carriers"
		}
	}
	return sourceMaximumLTE, "sum of the largest transport blocks of 1 ms"
}

// terms writes the rates of the carriers that count as a sum.
func (j *judge) terms(d bands.Direction, of func(*throughput.Rates) throughput.Ratio) string {
	s := ""
	for i := range j.evidence.Rates.Carriers {
		l := j.evidence.Rates.Carriers[i].Link(d)
		if l.IsZero() || !l.Counted {
			continue
		}
		if s != "" {
			s += " + "
		}
		s += trim(mbps(of(&l.Rates)), 3)
	}
	return s + " Mbit/s"
}

// peak judges a peak rate: the carriers have to yield at least as much.
func (j *judge) peak() {
	d := j.claim.direction()
	b := boundsOf(j.claim.Rate, j.claim.About)
	j.Tolerance = b.tolerance("Mbit/s", j.claim.About)
	peaks := j.peaks(d)
	if len(peaks) == 0 {
		j.conclude(Undecided, "What the carriers can yield in the ", d.String(), " is not known.")
		return
	}
	for _, p := range peaks {
		j.read(p.meaning, p.rate, &b, "Mbit/s", AtLeast, render.Step{Formula: p.formula, Numbers: p.numbers, Source: p.source})
	}
	j.assume()
	r := j.firstHolding()
	switch {
	case r == nil:
		j.conclude(Fails, "Fails: the carriers yield at most ", j.Readings[0].text(), " with the layers and the modulation taken here.")
	case len(j.Readings) > 1 && !j.Readings[1].Holds:
		j.holdsAs(r, " No scheduler can send that much: at most "+j.Readings[1].text()+".")
	default:
		j.holdsAs(r, "")
	}
}

// measured judges a rate that is said to have been measured.
func (j *judge) measured() {
	d := j.claim.direction()
	b := boundsOf(j.claim.Rate, j.claim.About)
	j.Tolerance = b.tolerance("Mbit/s", j.claim.About)
	values := j.evidence.measured(d)
	reached := false
	if len(values) > 0 {
		_, high := extremes(values)
		numbers := listed(values) + " Mbit/s"
		median := j.read("the median of the runs", Median(values), &b, "Mbit/s", AtLeast, render.Step{Formula: "middle of the runs in order", Numbers: numbers}).Holds
		highest := j.read("the best run", high, &b, "Mbit/s", AtLeast, render.Step{Formula: "highest of the runs", Numbers: numbers}).Holds
		reached = median || highest
	}
	possible := true
	if peaks := j.peaks(d); len(peaks) > 0 {
		p := peaks[0]
		possible = j.read("the most that the carriers can yield", p.rate, &b, "Mbit/s", AtLeast, render.Step{Formula: p.formula, Numbers: p.numbers, Source: p.source}).Holds
		j.assume()
	}
	last := &j.Readings
	switch {
	case !possible:
		j.conclude(Fails, "Fails: the carriers yield at most ", (*last)[len(*last)-1].text(), " with the layers and the modulation taken here.")
	case reached:
		j.holdsAs(j.firstHolding(), "")
	case len(values) > 0:
		j.conclude(Fails, "Fails: the best run reached ", j.Readings[1].text(), ".")
	case len(j.Readings) > 0:
		j.conclude(Undecided, "The carriers can yield that much, but no run is given that shows it.")
	default:
		j.conclude(Undecided, "Neither runs nor carriers are given.")
	}
}

// share judges a share of the peak against the rate stated with it, else the runs.
func (j *judge) share() {
	d := j.claim.direction()
	b := boundsOf(j.claim.Share, j.claim.About)
	j.Tolerance = b.tolerance("%", j.claim.About)
	peaks := j.peaks(d)
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
	case len(peaks) == 0:
		j.conclude(Undecided, "What the carriers can yield in the ", d.String(), " is not known.")
		return
	case len(measures) == 0:
		j.conclude(Undecided, "No measured rate is given.")
		return
	}
	for _, m := range measures {
		for _, p := range peaks {
			value := new(big.Rat).Quo(m.value, p.rate)
			value.Mul(value, big.NewRat(100, 1))
			j.read(m.name+" as a share of "+p.meaning, value, &b, "%", Equal,
				render.Step{Formula: "100 * measured / peak", Numbers: "100 * " + trim(m.value, 3) + " / " + trim(p.rate, 3), Source: p.source})
		}
	}
	j.assume()
	if r := j.firstHolding(); r != nil {
		j.holdsAs(r, "")
		return
	}
	j.conclude(Fails, "Fails under every reading: ", j.Readings[0].Meaning, " is ", j.Readings[0].text(), ".")
}
