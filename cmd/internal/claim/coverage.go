package claim

import (
	"math/big"
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
	"spectally/throughput/propagation"
)

// Spot is what was measured at a distance from the site.
type Spot struct {
	Metres   *big.Rat
	Down, Up quantity.Decimal // Mbit/s; one that is not given was not measured
}

// Model is how far rates go from a sector by the model of a site plan.
type Model struct {
	Sector string
	Places float64 // the part of places at the edge that have the rate
	Path   string  // the model in words: "uma nlos"
	Ladder *propagation.Ladder
	// Assumptions are what its rates rest on that the plan does not say.
	Assumptions []string
}

// coverage judges how far a rate reaches: against runs at a distance, which show that it
// does at one place, else against the model of a plan.
func (j *judge) coverage() {
	c, d := j.claim, j.claim.direction()
	b := statedAs(c.Distance, c.About)
	ceiling, known := j.evidence.ceilings(d)
	if known && c.Rate.IsGiven() {
		rate := statedAs(c.Rate, c.About)
		if !ceilingReaches(&ceiling, &rate) {
			j.assume()
			j.led(Fails, " ", "at any distance: a network can send at most ", trim(ceiling.schedulable.high, 1), " Mbit/s over these carriers", j.whatever(&ceiling.schedulable), ".")
			return
		}
	}
	measured := j.spots(d, &b)
	if measured != nil && measured.Verdict != Undecided {
		j.Cautions = append(j.Cautions, "A run shows one place: others at the same distance can have more or less.")
		if measured.Verdict == Holds {
			j.holdsAs(measured)
			j.quote(measured, "at one place")
			return
		}
		j.led(Fails, ": ", measured.Meaning, " was at ", measured.rangeText(), ".")
		return
	}
	switch {
	case len(j.evidence.Models) == 0:
		j.conclude(Undecided, j.unshown(measured))
		j.need("a run at that distance or beyond that reaches it (--runs RATE@DISTANCE, distance_m in a log), or a site plan with [coverage] (--plan)")
		if !c.Rate.IsGiven() {
			j.need("the rate that is meant (--rate)")
		}
	case !c.Rate.IsGiven():
		j.conclude(Undecided, "How far a site reaches depends on the rate wanted there.")
		j.need("the rate that is meant, with --rate")
	default:
		j.models(&b)
	}
}

// ceilingReaches tells whether what a network can send at most reaches a rate.
func ceilingReaches(c *ceilings, rate *stated) bool { return rate.meets(AtLeast, c.schedulable.high) }

// unshown says that no run settles the claim.
func (j *judge) unshown(farthest *Reading) string {
	if farthest == nil {
		if len(j.evidence.Spots) > 0 {
			return "No run at a known distance reached that rate."
		}
		return "Neither a run at a known distance nor a model of the site is given."
	}
	return "No run shows it: " + farthest.Meaning + " was at " + trim(farthest.values.low, 0) + " m, and what lies beyond was not measured."
}

// spots reads the farthest run that reached the rate, from which on nothing is known; nil
// if no run did.
func (j *judge) spots(d bands.Direction, b *stated) *Reading {
	var farthest *big.Rat
	rate := exactlyStated(new(big.Rat))
	meaning := "the farthest run"
	if c := j.claim; c.Rate.IsGiven() {
		rate = statedAs(c.Rate, c.About)
		meaning += " with " + c.Rate.String() + " Mbit/s"
	}
	numbers := ""
	for _, s := range j.evidence.Spots {
		v := s.Down
		if d == bands.Uplink {
			v = s.Up
		}
		if !v.IsGiven() || v.Sign() == 0 || !rate.meets(AtLeast, v.Rat()) {
			continue
		}
		if farthest == nil || s.Metres.Cmp(farthest) > 0 {
			farthest, numbers = s.Metres, v.String()+" Mbit/s at "+trim(s.Metres, 1)+" m"
		}
	}
	if farthest == nil {
		return nil
	}
	return j.read("", meaning, span{low: farthest, usual: farthest, high: noBound, unbounded: true}, b, "m", AtLeast,
		render.Step{Formula: "farthest of the runs that reached the rate", Numbers: numbers})
}

// models judges by the model of a plan: over its sectors, and over the share of places
// where the plan leaves that open.
func (j *judge) models(b *stated) {
	rate, d := new(big.Rat).Mul(j.claim.Rate.Rat(), big.NewRat(1_000_000, 1)), j.claim.direction()
	bits, _ := rate.Float64()
	far := float(b.claimed)
	count, beyond, first := map[Verdict]int{}, false, len(j.Readings)
	for i := range j.evidence.Models {
		m := &j.evidence.Models[i]
		metres, atEnd := m.Ladder.Reach(d, bits)
		rung := m.Ladder.At(far)
		end := new(big.Rat).SetInt64(int64(metres + 0.5))
		values := exactly(end)
		if atEnd {
			values = span{low: end, usual: end, high: noBound, unbounded: true}
		}
		r := j.read("", "the reach of "+m.Sector+" at "+strconv.FormatFloat(100*m.Places, 'f', -1, 64)+" % of places by the plan's model", values, b, "m", AtLeast, render.Step{
			Formula: "distance at which the expected rate falls to the one claimed", Numbers: m.Path + ", " + j.claim.Rate.String() + " Mbit/s", Source: render.Source(rung.Source)})
		count[r.Verdict]++
		j.Assumptions, j.Brief = unite(j.Assumptions, m.Assumptions), unite(j.Brief, m.Assumptions[:min(1, len(m.Assumptions))])
		beyond = beyond || rung.Extrapolated
	}
	readings := j.Readings[first:]
	j.Cautions = append(j.Cautions, "A model gives what a share of places has, with no interference and no load: it promises no place, and measurements go before it.")
	if beyond {
		j.Cautions = append(j.Cautions, "At that distance the model is outside the limits that it was made for.")
	}
	texts := make([]string, len(readings))
	for i := range readings {
		texts[i] = readings[i].Meaning + " is " + readings[i].rangeText()
	}
	all := words.And(texts)
	less := j.lessAt(b)
	switch {
	case len(readings) == count[Holds] && less != "":
		j.conclude(Undecided, sentence(all), ", but ", less, ".")
		j.need("a run at that distance or beyond that reaches it")
	case len(readings) == count[Holds]:
		weakest := &readings[0]
		for i := range readings {
			if readings[i].values.low.Cmp(weakest.values.low) < 0 {
				weakest = &readings[i]
			}
		}
		j.holdsAs(weakest)
		j.quote(weakest, "which promises no place")
	case len(readings) == count[Fails]:
		j.led(Fails, " ", "by the model: ", all, ".")
	default:
		j.conclude(Undecided, sentence(all), ".")
		j.need(j.openPlaces(readings)...)
	}
}

// lessAt is a run no farther than the distance claimed that had less than the rate, in
// words; empty for none.
func (j *judge) lessAt(b *stated) string {
	rate := statedAs(j.claim.Rate, j.claim.About)
	for _, s := range j.evidence.Spots {
		v := s.Down
		if j.claim.direction() == bands.Uplink {
			v = s.Up
		}
		if v.IsGiven() && s.Metres.Cmp(b.high) <= 0 && !rate.meets(AtLeast, v.Rat()) {
			return "a run at " + trim(s.Metres, 0) + " m had " + v.String() + " Mbit/s"
		}
	}
	return ""
}

// openPlaces says what would settle a claim on which sectors or shares of places differ.
func (j *judge) openPlaces(readings []Reading) []string {
	bySector := make(map[string]Verdict)
	for i := range readings {
		name := j.evidence.Models[i].Sector
		if v, ok := bySector[name]; ok && v != readings[i].Verdict {
			return []string{"the share of places that are meant, with places_percent in the plan"}
		}
		bySector[name] = readings[i].Verdict
	}
	var good []string
	for i := range readings {
		if name := j.evidence.Models[i].Sector; readings[i].Verdict == Holds && !slices.Contains(good, name) {
			good = append(good, name)
		}
	}
	if len(good) == 0 {
		return []string{"a model that goes that far"}
	}
	return []string{"the sector that is meant: ", strings.Join(good, " or ")}
}
