package claim

import (
	"math/big"
	"slices"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/quantity"
	"spectally/throughput"
)

// Evidence is what is known of a network. The zero Evidence is nothing.
type Evidence struct {
	// Assessment is that of the carriers; nil if they are not known.
	Assessment *ca.Assessment
	// Rates are what the carriers can yield, scheduled rates included; nil if they
	// are not known.
	Rates *throughput.Result
	// Down and Up are measured rates in Mbit/s.
	Down, Up []quantity.Decimal
	// Idle, LoadedDown and LoadedUp are measured round-trip times in ms: without
	// load, under download, under upload.
	Idle, LoadedDown, LoadedUp []quantity.Decimal
	// Assumptions are said with every judgement that rests on the rates.
	Assumptions []string
}

// NewEvidence is the evidence that carriers alone give. An error says why their
// rates cannot be worked out; the rest of the evidence is good all the same.
func NewEvidence(c ca.Combination) (Evidence, error) {
	e := Evidence{Assessment: ca.Check(c)}
	rates, err := throughput.Rate(e.Assessment)
	if err == nil {
		err = rates.Schedule(throughput.Settings{})
	}
	if err != nil {
		return e, err
	}
	e.Rates = rates
	for _, a := range rates.Assumptions() {
		e.Assumptions = append(e.Assumptions, a.Text)
	}
	return e, nil
}

// measured are the rates measured in a direction.
func (e *Evidence) measured(d bands.Direction) []quantity.Decimal {
	if d == bands.Uplink {
		return e.Up
	}
	return e.Down
}

// ceilings are what the carriers can yield in a direction; false if that is not
// known.
func (e *Evidence) ceilings(d bands.Direction) (throughput.Rates, bool) {
	switch {
	case e.Rates == nil:
		return throughput.Rates{}, false
	case d == bands.Uplink:
		return e.Rates.Uplink, e.Rates.Uplink.Max.Num > 0
	}
	return e.Rates.Downlink, e.Rates.Downlink.Max.Num > 0
}

// downlinkShare is the share of time of a carrier; the whole where it is not known.
func (e *Evidence) downlinkShare(i int) ca.Share {
	if e.Rates == nil {
		return ca.Share{Part: 1, Whole: 1}
	}
	return e.Rates.DownlinkShare(i)
}

// patternAssumed tells whether a TDD carrier has a pattern that nobody stated.
func (e *Evidence) patternAssumed() bool {
	for i := range e.Assessment.Carriers {
		if p := &e.Assessment.Carriers[i]; p.Info != nil && p.Info.Duplex == bands.TDD && p.Pattern == "" && !p.Info.LicensedAssisted() {
			return true
		}
	}
	return false
}

// Median is the middle of the values, or half-way between the two in the middle; nil
// if there are none.
func Median(values []quantity.Decimal) *big.Rat {
	if len(values) == 0 {
		return nil
	}
	sorted := slices.SortedFunc(slices.Values(values), quantity.Decimal.Compare)
	n := len(sorted)
	sum := new(big.Rat).Add(sorted[(n-1)/2].Rat(), sorted[n/2].Rat())
	return sum.Mul(sum, big.NewRat(1, 2))
}

// extremes are the lowest and the highest of the values, of which there is one at
// least.
func extremes(values []quantity.Decimal) (low, high *big.Rat) {
	return slices.MinFunc(values, quantity.Decimal.Compare).Rat(), slices.MaxFunc(values, quantity.Decimal.Compare).Rat()
}

// mbps is a rate in bit/s as Mbit/s.
func mbps(r throughput.Ratio) *big.Rat {
	return new(big.Rat).Quo(big.NewRat(r.Num, r.Den), big.NewRat(1_000_000, 1))
}

// megahertz is a frequency in MHz.
func megahertz(f bands.Frequency) *big.Rat { return big.NewRat(int64(f), int64(bands.MHz)) }
