package sitereport

import (
	"strconv"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/render"
	"spectally/throughput"
)

// siteValue is the answer as JSON shows it. Shares are parts of 1, widths MHz, rates
// Mbit/s. What there is not is null.
type siteValue struct {
	Name        string            `json:"name"`
	Date        string            `json:"date"`
	Place       string            `json:"place"`
	Author      string            `json:"author"`
	Notes       []string          `json:"notes"`
	Sectors     []sectorValue     `json:"sectors"`
	Site        totalValue        `json:"site"`
	Limits      []limitValue      `json:"limits"`
	WhatIf      []changeValue     `json:"what_if"` // the best first
	Builds      []buildValue      `json:"builds"`
	PortsChange []string          `json:"ports_change"`
	PortsKeep   []string          `json:"ports_keep"`
	Coverage    *coverageValue    `json:"coverage"`
	Assumptions []assumptionValue `json:"assumptions"`
	Cautions    []string          `json:"cautions"`
	Sources     []render.Source   `json:"sources"`
	Working     []render.Step     `json:"working"`
}

// capacityValue is a direction of a carrier, a sector or the site.
type capacityValue struct {
	Width         figure `json:"width_mhz"`
	Effective     figure `json:"effective_mhz"`  // weighted by the share of time
	Max           figure `json:"max_rate_mbps"`  // one phone
	Scheduled     figure `json:"scheduled_mbps"` // one phone
	CellMax       figure `json:"cell_max_rate_mbps"`
	CellScheduled figure `json:"cell_scheduled_mbps"`
	FullLoad      figure `json:"full_load_mbps"`
	BusyHour      figure `json:"busy_hour_mbps"`
	Edge          figure `json:"edge_mbps"`
}

type linkValue struct {
	capacityValue
	Share          figure          `json:"share"`
	Layers         int             `json:"layers"` // one phone
	CellLayers     int             `json:"cell_layers"`
	QAM            int             `json:"qam"`
	LayersAssumed  bool            `json:"layers_assumed"`
	QAMAssumed     bool            `json:"qam_assumed"`
	InUser         bool            `json:"in_sector_peak"` // the peak of one phone in the sector counts it
	Efficiency     efficiencyValue `json:"efficiency"`
	EdgeEfficiency efficiencyValue `json:"edge_efficiency"`
	LimitedBy      string          `json:"limited_by"` // spectrum or layers
}

type efficiencyValue struct {
	Value      figure         `json:"bps_hz"`
	Basis      string         `json:"basis"`
	Source     *render.Source `json:"source"`
	Origin     string         `json:"origin"` // of the planner's own figure
	FromMemory bool           `json:"from_memory"`
}

type carrierValue struct {
	Radio    int        `json:"radio"` // of the sector, counted from 1
	Name     string     `json:"radio_name"`
	Text     string     `json:"text"` // in the notation
	Band     string     `json:"band"`
	RAT      string     `json:"rat"`
	Duplex   string     `json:"duplex"`
	Frame    string     `json:"frame"`
	Transmit int        `json:"transmit_ports"`
	Receive  int        `json:"receive_ports"`
	Downlink *linkValue `json:"dl"`
	Uplink   *linkValue `json:"ul"`
}

type sectorValue struct {
	Number      int              `json:"sector"`
	Name        string           `json:"name"`
	Count       int              `json:"count"`
	Environment string           `json:"environment"`
	Load        figure           `json:"load"`
	UplinkLoad  figure           `json:"ul_load"`
	Carriers    []carrierValue   `json:"carriers"`
	Downlink    *capacityValue   `json:"dl"`
	Uplink      *capacityValue   `json:"ul"`
	Backhaul    backhaulValue    `json:"backhaul"` // of one such sector by itself
	Users       *usersValue      `json:"users"`
	Findings    []render.Finding `json:"findings"` // on one phone that uses all carriers
}

// totalValue is the whole site.
type totalValue struct {
	Sectors  int            `json:"sectors"`
	Downlink *capacityValue `json:"dl"`
	Uplink   *capacityValue `json:"ul"`
	Backhaul backhaulValue  `json:"backhaul"`
	Users    *usersValue    `json:"users"`
	Volume   volumeValue    `json:"volume"`
}

type backhaulValue struct {
	Factor   figure        `json:"overhead_factor"`
	Downlink linkNeedValue `json:"dl"`
	Uplink   linkNeedValue `json:"ul"`
}

type linkNeedValue struct {
	Peak      figure  `json:"peak_mbps"`
	Means     figure  `json:"busy_hour_mbps"`
	By        string  `json:"by"` // peak or busy-hour: the larger
	Need      figure  `json:"need_mbps"`
	Link      *figure `json:"link_mbps"`
	Enough    *bool   `json:"enough"`
	Delivered figure  `json:"delivered_mbps"` // of the busy hour, what the link lets through
}

type usersValue struct {
	Active int64  `json:"active"`
	Served int64  `json:"served"`
	By     string `json:"by"` // the direction that decides
}

type volumeValue struct {
	BusyHourShare figure     `json:"busy_hour_share"`
	BusyHour      bytesValue `json:"busy_hour"`
	Day           bytesValue `json:"day"`
	Month         bytesValue `json:"month"`
}

type bytesValue struct {
	Downlink figure `json:"dl_gb"`
	Uplink   figure `json:"ul_gb"`
}

type limitValue struct {
	Direction string `json:"direction"`
	Kind      string `json:"kind"`
	Text      string `json:"text"`
}

type changeValue struct {
	Kind            string `json:"kind"`
	Text            string `json:"text"`
	Note            string `json:"note"`
	Gain            figure `json:"dl_gain_mbps"` // of the busy hour, on the air
	UplinkGain      figure `json:"ul_gain_mbps"`
	Delivered       figure `json:"dl_delivered_gain_mbps"`
	UplinkDelivered figure `json:"ul_delivered_gain_mbps"`
	Need            figure `json:"dl_need_gain_mbps"` // of the link
	UplinkNeed      figure `json:"ul_need_gain_mbps"`
}

type buildValue struct {
	Ports            int            `json:"ports"`
	ArrayGain        figure         `json:"array_gain_db"`
	CellLayers       int            `json:"cell_layers"`
	UplinkCellLayers int            `json:"ul_cell_layers"`
	Downlink         *capacityValue `json:"dl"`
	Uplink           *capacityValue `json:"ul"`
	Backhaul         backhaulValue  `json:"backhaul"`
	Users            *usersValue    `json:"users"`
	Text             []string       `json:"text"`
}

type assumptionValue struct {
	Text   string         `json:"text"`
	Source *render.Source `json:"source"`
}

func (s *study) value() *siteValue {
	c := s.capacity
	changes, keeps := throughput.WhatPortsChange()
	v := &siteValue{
		Name: s.Site.Name, Date: s.Date, Place: s.Place, Author: s.Author, Notes: present(s.Notes),
		Site: totalValue{
			Sectors: c.SectorCount(), Downlink: valueOfCapacity(&c.Downlink), Uplink: valueOfCapacity(&c.Uplink),
			Backhaul: valueOfBackhaul(&c.Backhaul), Users: valueOfUsers(&c.Users), Volume: valueOfVolume(&c.Volume),
		},
		Limits: []limitValue{}, WhatIf: []changeValue{}, PortsChange: changes, PortsKeep: keeps,
		Coverage: s.coverageValue(), Assumptions: []assumptionValue{}, Cautions: s.cautions(), Sources: present(s.sources()), Working: present(s.working()),
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
		v.Assumptions = append(v.Assumptions, assumptionValue{a.Text, valueOfSource(a.Source)})
	}
	return v
}

func (s *study) sectorValue(i int) sectorValue {
	c := &s.capacity.Sectors[i]
	v := sectorValue{
		Number: i + 1, Name: c.Name, Count: c.Count, Environment: c.Environment.String(),
		Load: decimals(s.loadOf(i, bands.Downlink), 1, 6), UplinkLoad: decimals(s.loadOf(i, bands.Uplink), 1, 6),
		Downlink: valueOfCapacity(&c.Downlink), Uplink: valueOfCapacity(&c.Uplink),
		Backhaul: valueOfBackhaul(&c.Backhaul), Users: valueOfUsers(&c.Users), Findings: present(s.together[i].findings),
	}
	for k := range c.Carriers {
		v.Carriers = append(v.Carriers, s.carrierValue(i, &c.Carriers[k]))
	}
	return v
}

func (s *study) carrierValue(sector int, c *throughput.CarrierCapacity) carrierValue {
	radio := s.radioOf(sector, c)
	v := carrierValue{
		Radio: c.Radio + 1, Name: s.Radios[sector][c.Radio].Name, Text: c.Carrier.String(), Band: c.Carrier.Band.String(), RAT: c.Carrier.Band.RAT.String(),
		Frame: c.Frame.String(), Transmit: radio.TransmitPorts, Receive: radio.ReceivePorts,
		Downlink: valueOfLink(&c.Downlink), Uplink: valueOfLink(&c.Uplink),
	}
	if info := ca.Check(ca.Combination{c.Carrier}).Carriers[0].Info; info != nil {
		v.Duplex = info.Duplex.String()
	}
	return v
}

func valueOfLink(l *throughput.LinkCapacity) *linkValue {
	if l.IsZero() {
		return nil
	}
	return &linkValue{
		capacityValue: *valueOfCapacity(&l.Capacity), Share: decimals(l.Share, 1, 6), Layers: l.UserLayers, CellLayers: l.CellLayers, QAM: l.QAM,
		LayersAssumed: l.LayersAssumed, QAMAssumed: l.QAMAssumed, InUser: l.InUser,
		Efficiency: valueOfEfficiency(&l.Average), EdgeEfficiency: valueOfEfficiency(&l.AtEdge), LimitedBy: l.Bound.String(),
	}
}

func valueOfCapacity(c *throughput.Capacity) *capacityValue {
	if c.Width == 0 {
		return nil
	}
	return &capacityValue{
		Width: megahertz(c.Width), Effective: megahertz(c.Effective), Max: mbps(c.User.Max), Scheduled: mbps(c.User.Scheduled),
		CellMax: mbps(c.Cell.Max), CellScheduled: mbps(c.Cell.Scheduled), FullLoad: mbps(c.Full), BusyHour: mbps(c.Mean), Edge: mbps(c.Edge),
	}
}

func valueOfEfficiency(e *throughput.Efficiency) efficiencyValue {
	return efficiencyValue{decimals(e.Value, 1, 6), e.Basis.String(), valueOfSource(e.Source), e.Origin, e.FromMemory}
}

func valueOfSource(s bands.Source) *render.Source {
	if s == (bands.Source{}) {
		return nil
	}
	return new(render.Source(s))
}

func valueOfBackhaul(b *throughput.BackhaulNeed) backhaulValue {
	return backhaulValue{decimals(b.Factor, 1, 6), valueOfNeed(&b.Downlink), valueOfNeed(&b.Uplink)}
}

func valueOfNeed(l *throughput.BackhaulLink) linkNeedValue {
	v := linkNeedValue{Peak: mbps(l.Peak), Means: mbps(l.Means), By: "busy-hour", Need: mbps(l.Need), Link: optionalMbps(l.Link), Delivered: mbps(l.Delivered)}
	if l.ByPeak {
		v.By = "peak"
	}
	if v.Link != nil {
		v.Enough = &l.Enough
	}
	return v
}

func valueOfUsers(u *throughput.Users) *usersValue {
	if !u.Given {
		return nil
	}
	return &usersValue{u.Active, u.Served, shortNames[u.By]}
}

func valueOfVolume(v *throughput.Volume) volumeValue {
	of := func(b *throughput.DirectionBytes) bytesValue {
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
