package propagation

import (
	"math"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput"
)

// DefaultUserPower is the power of a UE in dBm that is assumed where none is given:
// that of power class 3 (TS 38.101-1 clause 6.2.1, TS 36.101 clause 6.2.2).
const DefaultUserPower = 23.0

// LinkRates are what a carrier lets expect at a distance, in bit/s; zero where it has no
// such direction.
type LinkRates struct{ Downlink, Uplink float64 }

// Rung is what carriers let expect at a distance.
type Rung struct {
	Distance float64 // on the map, in metres
	Carriers []LinkRates
	// Sum is that of all carriers, in the uplink of those on which the UE transmits.
	Sum LinkRates
	// Err says why the model has no loss there; Extrapolated that it is outside its
	// validity.
	Err          error
	Extrapolated bool
	Source       bands.Source // of the model
}

// Ladder works out rates by distance.
type Ladder struct {
	coverage  *Coverage
	emissions []Emission
	result    *throughput.Result
	alone     []*throughput.Result // each carrier by itself, with its uplink in use
	placed    *ca.Assessment
	reached   []CarrierCoverage
}

// NewLadder prepares carriers of one sector for their rates by distance, with the noise
// of receivers alone: no interference from other cells. At each place the power is spread
// over as many layers as yield most, in the uplink over as many resource blocks; the loss
// has the margin of the coverage, so that its part of the places has more. Errors are
// those of [Coverage.Reaches] and [throughput.Rate].
func (c *Coverage) NewLadder(carriers ca.Combination, emissions []Emission) (*Ladder, error) {
	l := &Ladder{coverage: c, emissions: emissions, placed: ca.Assess(carriers)}
	var err error
	if l.reached, err = c.Reaches(carriers, emissions); err != nil {
		return nil, err
	}
	if l.result, err = scheduled(l.placed); err != nil {
		return nil, err
	}
	for i := range carriers {
		one := carriers[i]
		if l.placed.Carriers[i].UplinkWidth != 0 {
			one.Transmit = ca.Yes
		}
		r, err := scheduled(ca.Assess(ca.Combination{one}))
		if err != nil {
			return nil, err
		}
		l.alone = append(l.alone, r)
	}
	return l, nil
}

func scheduled(a *ca.Assessment) (*throughput.Result, error) {
	r, err := throughput.Rate(a)
	if err == nil {
		err = r.Schedule(throughput.Settings{})
	}
	return r, err
}

// Ceiling is the scheduled rate of all carriers, which none of the others exceeds.
func (l *Ladder) Ceiling() LinkRates {
	up := 0.0
	if !l.result.Uplink.Scheduled.IsZero() {
		up = l.result.Uplink.Scheduled.Float()
	}
	return LinkRates{l.result.Downlink.Scheduled.Float(), up}
}

// Assumptions lists what the rates of the carriers rest on that these do not say.
func (l *Ladder) Assumptions() []throughput.Assumption { return l.result.Assumptions() }

// At is the rung at a distance in metres.
func (l *Ladder) At(distance float64) Rung {
	r := Rung{Distance: distance, Carriers: make([]LinkRates, len(l.placed.Carriers))}
	for i := range l.placed.Carriers {
		p, rates := &l.placed.Carriers[i], &l.alone[i].Carriers[0]
		for _, d := range [...]bands.Direction{bands.Downlink, bands.Uplink} {
			link := rates.Link(d)
			if link.IsZero() || p.Width(d) == 0 {
				continue
			}
			path := l.coverage.Path
			path.Distance, path.Frequency = distance, frequencyOf(p, d)
			loss, err := path.Loss()
			if err != nil {
				r.Err = err
				return r
			}
			r.Extrapolated, r.Source = r.Extrapolated || len(loss.Beyond) > 0, loss.Source
			total := loss.DB + l.reached[i].Entry.DB() + l.reached[i].Margin
			rate := min(l.expected(i, d, link, rates, total), link.Scheduled.Float())
			if d == bands.Downlink {
				r.Carriers[i].Downlink = rate
				r.Sum.Downlink += rate
				continue
			}
			r.Carriers[i].Uplink = rate
			if u := &l.result.Carriers[i].Uplink; !u.IsZero() && u.Counted {
				r.Sum.Uplink += rate
			}
		}
	}
	return r
}

// expected is the most that a link yields behind a loss, over numbers of layers and, in
// the uplink, of resource blocks.
func (l *Ladder) expected(i int, d bands.Direction, link *throughput.Link, rates *throughput.CarrierRates, loss float64) float64 {
	e := Emission{}
	if i < len(l.emissions) {
		e = l.emissions[i]
	}
	power, noise := e.Power+e.Gain, orUsual(l.coverage.NoiseFigure, throughput.DefaultNoiseFigure)
	if d == bands.Uplink {
		power, noise = orUsual(l.coverage.UserPower, DefaultUserPower)+e.Gain, orUsual(l.coverage.BaseNoiseFigure, DefaultBaseNoiseFigure)
	}
	curve := throughput.LinkCurveTR38803(d)
	if l.placed.Carriers[i].Band.RAT == bands.LTE {
		curve = throughput.LinkCurveTR36942(d)
	}
	floor := throughput.SubcarrierNoise(link.SCS, noise)
	share := rates.Frame.Share(d)
	best := 0.0
	blocks := link.ResourceBlocks
	for n := blocks; n >= 1; n-- {
		if d == bands.Downlink && n < blocks {
			break // the site sends over the whole carrier
		}
		snr := PowerPerElement(power, n) - loss - floor
		width := bands.Frequency(int64(link.Width) * int64(n) / int64(blocks))
		for layers := 1; layers <= link.Layers; layers++ {
			efficiency := curve.Efficiency(snr - 10*math.Log10(float64(layers)))
			best = max(best, throughput.ExpectedRate(efficiency, layers, width, share))
		}
	}
	return best
}

// ladderEnds are the distances in metres between which a rate is looked for.
var ladderEnds = [2]float64{10, 100_000}

// Reach is the distance in metres up to which the carriers together yield a rate in
// bit/s in a direction. It is zero if they do not even near the site; atEnd tells that
// they still do where the model ends.
func (l *Ladder) Reach(d bands.Direction, rate float64) (distance float64, atEnd bool) {
	holds := func(at float64) (ok, known bool) {
		r := l.At(at)
		sum := r.Sum.Downlink
		if d == bands.Uplink {
			sum = r.Sum.Uplink
		}
		return sum >= rate, r.Err == nil
	}
	low, high := ladderEnds[0], ladderEnds[1]
	for ; low < high; low *= 1.25 { // models begin at some metres
		if ok, known := holds(low); known {
			if !ok {
				return 0, false
			}
			break
		}
	}
	end := true
	for range 60 {
		middle := math.Sqrt(low * high)
		ok, known := holds(middle)
		if ok && known {
			low = middle
			continue
		}
		high, end = middle, !known
	}
	return low, end
}
