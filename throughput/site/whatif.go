package site

import (
	"cmp"
	"slices"
	"strconv"

	"spectally/bands"
	"spectally/throughput/exact"
)

// ChangeKind is a sort of change to a site.
type ChangeKind string

// The sorts of change.
const (
	ChangeCarrier  ChangeKind = "carrier"  // one more carrier
	ChangeWidth    ChangeKind = "width"    // a wider carrier
	ChangePorts    ChangeKind = "ports"    // more antenna ports
	ChangeSector   ChangeKind = "sector"   // another sector
	ChangeBackhaul ChangeKind = "backhaul" // a link that carries the need
)

// WhatIf is what one change to a site would do.
type WhatIf struct {
	Kind ChangeKind
	Text string // the change in a few words
	Note string // what the figure leaves out; may be empty
	// After is the site with the change.
	After *SiteCapacity
	// Gain and UplinkGain are what the mean of the busy hour gains on the air,
	// Delivered and UplinkDelivered what of it the link lets through, in bit/s.
	Gain, UplinkGain           exact.Ratio
	Delivered, UplinkDelivered exact.Ratio
	// NeedGain and UplinkNeedGain are how much more the link has to carry.
	NeedGain, UplinkNeedGain exact.Ratio
}

// portLadder are the numbers of ports that builds have.
var portLadder = [...]int{2, 4, 8, 16, 32, 64}

// PortLadder lists the numbers of ports that builds usually have (common practice, no
// source).
func PortLadder() []int { return portLadder[:] }

// WhatIf tries one change after the other and ranks them: by what the link delivers
// in the downlink, then by what the air gains there, then by the same in the uplink.
// Carriers and widths that a band has no room for are left out; whether the spectrum
// may be used is another question. Errors are of type *Error.
func (c *SiteCapacity) WhatIf() ([]WhatIf, error) {
	var list []WhatIf
	try := func(kind ChangeKind, text, note string, changed *Site) error {
		after, err := Plan(changed)
		if err != nil {
			return err
		}
		list = append(list, c.compared(kind, text, note, after))
		return nil
	}
	for _, k := range c.site.kinds() {
		if err := c.changesOf(k, try); err != nil {
			return nil, err
		}
	}
	radios := c.site.radioKinds()
	for _, k := range radios {
		name := k.carriers
		if slices.ContainsFunc(radios, func(o radioKind) bool { return o != k && o.carriers == k.carriers }) {
			name += " with " + portsText(k.transmit, k.receive)
		}
		if err := c.morePorts(k, name, try); err != nil {
			return nil, err
		}
	}
	best := 0
	for i := range c.Sectors {
		if c.Sectors[i].Downlink.Mean.Cmp(c.Sectors[best].Downlink.Mean) > 0 {
			best = i
		}
	}
	if s := c.site.Sectors[best]; s.count() < maxCount && c.SectorCount() < maxSectors {
		more := c.site.clone()
		more.Sectors[best].Count = s.count() + 1
		text := "another sector"
		if s.Name != "" {
			text += " like " + s.Name
		}
		if err := try(ChangeSector, text, "As much interference between sectors as before is taken; more sectors bring more of it.", more); err != nil {
			return nil, err
		}
	}
	if !c.Backhaul.Downlink.Enough || !c.Backhaul.Uplink.Enough {
		more := c.site.clone()
		text := "a link that carries the need:"
		for _, d := range bothDirections {
			if b := c.Backhaul.In(d); !b.Enough {
				*more.Backhaul.linkIn(d) = b.Need
				text += " " + mbps(b.Need) + " " + d.Short()
			}
		}
		note := ""
		if c.Backhaul.Downlink.FitsMeans && c.Backhaul.Uplink.FitsMeans {
			note = "The mean is carried in full already; with this link a peak is too."
		}
		if err := try(ChangeBackhaul, text, note, more); err != nil {
			return nil, err
		}
	}
	slices.SortStableFunc(list, func(a, b WhatIf) int {
		return cmp.Or(b.Delivered.Cmp(a.Delivered), b.Gain.Cmp(a.Gain), b.UplinkDelivered.Cmp(a.UplinkDelivered), b.UplinkGain.Cmp(a.UplinkGain))
	})
	return list, nil
}

// changesOf tries the changes to carriers of a kind.
func (c *SiteCapacity) changesOf(k carrierKind, try func(kind ChangeKind, text, note string, changed *Site) error) error {
	name := k.name()
	if c.site.hasLike(k) {
		name += " with " + portsText(k.transmit, k.receive)
	}
	const spectrum = "The band has room for it; who may use the spectrum is for the national plan."
	if more, ok := c.site.withCarrier(k); ok {
		if err := try(ChangeCarrier, "one more "+name+" beside each", spectrum, more); err != nil {
			return err
		}
	}
	if more, wider, ok := c.site.withWidth(k); ok {
		return try(ChangeWidth, wider.MHz()+" MHz in place of "+name, spectrum, more)
	}
	return nil
}

// morePorts tries the next larger number of ports for the radios of a kind.
func (c *SiteCapacity) morePorts(k radioKind, name string, try func(kind ChangeKind, text, note string, changed *Site) error) error {
	for _, ports := range portLadder {
		if ports <= k.transmit {
			continue
		}
		note := ""
		if k.transmit >= imt2020Ports {
			note = "Nothing that is published here tells the mean of more than " + strconv.Itoa(imt2020Ports) + " ports, so it is held; range and peak of the cell gain."
		}
		return try(ChangePorts, strconv.Itoa(ports)+" transmit ports in place of "+strconv.Itoa(k.transmit)+" for "+name, note, c.site.withPorts(k, ports))
	}
	return nil
}

func (b *Backhaul) linkIn(d bands.Direction) *exact.Ratio {
	if d == bands.Uplink {
		return &b.Uplink
	}
	return &b.Downlink
}

// compared is a change measured against the site as it is.
func (c *SiteCapacity) compared(kind ChangeKind, text, note string, after *SiteCapacity) WhatIf {
	w := WhatIf{Kind: kind, Text: text, Note: note, After: after}
	for _, v := range [...]struct {
		gain          *exact.Ratio
		after, before exact.Ratio
	}{
		{&w.Gain, after.Downlink.Mean, c.Downlink.Mean},
		{&w.UplinkGain, after.Uplink.Mean, c.Uplink.Mean},
		{&w.Delivered, after.Backhaul.Downlink.Delivered, c.Backhaul.Downlink.Delivered},
		{&w.UplinkDelivered, after.Backhaul.Uplink.Delivered, c.Backhaul.Uplink.Delivered},
		{&w.NeedGain, after.Backhaul.Downlink.Need, c.Backhaul.Downlink.Need},
		{&w.UplinkNeedGain, after.Backhaul.Uplink.Need, c.Backhaul.Uplink.Need},
	} {
		*v.gain = exact.Whole(0).Add(v.after).Add(exact.Of(-v.before.Num, v.before.Den))
	}
	return w
}
