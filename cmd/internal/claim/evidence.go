package claim

import (
	"math/big"
	"slices"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/assumed"
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
	"spectally/throughput"
	"spectally/throughput/exact"
)

// Evidence is what is known of a network. The zero Evidence is nothing.
type Evidence struct {
	// Name names what it is of in sentences: a network, or its carriers.
	Name string
	// Assessment is that of the carriers; nil if they are not known.
	Assessment *ca.Assessment
	// Stated are the carriers with all that is known of them and of the device; what
	// they leave open, is open.
	Stated ca.Combination
	// Rates are what the carriers can yield with the usual values for what is open,
	// scheduled rates included; nil if they are not known.
	Rates *throughput.Result
	// Down and Up are measured rates in Mbit/s.
	Down, Up []quantity.Decimal
	// Idle, LoadedDown and LoadedUp are measured round-trip times in ms: without
	// load, under download, under upload.
	Idle, LoadedDown, LoadedUp []quantity.Decimal
	// Spots are measurements at a known distance from the site, Models how far rates go
	// by the model of a plan.
	Spots  []Spot
	Models []Model
	// Assumptions are said with every judgement that rests on the rates.
	Assumptions []string

	kept *kept
}

// kept is what was worked out of evidence, for all claims about it.
type kept struct {
	phone  *phone
	bounds [bands.Uplink + 1]*throughput.Bounds
}

// Keep lets every claim about the evidence, and about copies of it, share what is worked
// out of the carriers.
func (e *Evidence) Keep() {
	if e.kept == nil {
		e.kept = new(kept)
	}
}

// NewEvidence is the evidence that carriers alone give. An error says why their
// rates cannot be worked out; the rest of the evidence is good all the same.
func NewEvidence(a *ca.Assessment) (Evidence, error) {
	c := a.Combination()
	e := Evidence{Name: c.String(), Assessment: a, Stated: c}
	rates, err := throughput.Rate(e.Assessment)
	if err == nil {
		err = rates.Schedule(throughput.Settings{})
	}
	if err != nil {
		return e, err
	}
	e.Rates = rates
	for _, a := range assumed.Statements(rates.Assumptions()) {
		e.Assumptions = append(e.Assumptions, a.String())
	}
	return e, nil
}

// phone tells whether one phone can use all carriers at once.
type phone struct {
	verdict Verdict
	reason  string        // a sentence, unless it can
	name    string        // the configuration, if one is needed
	source  render.Source // of the configuration
}

// as says as which configuration the carriers are aggregated.
func (p *phone) as() string {
	if p.name == "" {
		return ""
	}
	return " One phone aggregates them as " + p.name + "."
}

// onePhone looks for a configuration of all carriers.
func (e *Evidence) onePhone() *phone {
	e.Keep()
	if e.kept.phone != nil {
		return e.kept.phone
	}
	p := &phone{verdict: Holds}
	e.kept.phone = p
	if e.Assessment == nil {
		return p
	}
	if f, bad := e.Assessment.FirstError(); bad {
		*p = phone{verdict: Fails, reason: words.Sentence(f.Message)}
	} else if l, _ := e.Assessment.Decisive(); l != nil {
		p.name, p.source = l.Name.String(), render.Source(l.Admission.Source)
	}
	return p
}

// boundsOf are the least and the most that the carriers can yield in a direction; false
// if that is not known.
func (e *Evidence) boundsOf(d bands.Direction) (*throughput.Bounds, bool) {
	if e.Rates == nil {
		return nil, false
	}
	e.Keep()
	if e.kept.bounds[d] == nil {
		b, err := throughput.BoundsOf(e.Stated, d)
		if err != nil {
			return nil, false
		}
		e.kept.bounds[d] = &b
	}
	return e.kept.bounds[d], e.kept.bounds[d].Most.Max.Num > 0
}

// usual is what the carriers yield in a direction with the usual values for what is
// open.
func (e *Evidence) usual(d bands.Direction) *throughput.Rates {
	if d == bands.Uplink {
		return &e.Rates.Uplink
	}
	return &e.Rates.Downlink
}

// measured are the rates measured in a direction.
func (e *Evidence) measured(d bands.Direction) []quantity.Decimal {
	if d == bands.Uplink {
		return e.Up
	}
	return e.Down
}

// downlinkShare is the share of time of a carrier; the whole where it is not known.
func (e *Evidence) downlinkShare(i int) ca.Share {
	if e.Rates == nil {
		return ca.Share{Part: 1, Whole: 1}
	}
	return e.Rates.DownlinkShare(i)
}

// shareIfOpen gives carriers that leave their pattern open the whole of the time, or
// nothing of it.
func (e *Evidence) shareIfOpen(part int64) func(int) ca.Share {
	return func(i int) ca.Share {
		if p := &e.Assessment.Carriers[i]; p.Pattern == "" {
			return ca.Share{Part: part, Whole: 1}
		}
		return e.downlinkShare(i)
	}
}

// choices calls f with each way to choose the carriers that the UE transmits on: those
// that are said to, and of the open ones any, one at least in all.
func (e *Evidence) choices(f func(transmits func(i int) bool)) {
	var open []int
	said := false
	for i := range e.Assessment.Carriers {
		switch p := &e.Assessment.Carriers[i]; {
		case p.UplinkWidth == 0 || p.Transmit == ca.No:
		case p.Transmit == ca.Yes:
			said = true
		default:
			open = append(open, i)
		}
	}
	const many = 16         // beyond it the order of widths alone is tried
	step := func(set int) { // of open carriers, by bits
		if set == 0 && !said && len(open) > 0 {
			return
		}
		f(func(i int) bool {
			n := slices.Index(open, i)
			return n >= 0 && (set>>n)&1 == 1 || n < 0 && e.Assessment.Carriers[i].Transmit == ca.Yes
		})
	}
	if len(open) > many {
		for n := range len(open) + 1 {
			step(1<<n - 1)
		}
		return
	}
	for set := range 1 << len(open) {
		step(set)
	}
}

// uplinkSums is the uplink total over every choice of the carriers that transmit.
func (e *Evidence) uplinkSums(usual bands.Frequency) span {
	return e.over(megahertz(usual), func(p *ca.Placed) *big.Rat { return megahertz(p.UplinkWidth) })
}

// transmitting is the number of carriers that transmit, over every choice of them.
func (e *Evidence) transmitting(usual int) span {
	return e.over(big.NewRat(int64(usual), 1), func(*ca.Placed) *big.Rat { return big.NewRat(1, 1) })
}

func (e *Evidence) over(usual *big.Rat, of func(*ca.Placed) *big.Rat) span {
	var sums []*big.Rat
	e.choices(func(transmits func(int) bool) {
		sum := new(big.Rat)
		for i := range e.Assessment.Carriers {
			if p := &e.Assessment.Carriers[i]; p.UplinkWidth != 0 && transmits(i) {
				sum.Add(sum, of(p))
			}
		}
		if !slices.ContainsFunc(sums, func(s *big.Rat) bool { return s.Cmp(sum) == 0 }) {
			sums = append(sums, sum)
		}
	})
	return oneOf(usual, sums)
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

// mean is the arithmetic mean of the values, of which there is one at least.
func mean(values []quantity.Decimal) *big.Rat {
	sum := new(big.Rat)
	for _, v := range values {
		sum.Add(sum, v.Rat())
	}
	return sum.Quo(sum, big.NewRat(int64(len(values)), 1))
}

// extremes are the lowest and the highest of the values, of which there is one at
// least.
func extremes(values []quantity.Decimal) (low, high *big.Rat) {
	return slices.MinFunc(values, quantity.Decimal.Compare).Rat(), slices.MaxFunc(values, quantity.Decimal.Compare).Rat()
}

// mbps is a rate in bit/s as Mbit/s; 0 for none.
func mbps(r exact.Ratio) *big.Rat {
	if r.IsZero() {
		return new(big.Rat)
	}
	return new(big.Rat).Quo(big.NewRat(r.Num, r.Den), big.NewRat(1_000_000, 1))
}

// megahertz is a frequency in MHz.
func megahertz(f bands.Frequency) *big.Rat { return big.NewRat(int64(f), int64(bands.MHz)) }
