package propagation

import (
	"math"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput"
	"spectally/throughput/internal/words"
)

// Coverage is how the reach of carriers is to be worked out.
type Coverage struct {
	// Path is the model with its heights; Frequency is that of each carrier, Distance
	// is where RSRP is asked for, in metres, 0 for nowhere.
	Path  Path
	Entry Entry
	// Depth is how far indoors the user is, in metres; below zero the mean of the
	// report's draw.
	Depth float64
	// Places is the part of places at the edge that are to be served; 0 takes half,
	// which needs no margin.
	Places float64
	// NoiseFigure of the UE in dB; 0 takes DefaultNoiseFigure. BaseNoiseFigure is that
	// of the site; 0 takes DefaultBaseNoiseFigure.
	NoiseFigure, BaseNoiseFigure float64
	// SINR that both ends need, in dB.
	SINR float64
	// UserPower is the power of the UE in dBm; UplinkBlocks are the resource blocks
	// that it spreads it over at the edge. 0 blocks leave the uplink out.
	UserPower    float64
	UplinkBlocks int
	// Requirement asks for the links with the standard's figures too; nil does not.
	Requirement *Requirement
}

// DefaultBaseNoiseFigure is the noise figure of a site's receiver in dB that is
// assumed: 5 dB is usual for wide-area sites in coexistence studies (from memory).
const DefaultBaseNoiseFigure = 5.0

// Emission is what a site sends on a carrier.
type Emission struct {
	Power float64 // over all ports, dBm
	Gain  float64 // of the antenna, dBi, losses taken off
}

// Reach is how far a link goes.
type Reach struct {
	MaxCouplingLoss float64 // from connector to connector, dB
	// MaxPathLoss is what is left for the way outdoors, in dB: with the antenna gain,
	// without entry loss and margin.
	MaxPathLoss float64
	// Range is where the median path loss reaches it, in metres; 0 where the model
	// does not, and RangeError says why.
	Range      float64
	RangeError error
	Beyond     []*bands.ValueError // what is outside the validity of the models
}

// CarrierCoverage is how far a carrier reaches, and how strong it is at a place.
type CarrierCoverage struct {
	Frequency bands.Frequency
	Downlink  Reach // none (see HasDownlink) in a supplementary uplink
	Uplink    Reach
	Required  Required // only where Coverage.Requirement asks for it

	HasDownlink, HasUplink bool
	// EIRP is in dBm over the carrier, PerElement in dBm for each resource element.
	EIRP, PerElement float64
	Entry            EntryLoss
	Margin           float64 // for shadowing and the spread of the entry loss, dB
	// At is the path at Coverage.Path.Distance, RSRP the level there in dBm behind the
	// entry loss, without margin: half of the places have more. Both are given if
	// HasRSRP; RSRPError says why not.
	At        PathLoss
	RSRP      float64
	HasRSRP   bool
	RSRPError error
	// RelativeRange is the range of the downlink, or of the uplink where there is no
	// downlink, for each metre of the first carrier's; 0 where one of them is none.
	RelativeRange float64
}

// Reaches works out how far carriers reach that a site sends with the emissions given,
// one for each. The frequency is the carrier centre, or the middle of the band where
// the carrier says no place. Errors are of type *CarrierError, or *bands.ValueError
// for a figure of the coverage; what a model alone cannot tell is left to the fields
// of the answer.
func (c *Coverage) Reaches(carriers ca.Combination, emissions []Emission) ([]CarrierCoverage, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	list := make([]CarrierCoverage, len(carriers))
	a := ca.Assess(carriers)
	for i := range carriers {
		fail := func(err error) ([]CarrierCoverage, error) {
			return nil, &throughput.CarrierError{Carrier: i + 1, Text: carriers[i].String(), Err: err}
		}
		if err := throughput.Usable(a, i); err != nil {
			return fail(err)
		}
		var e Emission
		if i < len(emissions) {
			e = emissions[i]
		}
		if err := c.reach(&a.Carriers[i], e, &list[i]); err != nil {
			return fail(err)
		}
		if own, first := list[i].reach(), list[0].reach(); own > 0 && first > 0 {
			list[i].RelativeRange = own / first
		}
	}
	return list, nil
}

// reach is the range that is compared.
func (c *CarrierCoverage) reach() float64 {
	if c.HasDownlink {
		return c.Downlink.Range
	}
	return c.Uplink.Range
}

func (c *Coverage) reach(p *ca.Placed, e Emission, out *CarrierCoverage) error {
	d := bands.Downlink
	if p.DownlinkWidth == 0 {
		d = bands.Uplink
	}
	out.Frequency = frequencyOf(p, d)
	out.EIRP = e.Power + e.Gain
	path := c.Path
	path.Frequency = out.Frequency
	if path.Distance == 0 {
		path.Distance = 1
	}
	if err := path.check(); err != nil {
		return err
	}
	var err error
	if out.Entry, err = c.Entry.Loss(path.Scenario, out.Frequency, c.Depth); err != nil {
		return err
	}
	if c.Places != 0 {
		if out.Margin, err = ShadowMargin(c.Places, path.edgeShadow(), out.Entry.Sigma); err != nil {
			return err
		}
	}
	if len(out.Entry.Beyond) > 0 && !path.Extrapolate {
		return out.Entry.Beyond[0]
	}
	if out.HasDownlink = p.DownlinkWidth > 0; out.HasDownlink {
		out.PerElement = PowerPerElement(out.EIRP, p.DownlinkBlocks)
		budget := LinkBudget{Power: e.Power, Blocks: p.DownlinkBlocks, SCS: p.Spacing, NoiseFigure: orUsual(c.NoiseFigure, throughput.DefaultNoiseFigure), SINR: c.SINR}
		if err := c.link(&budget, e.Gain, path, out, &out.Downlink); err != nil {
			return err
		}
	}
	up := path
	if p.UplinkWidth > 0 {
		up.Frequency = frequencyOf(p, bands.Uplink)
	}
	if c.Requirement != nil {
		c.required(p, e, path, up, out)
	}
	if c.UplinkBlocks > 0 && p.UplinkWidth > 0 {
		out.HasUplink = true
		budget := LinkBudget{Power: c.UserPower, Blocks: min(c.UplinkBlocks, p.UplinkBlocks), SCS: p.Spacing, NoiseFigure: orUsual(c.BaseNoiseFigure, DefaultBaseNoiseFigure), SINR: c.SINR}
		if err := c.link(&budget, e.Gain, up, out, &out.Uplink); err != nil {
			return err
		}
	}
	if c.Path.Distance > 0 && out.HasDownlink {
		if out.At, out.RSRPError = path.Loss(); out.RSRPError == nil {
			out.RSRP, out.HasRSRP = RSRP(out.EIRP, p.DownlinkBlocks, out.At.DB+out.Entry.DB()), true
		}
	}
	return nil
}

// link works out how far one direction goes.
func (c *Coverage) link(b *LinkBudget, gain float64, path Path, of *CarrierCoverage, r *Reach) error {
	var err error
	if r.MaxCouplingLoss, err = b.MaxCouplingLoss(); err != nil {
		return err
	}
	r.reach(gain, path, of)
	return nil
}

// reach works out how far the largest coupling loss goes.
func (r *Reach) reach(gain float64, path Path, of *CarrierCoverage) {
	r.MaxPathLoss = r.MaxCouplingLoss + gain - of.Entry.DB() - of.Margin
	distance, loss, err := path.Range(r.MaxPathLoss)
	r.Range, r.RangeError = distance, err
	r.Beyond = append(append(r.Beyond, of.Entry.Beyond...), loss.Beyond...)
}

// frequencyOf is the carrier centre, or the middle of the band in the direction.
func frequencyOf(p *ca.Placed, d bands.Direction) bands.Frequency {
	if f := p.CentreIn(d); f != 0 {
		return f
	}
	s := p.Info.Span(d)
	return s.Low + s.Width()/2
}

// edgeShadow is the standard deviation of shadowing far from the site, in dB.
func (p Path) edgeShadow() float64 {
	p.Distance = farAway
	if l := p.limits(); l != nil {
		p.Distance = l.metres.high
	}
	loss := p.loss()
	return loss.Shadow
}

// farAway is the distance in metres at which the spread of models without a limit is taken:
// from there on clutter does not change.
const farAway = 2000

// check refuses figures out of any sensible range.
func (c *Coverage) check() error {
	for _, v := range [...]struct {
		name            string
		value, low, top float64
		unit            string
	}{
		{"places", c.Places, 0, 0.999, ""},
		{"noise figure", c.NoiseFigure, 0, 30, " dB"},
		{"noise figure of the site", c.BaseNoiseFigure, 0, 30, " dB"},
		{"SINR", c.SINR, -30, 40, " dB"},
		{"power of the UE", c.UserPower, -40, 60, " dBm"},
		{"uplink blocks", float64(c.UplinkBlocks), 0, 275, ""},
	} {
		if math.IsNaN(v.value) || v.value < v.low || v.value > v.top {
			return &bands.ValueError{Param: v.name, Got: words.Number(v.value) + v.unit, Allowed: words.Number(v.low) + " to " + words.Number(v.top) + v.unit}
		}
	}
	return nil
}
