package claim

import (
	"math"
	"math/big"
	"slices"

	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
)

// RoundTripsPerMinute is 60 000 ms divided by a round-trip time in ms above zero.
func RoundTripsPerMinute(ms *big.Rat) *big.Rat {
	return new(big.Rat).Quo(big.NewRat(60_000, 1), ms)
}

// part is the verdict on one of several figures of a claim, and the reading that decides it.
type part struct {
	verdict Verdict
	reading Reading
}

// latency judges round-trip times: what was measured may not be higher, and a time
// under load may not be lower than one without.
func (j *judge) latency() {
	c, e := j.claim, j.evidence
	var parts []part
	if c.IdleMs.IsGiven() {
		parts = append(parts, j.atMost(c.IdleMs, []source{{"without load", e.Idle}}))
	}
	loaded := []source{{"under download", e.LoadedDown}, {"under upload", e.LoadedUp}}
	if c.LoadedMs.IsGiven() {
		if p := j.atMost(c.LoadedMs, loaded); p.verdict != Undecided || !c.RoundTrips.IsGiven() {
			parts = append(parts, p)
		}
		rate := RoundTripsPerMinute(c.LoadedMs.Rat())
		numbers := "60000 / " + c.LoadedMs.String()
		if c.RoundTrips.IsGiven() {
			b := statedAs(c.RoundTrips, c.About)
			r := *j.read("", "the round trips a minute that the latency stated means", exactly(rate), &b, "round trips a minute", Equal,
				render.Step{Formula: "60 000 ms / latency", Numbers: numbers})
			parts = append(parts, part{r.Verdict, r})
		} else {
			j.step("round trips a minute under load", "60 000 ms / latency", numbers, trim(rate, 1)+" round trips a minute", render.Source{})
		}
	} else if c.RoundTrips.IsGiven() {
		parts = append(parts, j.roundTrips(loaded))
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
	first := func(v Verdict) int { return slices.IndexFunc(parts, func(p part) bool { return p.verdict == v }) }
	if i := first(Fails); i >= 0 {
		r := parts[i].reading
		j.led(Fails, ": ", r.Meaning, " is ", r.text(), ".")
		return
	}
	if first(Undecided) >= 0 {
		j.conclude(Undecided, append([]string{"No measured latency is given to hold it against."}, j.meaning()...)...)
		j.need("measured latencies, with --idle-runs or --loaded-runs")
		return
	}
	var more []string
	for i := range parts[1:] {
		r := parts[1+i].reading
		more = append(more, r.Meaning+", "+r.text())
	}
	also := ""
	if len(more) > 0 {
		also = " Also " + words.And(more) + "."
	}
	j.holdsAs(&parts[0].reading, also)
	j.quote(&parts[0].reading, more...)
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
func (j *judge) atMost(claimed quantity.Decimal, sources []source) part {
	b := statedAs(claimed, j.claim.About)
	p := part{verdict: Undecided}
	for _, s := range sources {
		if len(s.values) == 0 {
			continue
		}
		low, _ := extremes(s.values)
		numbers := listed(s.values) + " ms"
		median := *j.read("", "the median latency "+s.name, exactly(Median(s.values)), &b, "ms", AtMost, render.Step{Formula: "middle of the runs in order", Numbers: numbers})
		lowest := *j.read("", "the lowest latency "+s.name, exactly(low), &b, "ms", AtMost, render.Step{Formula: "lowest of the runs", Numbers: numbers})
		p = p.or(median).or(lowest)
	}
	return p
}

// or takes in another reading, of which one that holds is enough; of those that fail the
// closest counts.
func (p part) or(r Reading) part {
	if p.verdict == Holds || p.verdict == Fails && r.Verdict == Fails && p.reading.off() <= r.off() {
		return p
	}
	return part{r.Verdict, r}
}

// off is how far the value is from the figure claimed.
func (r *Reading) off() float64 { return math.Abs(r.Value - r.Claimed) }

// roundTrips holds round trips a minute against the measured latencies under load.
func (j *judge) roundTrips(sources []source) part {
	b := statedAs(j.claim.RoundTrips, j.claim.About)
	p := part{verdict: Undecided}
	for _, s := range sources {
		median := Median(s.values)
		if median == nil || median.Sign() <= 0 {
			continue
		}
		p = p.or(*j.read("", "the round trips a minute at the median latency "+s.name, exactly(RoundTripsPerMinute(median)), &b, "round trips a minute", AtLeast,
			render.Step{Formula: "60 000 ms / latency", Numbers: "60000 / " + trim(median, 3)}))
	}
	return p
}
