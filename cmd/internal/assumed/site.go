package assumed

import (
	"fmt"

	"spectally/throughput"
	"spectally/throughput/site"
)

// sitePart says an assumption about a site.
func sitePart(a *throughput.Assumption, link string) string {
	imt2020, imtAdvanced := site.PublishedPorts()
	switch a.Quantity {
	case site.QuantityMean:
		return "The mean of the busy hour is the average spectral efficiency times the effective bandwidth, which is the bandwidth weighted by the share of time of the direction, times the load. Guard time counts for neither direction."
	case site.QuantityEdgeRate:
		return "The rate at the cell edge is the 5th percentile of the users' efficiency times the effective bandwidth; the evaluation has ten users in a cell (from memory)."
	case site.QuantityPhonePeak:
		return "The peak of one phone takes all carriers of the sector in the downlink, and in the uplink the first of each technology; a phone that cannot combine them has less."
	case site.QuantityCellPeak:
		return "The peak of the cell has as many phones in the air at once as its layers hold, all with the highest modulation: it is a ceiling of the equipment, not of a busy cell."
	case site.QuantityBuilds:
		return fmt.Sprintf("The requirements of IMT-2020 are taken for %d antenna ports, those of IMT-Advanced for %d: the reports name none (from memory of their evaluations).", imt2020, imtAdvanced)
	case site.QuantityBetweenBuilds:
		return "Between and below these builds the efficiency follows a straight line over the logarithms of ports and efficiency: an assumption of this program."
	case site.QuantityAboveBuilds:
		return fmt.Sprintf("Above the largest build that is published the efficiency is held: %d ports of NR, %d of LTE and of NR in urban macro sites, for which IMT-Advanced alone has a figure.", imt2020, imtAdvanced)
	case site.QuantityBusyHourShare:
		return "The busy hour has " + a.Value + " of the traffic of a day, and a month has " + a.Of + " days (" + reasons[a.Why] + ")."
	case site.QuantityLoad:
		if a.Value == "" {
			return "Busy hour: all of the resources are in use in both directions (assumed)."
		}
		return "Busy hour: uplink load as in the downlink, " + a.Value + " (assumed)."
	case site.QuantityPhoneLayers:
		return link + counted(a.Value, "layer") + " of one phone (" + reasons[a.Why] + ")"
	case site.QuantityCellLayers:
		return link + counted(a.Value, "layer") + " over all users with " + counted(a.Of, "port") + " (" + reasons[a.Why] + ")"
	case site.QuantityAverage:
		return link + efficiency(a, "on average")
	case site.QuantityEdge:
		return link + efficiency(a, "at the cell edge")
	}
	return link + string(a.Quantity) + " " + a.Value
}

// efficiency says an efficiency with where it comes from.
func efficiency(a *throughput.Assumption, what string) string {
	value := a.Value + " bit/s/Hz " + what + " with " + counted(a.Of, "port")
	switch string(a.Why) {
	case site.BasisMeasured.String():
		return value + ": the planner's own figure, " + a.Origin
	case site.BasisScaled.String():
		return value + ": the planner's own figure, " + a.Origin + ", carried over from other ports as the published values change"
	}
	return value + ", " + a.Origin + ": " + string(a.Why)
}

// backhaul says what the backhaul has to carry.
func backhaul(peak, transport, security *throughput.Assumption) string {
	of := "one phone in a sector"
	if peak.Value == "cell" {
		of = "the cell with the layers of all users"
	}
	text := "The backhaul needs the larger of the peak of " + of + " and the sum of the means (" + NoSource + "), with " + transport.Value + " overhead of transport"
	if transport.Why != "" {
		text += " (assumed: " + reasons[transport.Why] + ")"
	}
	if security.Value == "" {
		return text + " and no overhead of security."
	}
	return text + " and " + security.Value + " overhead of security."
}
