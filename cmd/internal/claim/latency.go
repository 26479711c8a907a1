package claim

import (
	"math/big"
	"slices"

	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/render"
)

// RoundTripsPerMinute is 60 000 ms divided by a round-trip time in ms above zero.
func RoundTripsPerMinute(ms *big.Rat) *big.Rat {
	return new(big.Rat).Quo(big.NewRat(60_000, 1), ms)
}

// latency judges round-trip times: what was measured may not be higher, and a time
// under load may not be lower than one without.
func (j *judge) latency() {
	c, e := j.claim, j.evidence
	var verdicts []Verdict
	if c.IdleMs.IsGiven() {
		verdicts = append(verdicts, j.atMost(c.IdleMs, []source{{"without load", e.Idle}}))
	}
	loaded := []source{{"under download", e.LoadedDown}, {"under upload", e.LoadedUp}}
	if c.LoadedMs.IsGiven() {
		if v := j.atMost(c.LoadedMs, loaded); v != Undecided || !c.RoundTrips.IsGiven() {
			verdicts = append(verdicts, v)
		}
		rate := RoundTripsPerMinute(c.LoadedMs.Rat())
		numbers := "60000 / " + c.LoadedMs.String()
		if c.RoundTrips.IsGiven() {
			b := statedAs(c.RoundTrips, c.About)
			verdicts = append(verdicts, verdictOf(j.read("", "the round trips a minute that the latency stated means", exactly(rate), &b, "round trips a minute", Equal,
				render.Step{Formula: "60 000 ms / latency", Numbers: numbers}).Holds))
		} else {
			j.step("round trips a minute under load", "60 000 ms / latency", numbers, trim(rate, 1)+" round trips a minute", render.Source{})
		}
	} else if c.RoundTrips.IsGiven() {
		verdicts = append(verdicts, j.roundTrips(loaded))
	}
	if c.IdleMs.IsGiven() && c.LoadedMs.IsGiven() {
		idle, load := statedAs(c.IdleMs, c.About), statedAs(c.LoadedMs, c.About)
		added := new(big.Rat).Sub(load.claimed, idle.claimed)
		j.step("latency added by load", "loaded - idle", c.LoadedMs.String()+" - "+c.IdleMs.String()+" ms", trim(added, 3)+" ms", render.Source{})
		if load.high.Cmp(idle.low) < 0 {
			j.led(Fails, ": ", "the latency under load would be below that without load.")
			return
		}
	}
	switch {
	case slices.Contains(verdicts, Fails):
		j.led(Fails, ": ", j.worst(), ".")
	case slices.Contains(verdicts, Undecided):
		j.conclude(Undecided, append([]string{"No measured latency is given to hold it against."}, j.meaning()...)...)
		j.need("measured latencies, with --idle-runs or --loaded-runs")
	default:
		r := j.first(Holds)
		j.holdsAs(r)
		j.quote(r)
	}
}

// meaning says in words what the latencies stated come to, whatever was measured.
func (j *judge) meaning() []string {
	c := j.claim
	if !c.LoadedMs.IsGiven() {
		return nil
	}
	words := []string{" ", c.LoadedMs.String(), " ms under load are ", trim(RoundTripsPerMinute(c.LoadedMs.Rat()), 1), " round trips a minute"}
	if c.IdleMs.IsGiven() {
		added := new(big.Rat).Sub(c.LoadedMs.Rat(), c.IdleMs.Rat())
		words = append(words, "; the load adds ", trim(added, 3), " ms")
	}
	return append(words, ".")
}

// source is a list of measured latencies with what it is.
type source struct {
	name   string
	values []quantity.Decimal
}

// atMost holds a time against the median and the lowest of each list of measured
// ones: one that is no higher is enough.
func (j *judge) atMost(claimed quantity.Decimal, sources []source) Verdict {
	b := statedAs(claimed, j.claim.About)
	verdict := Undecided
	for _, s := range sources {
		if len(s.values) == 0 {
			continue
		}
		low, _ := extremes(s.values)
		numbers := listed(s.values) + " ms"
		median := j.read("", "the median latency "+s.name, exactly(Median(s.values)), &b, "ms", AtMost, render.Step{Formula: "middle of the runs in order", Numbers: numbers}).Holds
		lowest := j.read("", "the lowest latency "+s.name, exactly(low), &b, "ms", AtMost, render.Step{Formula: "lowest of the runs", Numbers: numbers}).Holds
		if verdict != Holds {
			verdict = verdictOf(median || lowest)
		}
	}
	return verdict
}

// roundTrips holds round trips a minute against the measured latencies under load.
func (j *judge) roundTrips(sources []source) Verdict {
	b := statedAs(j.claim.RoundTrips, j.claim.About)
	verdict := Undecided
	for _, s := range sources {
		median := Median(s.values)
		if median == nil || median.Sign() <= 0 {
			continue
		}
		holds := j.read("", "the round trips a minute at the median latency "+s.name, exactly(RoundTripsPerMinute(median)), &b, "round trips a minute", AtLeast,
			render.Step{Formula: "60 000 ms / latency", Numbers: "60000 / " + trim(median, 3)}).Holds
		if verdict != Holds {
			verdict = verdictOf(holds)
		}
	}
	return verdict
}

func verdictOf(holds bool) Verdict {
	if holds {
		return Holds
	}
	return Fails
}

// worst says which reading fails.
func (j *judge) worst() string {
	for i := range j.Readings {
		if r := &j.Readings[i]; !r.Holds {
			return r.Meaning + " is " + r.text()
		}
	}
	return ""
}
