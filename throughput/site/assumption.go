package site

import (
	"strconv"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput"
	"spectally/throughput/internal/words"
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

// Assumptions lists what the figures of a site rest on, those that hold for all
// first, then carrier by carrier. It names carriers in the text and in no list.
func (c *SiteCapacity) Assumptions() []throughput.Assumption {
	list := []throughput.Assumption{
		{Text: "The mean of the busy hour is the average spectral efficiency times the effective bandwidth, which is the bandwidth weighted by the share of time of the direction, times the load. Guard time counts for neither direction.", Source: sourceAverage},
		{Text: "The rate at the cell edge is the 5th percentile of the users' efficiency times the effective bandwidth; the evaluation has ten users in a cell (from memory).", Source: sourceCellEdge},
		{Text: "The peak of one phone takes all carriers of the sector in the downlink, and in the uplink the first of each technology; a phone that cannot combine them has less."},
		{Text: "The peak of the cell has as many phones in the air at once as its layers hold, all with the highest modulation: it is a ceiling of the equipment, not of a busy cell."},
	}
	list = c.efficiencyAssumptions(list)
	t, b := &c.site.Traffic, &c.site.Backhaul
	peak := "one phone in a sector"
	if b.CellPeak {
		peak = "the cell with the layers of all users"
	}
	transport := b.Transport
	text := ""
	if transport.IsZero() {
		transport, text = DefaultTransportOverhead(), " (assumed: "+throughput.TextNoSource+")"
	}
	security := "no overhead of security"
	if !b.Security.IsZero() && b.Security.Num > 0 {
		security = b.Security.Percent() + " overhead of security"
	}
	list = append(list, throughput.Assumption{Text: "The backhaul needs the larger of the peak of " + peak + " and the sum of the means (" + throughput.TextNoSource + "), with " + transport.Percent() + " overhead of transport" + text + " and " + security + "."})
	if t.BusyHourShare.IsZero() {
		list = append(list, throughput.Assumption{Text: "The busy hour has " + DefaultBusyHourShare().Percent() + " of the traffic of a day, and a month has " + strconv.Itoa(DaysOfMonth) + " days (" + throughput.TextNoSource + ")."})
	}
	for i := range c.Sectors {
		if s := &c.site.Sectors[i]; s.UplinkLoad.IsZero() {
			load := "all of the resources are in use in both directions"
			if !s.Load.IsZero() {
				load = "uplink load as in the downlink, " + s.Load.Percent()
			}
			list = throughput.MergeAssumption(list, throughput.Assumption{Text: "Busy hour: " + load + " (assumed)."})
		}
		for k := range c.Sectors[i].Carriers {
			for _, a := range c.carrierAssumptions(i, k) {
				list = throughput.MergeAssumption(list, a)
			}
		}
	}
	return list
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
	list = append(list, throughput.Assumption{
		Text:   "What IMT-2020 has to reach is taken to hold for " + strconv.Itoa(imt2020Ports) + " antenna ports, what IMT-Advanced had to reach for " + strconv.Itoa(imtAdvancedPorts) + ": the reports name none (from memory of their evaluations).",
		Source: sourceAverage,
	})
	if used[BasisBetween] || used[BasisBelow] || used[BasisScaled] {
		list = append(list, throughput.Assumption{Text: "Between and below these builds the efficiency follows a straight line over the logarithms of ports and efficiency: an assumption of this program."})
	}
	if used[BasisHeld] {
		list = append(list, throughput.Assumption{Text: "Above the largest build that is published the efficiency is held: " + strconv.Itoa(imt2020Ports) + " ports of NR, " + strconv.Itoa(imtAdvancedPorts) + " of LTE and of NR in urban macro sites, for which IMT-Advanced alone has a figure."})
	}
	return list
}

func (c *SiteCapacity) carrierAssumptions(i, k int) []throughput.Assumption {
	s, one := &c.Sectors[i], &c.Sectors[i].Carriers[k]
	radio := &c.site.Sectors[i].Radios[one.Radio]
	var list []throughput.Assumption
	add := func(source bands.Source, text string) {
		list = append(list, throughput.Assumption{Text: text, Source: source})
	}
	p := &ca.Assess(ca.Combination{one.Carrier}).Carriers[0]
	name := one.Carrier.Band.String() + " "
	if p.SCS == 0 && p.Band.RAT == bands.NR {
		add(bands.Source{}, name+"subcarrier spacing "+p.Spacing.String()+" ("+throughput.TextNoSource+")")
	}
	if p.Info.IsUnlicensed() && radio.Schedule.Airtime.IsZero() {
		add(bands.Source{}, name+"the network has the channel all of the time, both directions together ("+throughput.TextNoSource+")")
	}
	if one.Frame.Assumed {
		add(bands.Source{}, name+"TDD pattern "+one.Frame.String()+", downlink "+one.Frame.Share(bands.Downlink).Percent()+" and uplink "+one.Frame.Share(bands.Uplink).Percent()+" of the time (assumed)")
	}
	for _, d := range bothDirections {
		l := one.Link(d)
		if l.IsZero() {
			continue
		}
		link := name + d.String() + " "
		if l.LayersAssumed {
			text, source := throughput.LayersReason(p, d)
			if l.portsReduce {
				text, source = "no more than the ports of the site", bands.Source{}
			}
			add(source, link+words.Plural(l.UserLayers, "layer")+" of one phone ("+text+")")
		}
		if l.QAMAssumed {
			text, source := throughput.ModulationReason(p, d)
			add(source, link+words.QAM(l.QAM)+" ("+text+")")
		}
		given := radio.Layers
		if d == bands.Uplink {
			given = radio.UplinkLayers
		}
		if given == 0 {
			add(bands.Source{}, link+words.Plural(l.CellLayers, "layer")+" over all users with "+words.Plural(radio.Ports(d), "port")+" ("+throughput.TextNoSource+")")
		}
		add(l.Average.Source, link+l.Average.text(s.Environment, radio.Ports(d), "on average"))
		add(l.AtEdge.Source, link+l.AtEdge.text(s.Environment, radio.Ports(d), "at the cell edge"))
	}
	return list
}

// text says an efficiency with where it comes from.
func (e *Efficiency) text(environment Environment, ports int, what string) string {
	value := strconv.FormatFloat(e.Value.Float(), 'g', 6, 64) + " bit/s/Hz " + what + " with " + words.Plural(ports, "port")
	switch e.Basis {
	case BasisMeasured:
		return value + ": the planner's own figure, " + e.Origin
	case BasisScaled:
		return value + ": the planner's own figure, " + e.Origin + ", carried over from other ports as the published values change"
	}
	return value + ", " + environment.String() + ": " + e.Basis.String()
}
