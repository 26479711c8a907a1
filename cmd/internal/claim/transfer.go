package claim

import (
	"math/big"
	"slices"
	"strings"

	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/render"
)

// TransferSeconds is how long a transfer takes at a rate in Mbit/s. The rate must be
// above zero.
func TransferSeconds(s quantity.Size, rate *big.Rat) *big.Rat {
	perSecond := new(big.Rat).Mul(rate, big.NewRat(1_000_000, 1))
	return new(big.Rat).Quo(new(big.Rat).SetInt64(s.Bits()), perSecond)
}

// MeanRate is the mean rate in Mbit/s of a transfer. The time in seconds must be
// above zero.
func MeanRate(s quantity.Size, seconds *big.Rat) *big.Rat {
	return new(big.Rat).Quo(big.NewRat(s.Bits(), 1_000_000), seconds)
}

// transfer judges the time of a transfer: against the speed stated with it, else
// against the rates measured, and in any case against what the carriers can yield.
func (j *judge) transfer() {
	c, d := j.claim, j.claim.direction()
	seconds := statedAs(c.Seconds, c.About)
	bits := trim(new(big.Rat).SetInt64(c.Transfer.Bits()), 0)
	mean := MeanRate(c.Transfer, seconds.claimed)
	j.step("mean rate of the transfer", "bits / seconds", c.Transfer.String()+" = "+bits+" bit; "+bits+" / "+c.Seconds.String()+" s", trim(mean, 1)+" Mbit/s", render.Source{})

	verdict, why, other := Verdict(""), "", "" // none without a speed
	values := positive(j.evidence.measured(d))
	switch {
	case c.Rate.IsGiven():
		rate := statedAs(c.Rate, c.About)
		time := j.read("", "the time that the transfer takes at the speed stated", exactly(TransferSeconds(c.Transfer, rate.claimed)), &seconds, "s", Equal,
			render.Step{Formula: "bits / rate", Numbers: bits + " bit / " + c.Rate.String() + " Mbit/s"})
		verdict, why = time.Verdict, "at "+c.Rate.String()+" Mbit/s the transfer takes "+time.text()
		if c.Relation == "" {
			speed := j.read("", "the mean rate that the time stated means", exactly(mean), &rate, "Mbit/s", Equal,
				render.Step{Formula: "bits / seconds", Numbers: bits + " bit / " + c.Seconds.String() + " s"})
			why += ", and " + c.Seconds.String() + " s means " + speed.text() + " on average"
			if verdict != speed.Verdict { // one figure leaves open what the other says exactly
				verdict = Holds
				j.Readings = slices.DeleteFunc(j.Readings, func(r Reading) bool { return !r.Holds })
			}
		}
		why += "."
	case len(values) > 0 && c.Relation != "":
		low, high := extremes(values)
		times := span{low: TransferSeconds(c.Transfer, high), usual: TransferSeconds(c.Transfer, Median(values)), high: TransferSeconds(c.Transfer, low)}
		r := j.read("", "the time at the measured rates", times, &seconds, "s", Equal,
			render.Step{Formula: "bits / rate", Numbers: bits + " bit / " + listed(values) + " Mbit/s"})
		verdict, why = r.Verdict, "at the measured rates the transfer takes "+r.rangeText()+"."
	case len(values) > 0:
		low, high := extremes(values)
		fast := j.read("", "the time at the best measured rate", exactly(TransferSeconds(c.Transfer, high)), &seconds, "s", AtMost,
			render.Step{Formula: "bits / rate", Numbers: bits + " bit / " + trim(high, 3) + " Mbit/s"})
		fastest, notFaster := fast.values.usual, fast.Holds
		slow := j.read("", "the time at the lowest measured rate", exactly(TransferSeconds(c.Transfer, low)), &seconds, "s", AtLeast,
			render.Step{Formula: "bits / rate", Numbers: bits + " bit / " + trim(low, 3) + " Mbit/s"})
		verdict, why = Fails, "at the measured rates the transfer takes "+between(fastest, slow.values.usual)+"."
		if notFaster && slow.Holds {
			verdict = Holds
		}
		if low.Cmp(high) != 0 {
			other = slow.text() + " at the lowest"
		}
	}

	possible, reachable, sure := true, true, true
	var speed stated
	ceiling, known := j.evidence.ceilings(d)
	if known {
		// The mean rate is known as closely as the time: the slowest end counts. A time that
		// is exceeded asks for no rate.
		if c.Relation == "" || c.Relation == Equal || c.Relation.below() {
			rate := stated{low: MeanRate(c.Transfer, seconds.high), claimed: mean, high: mean, why: "as closely as the time is stated"}
			possible = j.readCeiling(d, "the most a network can send, against the mean rate", &ceiling, &rate).Verdict != Fails
		}
		if c.Rate.IsGiven() {
			speed = statedAs(c.Rate, c.About)
			can := j.readCeiling(d, "the most a network can send, against the speed stated", &ceiling, &speed).Verdict
			shown := slices.ContainsFunc(values, func(v quantity.Decimal) bool { return speed.meets(AtLeast, v.Rat()) })
			reachable, sure = can != Fails, can == Holds || shown
		}
		j.assume()
	}
	switch {
	case !reachable:
		j.led(Fails, ": ", c.Rate.String(), " Mbit/s is more than a network can send over these carriers, ", trim(ceiling.schedulable.high, 1), " Mbit/s at most", j.whatever(&ceiling.schedulable), ".")
	case !possible:
		j.led(Fails, ": ", "the mean rate would be ", trim(mean, 1), " Mbit/s, and a network can send at most ", trim(ceiling.schedulable.high, 1), " Mbit/s over these carriers", j.whatever(&ceiling.schedulable), ".")
	case verdict == "" && len(j.Readings) > 0:
		j.conclude(Undecided, "The carriers can yield the mean rate of ", trim(mean, 1), " Mbit/s, but no speed is given to hold the time against.")
		j.need("the speed it ran at, with --rate, or a run, with --runs")
	case verdict == "":
		j.conclude(Undecided, "The mean rate is ", trim(mean, 1), " Mbit/s, but no speed is given to hold it against.")
		j.need("the speed it ran at, with --rate, or a run, with --runs")
	case verdict == Holds && !sure:
		j.conclude(Undecided, "Time and speed agree, but whether the carriers reach ", c.Rate.String(), " Mbit/s depends on what was left open.")
		j.Needs = append(j.Needs, j.evidence.needs(d, func(rate *big.Rat) bool { return speed.meets(AtLeast, rate) })...)
	case verdict == Holds:
		r := j.first(Holds)
		j.Reading = r.Meaning
		j.led(Holds, ": ", why)
		if other == "" {
			j.quote(r)
			break
		}
		j.quote(r, other)
	case verdict == Undecided:
		j.conclude(Undecided, sentence(why))
		j.need("the run that is meant")
	default:
		j.led(Fails, ": ", why)
	}
}

// between writes the two ends of a time in seconds; one where they read the same.
func between(low, high *big.Rat) string {
	short, long := trim(low, 1), trim(high, 1)
	if short == long {
		return long + " s"
	}
	return short + " to " + long + " s"
}

// positive leaves out rates of zero, at which no transfer ends.
func positive(values []quantity.Decimal) []quantity.Decimal {
	var list []quantity.Decimal
	for _, v := range values {
		if v.Sign() > 0 {
			list = append(list, v)
		}
	}
	return list
}

// listed writes values in their order.
func listed(values []quantity.Decimal) string {
	texts := make([]string, len(values))
	for i, v := range values {
		texts[i] = v.String()
	}
	return strings.Join(texts, ", ")
}
