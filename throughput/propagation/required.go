package propagation

import (
	"spectally/bands"
	"spectally/bands/rf"
	"spectally/ca"
)

// Requirement is for which UE and site the standard's figures are taken as both ends of a
// link.
type Requirement struct {
	UE      rf.UE
	Station rf.StationClass
}

// DefaultRequirement is that of a wide-area site and a UE of power class 3 with two receive
// ports.
func DefaultRequirement() Requirement {
	return Requirement{rf.UE{PowerClass: "3", ReceivePorts: 2}, rf.WideArea}
}

// RequiredLink is how far a link goes until the level at the receiver falls to reference
// sensitivity: a conducted test figure (see package rf), no promise of coverage.
type RequiredLink struct {
	Power    float64 // of the sender, dBm: of the site, or the most of a UE
	Receiver rf.Receiver
	Sources  []bands.Source // of the power of a UE, and of the receiver
	Reach
}

// Required are the links of a carrier between ends with the standard's figures.
type Required struct {
	Downlink, Uplink *RequiredLink // nil where there is none, or a figure lacks
	Missing          []error       // figures that the tables lack
}

// required works out the links with the standard's figures. The power of a carrier, over
// its whole width, stands against the sensitivity of the UE; that of the UE against the
// sensitivity of the site, which is for one instance of its reference channel.
func (c *Coverage) required(p *ca.Placed, e Emission, down, up Path, of *CarrierCoverage) {
	ends, out := c.Requirement, &of.Required
	if p.Band.RAT != bands.NR || p.Info.Range != bands.FR1 {
		out.Missing = []error{&bands.ValueError{Param: "band for REFSENS and UE power", Got: p.Band.String(), Allowed: "a terrestrial NR band in FR1, as there are no tables here for UEs of others"}}
		return
	}
	link := func(power float64, r rf.Receiver, path Path, sources ...bands.Source) *RequiredLink {
		l := &RequiredLink{Power: power, Receiver: r, Sources: append(sources, r.Sources...)}
		l.MaxCouplingLoss = power - r.Level.Float()
		l.reach(e.Gain, path, of)
		return l
	}
	if p.DownlinkWidth > 0 {
		if r, err := ends.UE.Receiver(p.Band, p.Spacing, p.DownlinkWidth); err != nil {
			out.Missing = append(out.Missing, err)
		} else {
			out.Downlink = link(e.Power, r, down)
		}
	}
	if p.UplinkWidth > 0 {
		power, err := ends.UE.Power(p.Band)
		if err != nil {
			out.Missing = append(out.Missing, err)
		}
		r, lacks := ends.Station.Receiver(p.Band, p.Spacing, p.UplinkWidth)
		if lacks != nil {
			out.Missing = append(out.Missing, lacks)
		}
		if err == nil && lacks == nil {
			out.Uplink = link(power.Level.Float(), r, up, power.Source)
		}
	}
}
