package sitereport

import (
	"strconv"

	"spectally/bands"
	"spectally/cmd/internal/render"
	"spectally/throughput/site"
)

func (s *study) value() *siteValue {
	c := s.capacity
	changes, keeps := site.WhatPortsChange()
	v := &siteValue{
		Name: s.Site.Name, Date: s.Date, Place: s.Place, Author: s.Author, Notes: present(s.Notes),
		Site: totalValue{
			Sectors: c.SectorCount(), Downlink: valueOfCapacity(&c.Downlink), Uplink: valueOfCapacity(&c.Uplink),
			Backhaul: valueOfBackhaul(&c.Backhaul), Users: valueOfUsers(&c.Users), Volume: valueOfVolume(&c.Volume),
		},
		Limits: []limitValue{}, WhatIf: []changeValue{}, PortsChange: changes, PortsKeep: keeps,
		Coverage: s.coverageValue(), Options: comparedValues(s.options), Growth: s.growthValue(), Assumptions: []assumptionValue{}, Cautions: s.cautions(), Sources: present(s.sources()), Working: present(s.working()),
	}
	for i := range c.Sectors {
		v.Sectors = append(v.Sectors, s.sectorValue(i))
	}
	for _, l := range c.Limits() {
		v.Limits = append(v.Limits, limitValue{shortNames[l.Direction], string(l.Kind), l.Text})
	}
	for i := range s.changes {
		w := &s.changes[i]
		v.WhatIf = append(v.WhatIf, changeValue{
			string(w.Kind), w.Text, w.Note, mbps(w.Gain), mbps(w.UplinkGain), mbps(w.Delivered), mbps(w.UplinkDelivered), mbps(w.NeedGain), mbps(w.UplinkNeedGain),
		})
	}
	for i := range s.builds {
		b := &s.builds[i]
		v.Builds = append(v.Builds, buildValue{
			b.Ports, level(b.ArrayGain), b.CellLayers, b.UplinkCellLayers, valueOfCapacity(&b.Site.Downlink), valueOfCapacity(&b.Site.Uplink),
			valueOfBackhaul(&b.Site.Backhaul), valueOfUsers(&b.Site.Users), b.Text,
		})
	}
	for _, a := range s.assumptions() {
		v.Assumptions = append(v.Assumptions, assumptionValue{a.String(), valueOfSource(a.Source)})
	}
	return v
}

func (s *study) sectorValue(i int) sectorValue {
	c := &s.capacity.Sectors[i]
	v := sectorValue{
		Number: i + 1, Name: c.Name, Count: c.Count, Environment: c.Environment.String(),
		Load: decimals(s.loadOf(i, bands.Downlink), 1, 6), UplinkLoad: decimals(s.loadOf(i, bands.Uplink), 1, 6),
		Downlink: valueOfCapacity(&c.Downlink), Uplink: valueOfCapacity(&c.Uplink),
		Backhaul: valueOfBackhaul(&c.Backhaul), Users: valueOfUsers(&c.Users), Value: s.together[i].Value(),
	}
	for k := range c.Carriers {
		v.Carriers = append(v.Carriers, s.carrierValue(i, k))
	}
	return v
}

func (s *study) carrierValue(sector, i int) carrierValue {
	c := &s.capacity.Sectors[sector].Carriers[i]
	radio := s.radioOf(sector, c)
	return carrierValue{
		Carrier: s.together[sector].Carrier(i),
		Radio:   c.Radio + 1, Name: s.Radios[sector][c.Radio].Name, Transmit: radio.TransmitPorts, Receive: radio.ReceivePorts,
		Downlink: valueOfLink(&c.Downlink), Uplink: valueOfLink(&c.Uplink),
	}
}

func valueOfLink(l *site.LinkCapacity) *linkValue {
	if l.IsZero() {
		return nil
	}
	return &linkValue{
		capacityValue: *valueOfCapacity(&l.Capacity), Share: decimals(l.Share, 1, 6), Layers: l.UserLayers, CellLayers: l.CellLayers, QAM: l.QAM,
		LayersAssumed: l.LayersAssumed, QAMAssumed: l.QAMAssumed, InUser: l.InUser,
		Efficiency: valueOfEfficiency(&l.Average), EdgeEfficiency: valueOfEfficiency(&l.AtEdge), LimitedBy: l.Bound.String(),
	}
}

func valueOfCapacity(c *site.Capacity) *capacityValue {
	if c.Width == 0 {
		return nil
	}
	return &capacityValue{
		Width: megahertz(c.Width), Effective: megahertz(c.Effective), Max: mbps(c.User.Max), Schedulable: mbps(c.User.Schedulable), Scheduled: mbps(c.User.Scheduled),
		CellMax: mbps(c.Cell.Max), CellSchedulable: mbps(c.Cell.Schedulable), CellScheduled: mbps(c.Cell.Scheduled), FullLoad: mbps(c.Full), BusyHour: mbps(c.Mean), Edge: mbps(c.Edge),
	}
}

func valueOfEfficiency(e *site.Efficiency) efficiencyValue {
	return efficiencyValue{decimals(e.Value, 1, 6), e.Basis.String(), valueOfSource(e.Source), e.Origin, e.FromMemory}
}

func valueOfSource(s bands.Source) *render.Source {
	if s == (bands.Source{}) {
		return nil
	}
	return new(render.Source(s))
}

func valueOfBackhaul(b *site.BackhaulNeed) backhaulValue {
	return backhaulValue{decimals(b.Factor, 1, 6), valueOfNeed(&b.Downlink), valueOfNeed(&b.Uplink)}
}

func valueOfNeed(l *site.BackhaulLink) linkNeedValue {
	v := linkNeedValue{Peak: mbps(l.Peak), Means: mbps(l.Means), By: "busy-hour", Need: mbps(l.Need), Link: optionalMbps(l.Link), Delivered: mbps(l.Delivered)}
	if l.ByPeak {
		v.By = "peak"
	}
	if v.Link != nil {
		v.Enough = &l.Enough
	}
	return v
}

func valueOfUsers(u *site.Users) *usersValue {
	if !u.Given {
		return nil
	}
	return &usersValue{u.Active, u.Served, shortNames[u.By]}
}

func valueOfVolume(v *site.Volume) volumeValue {
	of := func(b *site.DirectionBytes) bytesValue {
		return bytesValue{gigabytes(b.Downlink), gigabytes(b.Uplink)}
	}
	return volumeValue{decimals(v.Share, 1, 6), of(&v.BusyHour), of(&v.Day), of(&v.Month)}
}

// present makes an empty list of nothing, so that JSON shows [] and not null.
func present[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

func itoa(n int) string { return strconv.Itoa(n) }
