package site

import (
	"slices"
	"strconv"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput"
)

// SiteCautions are what has to stand beside every figure of a site.
func Cautions() []string {
	return []string{
		"These figures are a planning estimate. They are no licence to transmit and no assessment of safety.",
		"Limits of exposure to radio waves, and who may put up and operate transmitters, are set by national rules; licensed practice decides.",
		"An average efficiency that a report asks for is what a good build should reach under full load, not what a given network does: measured figures go before.",
		"Keep clear of antennas and respect barriers; work on masts and roofs is for those who are trained and authorised for it.",
	}
}

var (
	sourceAverage  = bands.Source{Spec: "ITU-R M.2410", Version: "0", Table: "clause 4.5"}
	sourceCellEdge = bands.Source{Spec: "ITU-R M.2410", Version: "0", Table: "clause 4.4"}
)

// The quantities that [SiteCapacity.Assumptions] lists beside those of package throughput.
const (
	QuantityMean          throughput.Quantity = "busy-hour-mean" // how it is worked out
	QuantityEdgeRate      throughput.Quantity = "cell-edge-rate" // how it is worked out
	QuantityPhonePeak     throughput.Quantity = "phone-peak"     // takes all carriers of the sector
	QuantityCellPeak      throughput.Quantity = "cell-peak"      // has as many phones as its layers hold
	QuantityBuilds        throughput.Quantity = "published-builds"
	QuantityBetweenBuilds throughput.Quantity = "between-builds"
	QuantityAboveBuilds   throughput.Quantity = "above-builds"
	QuantityBackhaulPeak  throughput.Quantity = "backhaul-peak" // phone or cell
	QuantityTransport     throughput.Quantity = "transport-overhead"
	QuantitySecurity      throughput.Quantity = "security-overhead" // empty for none
	QuantityBusyHourShare throughput.Quantity = "busy-hour-share"   // of a day, and days of a month
	QuantityLoad          throughput.Quantity = "load"              // of the uplink, empty for all of both directions
	QuantityPhoneLayers   throughput.Quantity = "phone-layers"
	QuantityCellLayers    throughput.Quantity = "cell-layers"
	QuantityAverage       throughput.Quantity = "average-efficiency"
	QuantityEdge          throughput.Quantity = "cell-edge-efficiency"
)

// WhySitePorts is the reason of layers that the ports of the site bound.
const WhySitePorts throughput.Why = "site-ports"

// Ports are those that the published efficiencies are taken to hold for: of IMT-2020 and of
// IMT-Advanced, which the reports do not name (from memory of their evaluations).
func PublishedPorts() (imt2020, imtAdvanced int) { return imt2020Ports, imtAdvancedPorts }

// Assumptions lists what the figures of a site rest on, those that hold for all
// first, then carrier by carrier: by band, without the numbers of carriers.
func (c *SiteCapacity) Assumptions() []throughput.Assumption {
	list := []throughput.Assumption{
		{Quantity: QuantityMean, Source: sourceAverage},
		{Quantity: QuantityEdgeRate, Source: sourceCellEdge},
		{Quantity: QuantityPhonePeak},
		{Quantity: QuantityCellPeak},
	}
	list = c.efficiencyAssumptions(list)
	t, b := &c.site.Traffic, &c.site.Backhaul
	peak := throughput.Assumption{Quantity: QuantityBackhaulPeak, Value: "phone", Why: throughput.WhyCommonPractice}
	if b.CellPeak {
		peak.Value = "cell"
	}
	transport := throughput.Assumption{Quantity: QuantityTransport, Value: b.Transport.Percent()}
	if b.Transport.IsZero() {
		transport.Value, transport.Why = DefaultTransportOverhead().Percent(), throughput.WhyCommonPractice
	}
	security := throughput.Assumption{Quantity: QuantitySecurity}
	if b.Security.Num > 0 {
		security.Value = b.Security.Percent()
	}
	list = append(list, peak, transport, security)
	if t.BusyHourShare.IsZero() {
		list = append(list, throughput.Assumption{Quantity: QuantityBusyHourShare, Value: DefaultBusyHourShare().Percent(), Of: strconv.Itoa(DaysOfMonth), Why: throughput.WhyCommonPractice})
	}
	for i := range c.Sectors {
		if s := &c.site.Sectors[i]; s.UplinkLoad.IsZero() {
			load := throughput.Assumption{Quantity: QuantityLoad}
			if !s.Load.IsZero() {
				load.Value = s.Load.Percent()
			}
			list = addOnce(list, load)
		}
		for k := range c.Sectors[i].Carriers {
			for _, a := range c.carrierAssumptions(i, k) {
				list = addOnce(list, a)
			}
		}
	}
	return list
}

// addOnce adds an assumption that is not there yet.
func addOnce(list []throughput.Assumption, a throughput.Assumption) []throughput.Assumption {
	if slices.ContainsFunc(list, func(b throughput.Assumption) bool {
		return a.Band == b.Band && a.Direction == b.Direction && a.Quantity == b.Quantity && a.Value == b.Value && a.Of == b.Of && a.Why == b.Why && a.Origin == b.Origin
	}) {
		return list
	}
	return append(list, a)
}

// efficiencyAssumptions says how the efficiencies follow from what is published.
func (c *SiteCapacity) efficiencyAssumptions(list []throughput.Assumption) []throughput.Assumption {
	var used [BasisScaled + 1]bool
	for i := range c.Sectors {
		for k := range c.Sectors[i].Carriers {
			for _, d := range bothDirections {
				if l := c.Sectors[i].Carriers[k].Link(d); !l.IsZero() {
					used[l.Average.Basis], used[l.AtEdge.Basis] = true, true
				}
			}
		}
	}
	if !used[BasisPublished] && !used[BasisBetween] && !used[BasisBelow] && !used[BasisHeld] && !used[BasisScaled] {
		return list
	}
	list = append(list, throughput.Assumption{Quantity: QuantityBuilds, Source: sourceAverage})
	if used[BasisBetween] || used[BasisBelow] || used[BasisScaled] {
		list = append(list, throughput.Assumption{Quantity: QuantityBetweenBuilds})
	}
	if used[BasisHeld] {
		list = append(list, throughput.Assumption{Quantity: QuantityAboveBuilds})
	}
	return list
}

func (c *SiteCapacity) carrierAssumptions(i, k int) []throughput.Assumption {
	s, one := &c.Sectors[i], &c.Sectors[i].Carriers[k]
	radio := &c.site.Sectors[i].Radios[one.Radio]
	var list []throughput.Assumption
	p := &ca.Assess(ca.Combination{one.Carrier}).Carriers[0]
	say := func(d bands.Direction, q throughput.Quantity, value, of string) *throughput.Assumption {
		a := throughput.Assume(p, d, q, value)
		a.Of = of
		list = append(list, a)
		return &list[len(list)-1]
	}
	if p.SCS == 0 && p.Band.RAT == bands.NR {
		say(0, throughput.QuantitySpacing, p.Spacing.String(), "")
	}
	if p.Info.IsUnlicensed() && radio.Schedule.Airtime.IsZero() {
		say(0, throughput.QuantityAirtime, throughput.DefaultAirtime().Percent(), "")
	}
	if one.Frame.Assumed {
		say(0, throughput.QuantityPattern, one.Frame.String(), "")
		say(bands.Downlink, throughput.QuantityShare, one.Frame.Share(bands.Downlink).Percent(), one.Frame.String())
	}
	for _, d := range bothDirections {
		l := one.Link(d)
		if l.IsZero() {
			continue
		}
		if l.LayersAssumed {
			a := say(d, throughput.QuantityLayers, strconv.Itoa(l.UserLayers), "")
			a.Quantity = QuantityPhoneLayers
			if l.portsReduce {
				a.Why, a.Source = WhySitePorts, bands.Source{}
			}
		}
		if l.QAMAssumed {
			say(d, throughput.QuantityQAM, strconv.Itoa(l.QAM), "")
		}
		given := radio.Layers
		if d == bands.Uplink {
			given = radio.UplinkLayers
		}
		ports := strconv.Itoa(radio.Ports(d))
		if given == 0 {
			say(d, QuantityCellLayers, strconv.Itoa(l.CellLayers), ports).Why = throughput.WhyCommonPractice
		}
		for _, e := range [...]struct {
			quantity throughput.Quantity
			*Efficiency
		}{{QuantityAverage, &l.Average}, {QuantityEdge, &l.AtEdge}} {
			a := say(d, e.quantity, strconv.FormatFloat(e.Value.Float(), 'g', 6, 64), ports)
			a.Why, a.Source, a.Origin = throughput.Why(e.Basis.String()), e.Source, e.Origin
			if e.Basis != BasisMeasured && e.Basis != BasisScaled {
				a.Origin = s.Environment.String()
			}
		}
	}
	return list
}
