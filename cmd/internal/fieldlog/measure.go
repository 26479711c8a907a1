package fieldlog

import (
	"fmt"
	"math/big"
	"slices"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/quantity"
	"spectally/throughput"
	"spectally/throughput/exact"
)

// measure holds the runs against what the carriers can yield.
func (n *network) measure() {
	r := &n.report
	r.Runs = []RunReport{}
	for i := range n.log.Runs {
		run := &n.log.Runs[i]
		out := RunReport{
			Number: i + 1, Where: run.Where, When: run.When, SpotReport: spotReport(&run.Spot), Notes: present(run.Notes),
			Idle: run.Idle, LoadedDown: run.LoadedDown, LoadedUp: run.LoadedUp,
			Added:      Loaded{float(added(run.LoadedDown.Rat(), run.Idle.Rat())), float(added(run.LoadedUp.Rat(), run.Idle.Rat()))},
			RoundTrips: Loaded{float(roundTrips(run.LoadedDown.Rat())), float(roundTrips(run.LoadedUp.Rat()))},
		}
		met := n.at(&run.Spot)
		out.Expected = met.expectation()
		if run.Down.IsGiven() {
			out.Down = met.reached(run.Down.Rat(), bands.Downlink)
			n.flag(out.Down, i+1)
		}
		if run.Up.IsGiven() {
			out.Up = met.reached(run.Up.Rat(), bands.Uplink)
			n.flag(out.Up, i+1)
		}
		r.Runs = append(r.Runs, out)
	}
	r.Expected, r.Gap = n.expectation(), gap(r)
	r.Measured = Measured{
		Down: n.measured(n.values(func(r *Run) quantity.Decimal { return r.Down }), bands.Downlink),
		Up:   n.measured(n.values(func(r *Run) quantity.Decimal { return r.Up }), bands.Uplink),
	}
}

func (n *network) measured(values []quantity.Decimal, d bands.Direction) *MeasuredRate {
	s := spreadOf(values)
	if s == nil {
		return nil
	}
	best := slices.MaxFunc(values, quantity.Decimal.Compare)
	return &MeasuredRate{*s, *n.reached(claim.Median(values), d), *n.reached(best.Rat(), d)}
}

// flag reports a rate that the carriers cannot yield as a finding.
func (n *network) flag(r *Reached, run int) {
	if r.Exceeds == "" {
		return
	}
	n.warn(ca.Rule("measured-above-"+r.Exceeds), 0, fmt.Sprintf("Run %d: %s", run, r.Flag))
}

// ceilings are what the carriers can yield in a direction.
func (n *network) ceilings(d bands.Direction) throughput.Rates {
	if n.rates == nil {
		return throughput.Rates{}
	}
	return n.rates.Sum(d)
}

// reached holds a rate in Mbit/s against what the carriers can yield.
func (n *network) reached(rate *big.Rat, d bands.Direction) *Reached {
	r := &Reached{Rate: *float(rate)}
	c := n.ceilings(d)
	r.OfMax, r.OfScheduled, r.OfExpected = float(shareOf(rate, c.Max)), float(shareOf(rate, c.Scheduled)), float(shareOf(rate, c.Expected))
	r.Exceeds, r.Flag = exceeds(rate, &c, d)
	width, active := n.bandwidth(d)
	r.Efficiency = float(overBandwidth(rate, width))
	if efficiency := overBandwidth(rate, active); efficiency != nil && n.rates != nil {
		r.ActiveEfficiency = float(efficiency)
		r.Implied = n.implied(rate, efficiency, d)
	}
	return r
}

// bandwidth is the channel bandwidth of a direction in MHz, and that bandwidth
// weighted by the direction's share of time. Uplinks count where the UE transmits.
func (n *network) bandwidth(d bands.Direction) (width, active *big.Rat) {
	width, active = new(big.Rat), new(big.Rat)
	for i := range n.assessment.Carriers {
		p := &n.assessment.Carriers[i]
		if p.Width(d) == 0 || d == bands.Uplink && !p.Transmits {
			continue
		}
		w := big.NewRat(int64(p.Width(d)), int64(bands.MHz))
		width.Add(width, w)
		if n.rates != nil {
			s := n.rates.Carriers[i].Frame.Share(d)
			active.Add(active, w.Mul(w, big.NewRat(s.Num, s.Den)))
		}
	}
	return width, active
}

// overBandwidth is Mbit/s over MHz, which is bit/s/Hz; nil for no bandwidth.
func overBandwidth(rate, width *big.Rat) *big.Rat {
	if width.Sign() <= 0 {
		return nil
	}
	return new(big.Rat).Quo(rate, width)
}

// shareOf is a rate in Mbit/s as a share of a ceiling in bit/s; nil where there is
// none.
func shareOf(rate *big.Rat, ceiling exact.Ratio) *big.Rat {
	if ceiling.Num <= 0 || ceiling.Den <= 0 {
		return nil
	}
	share := new(big.Rat).Quo(rate, big.NewRat(ceiling.Num, ceiling.Den))
	return share.Mul(share, big.NewRat(1_000_000, 1))
}

// exceeds tells which ceiling a rate is above, and says so.
func exceeds(rate *big.Rat, c *throughput.Rates, d bands.Direction) (which, flag string) {
	above := func(ceiling exact.Ratio) bool {
		share := shareOf(rate, ceiling)
		return share != nil && share.Cmp(big.NewRat(1, 1)) > 0
	}
	const why = "Another carrier, more layers or a higher modulation must have been in use, or the measurement is wrong."
	maximum, most, usual := mbpsText(c.Max), mbpsText(c.Schedulable), mbpsText(c.Scheduled)
	switch {
	case above(c.Max) && above(c.Schedulable):
		if c.Schedulable.Cmp(c.Max) < 0 {
			most = maximum
		}
		return "maximum", fmt.Sprintf("%s Mbit/s is more than these carriers can yield in the %s, %s Mbit/s at most. %s", plain(rate), d, most, why)
	case above(c.Schedulable):
		return "schedulable", fmt.Sprintf("%s Mbit/s is more than a network can send over these carriers in the %s, %s Mbit/s at most, though below the standard's maximum of %s Mbit/s. %s",
			plain(rate), d, most, maximum, why)
	case above(c.Max):
		return "maximum", fmt.Sprintf("%s Mbit/s is more than the standard's maximum data rate of these carriers in the %s, %s Mbit/s, though a network could send %s Mbit/s.", plain(rate), d, maximum, most)
	case above(c.Scheduled):
		return "scheduled", fmt.Sprintf("%s Mbit/s is more than a usual network schedules over these carriers in the %s, %s Mbit/s, but within the %s Mbit/s that one can.", plain(rate), d, usual, most)
	}
	return "", ""
}

// mbpsText writes a rate in bit/s as Mbit/s, "none" where it is not known.
func mbpsText(r exact.Ratio) string {
	if r.IsZero() {
		return "none"
	}
	return plain(mbpsRat(r))
}

func mbpsRat(r exact.Ratio) *big.Rat {
	return new(big.Rat).Quo(big.NewRat(r.Num, r.Den), big.NewRat(1_000_000, 1))
}

// plain writes a number for a sentence, with at most one decimal.
func plain(r *big.Rat) string {
	s := r.FloatString(1)
	if n := len(s); s[n-1] == '0' {
		return s[:n-2]
	}
	return s
}

// spreadOf is the middle and the spread of values; nil if there are none.
func spreadOf(values []quantity.Decimal) *Spread {
	if len(values) == 0 {
		return nil
	}
	sorted := slices.SortedFunc(slices.Values(values), quantity.Decimal.Compare)
	s := &Spread{
		Count: len(sorted), Median: *float(claim.Median(sorted)),
		Min: sorted[0].Float(), Max: sorted[len(sorted)-1].Float(),
	}
	if half := len(sorted) / 2; len(sorted) >= 4 {
		s.LowerQuartile = float(claim.Median(sorted[:half]))
		s.UpperQuartile = float(claim.Median(sorted[len(sorted)-half:]))
	}
	return s
}
