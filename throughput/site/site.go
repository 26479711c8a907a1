package site

import (
	"spectally/bands"
	"spectally/ca"
	"spectally/throughput"
	"spectally/throughput/exact"
)

// Site is a site as its planner describes it. Shares are parts of 1; a Ratio that is
// not given takes the default that its comment names.
type Site struct {
	Name     string
	Sectors  []Sector
	Traffic  Traffic
	Backhaul Backhaul
}

// Sector is a part of the site with antennas of its own, or several equal ones. Each
// is a transmission and reception point in the words of Report ITU-R M.2410.
type Sector struct {
	Name        string
	Count       int // equal sectors; 0 is one
	Environment Environment
	// Load and UplinkLoad are the share of the resources that the busy hour uses: all of
	// them if none is given, and in the uplink as in the downlink if only that is.
	Load, UplinkLoad exact.Ratio
	Radios           []Radio
}

// LoadOf is the load of a direction; zero if none is given.
func (s *Sector) LoadOf(d bands.Direction) exact.Ratio {
	if d == bands.Uplink && !s.UplinkLoad.IsZero() {
		return s.UplinkLoad
	}
	return s.Load
}

// Count is how many equal sectors there are.
func (s *Sector) count() int { return max(s.Count, 1) }

// Combination is the carriers of all radios, in their order.
func (s *Sector) Combination() ca.Combination {
	var all ca.Combination
	for i := range s.Radios {
		all = append(all, s.Radios[i].Carriers...)
	}
	return all
}

// Radio is a radio with its antenna and the carriers that it sends.
type Radio struct {
	Carriers ca.Combination
	// TransmitPorts and ReceivePorts are the antenna ports of the radio.
	TransmitPorts, ReceivePorts int
	// Layers and UplinkLayers are the layers that it can have in the air at once over
	// all users; 0 takes DefaultCellLayers.
	Layers, UplinkLayers int
	Measured             Measured
	// Schedule is how its carriers are scheduled; the zero Settings are a usual network's.
	Schedule throughput.Settings
}

// Ports are the ports that matter in a direction.
func (r *Radio) Ports(d bands.Direction) int {
	if d == bands.Uplink {
		return r.ReceivePorts
	}
	return r.TransmitPorts
}

// Measured is what a planner knows of the own network: efficiencies in bit/s/Hz of
// the effective bandwidth, with where they come from. Those that are not given follow
// from what is published.
type Measured struct {
	Downlink, Uplink         exact.Ratio // averages
	DownlinkEdge, UplinkEdge exact.Ratio // 5th percentile
	Origin                   string
	// TransmitPorts and ReceivePorts are the ports that the figures were measured
	// with; 0 stands for those of the radio.
	TransmitPorts, ReceivePorts int
}

func (m *Measured) value(k EfficiencyKind, d bands.Direction) exact.Ratio {
	switch {
	case d == bands.Downlink && k == Average:
		return m.Downlink
	case d == bands.Downlink:
		return m.DownlinkEdge
	case k == Average:
		return m.Uplink
	}
	return m.UplinkEdge
}

func (m *Measured) ports(d bands.Direction) int {
	if d == bands.Uplink {
		return m.ReceivePorts
	}
	return m.TransmitPorts
}

// Traffic is what the site has to serve.
type Traffic struct {
	// Rate and UplinkRate are what a user is to have, in bit/s; not given, no users
	// are counted by it.
	Rate, UplinkRate exact.Ratio
	// Activity is the share of users that are active at once in the busy hour; all if
	// not given.
	Activity exact.Ratio
	// Oversubscription is how many times the rates are sold; once if not given.
	Oversubscription exact.Ratio
	// BusyHourShare is the part of a day's traffic that falls into the busy hour; not
	// given, it is DefaultBusyHourShare.
	BusyHourShare exact.Ratio
}

// DefaultBusyHourShare is the part of a day's traffic in the busy hour that is assumed
// (common practice, no source).
func DefaultBusyHourShare() exact.Ratio { return exact.Of(7, 100) }

// DaysOfMonth is the length of a month in days (common practice, no source).
const DaysOfMonth = 30

// Backhaul is the link from the site to the network.
type Backhaul struct {
	// Downlink and Uplink are what the link carries towards the site and from it, in
	// bit/s; not given, the need alone is worked out.
	Downlink, Uplink exact.Ratio
	// Transport and Security are overheads as parts of the user data: headers of
	// tunnel and transport, and encryption. Not given, they are
	// DefaultTransportOverhead and none.
	Transport, Security exact.Ratio
	// CellPeak takes the peak of a cell with the layers of all its users in place of
	// that of one phone.
	CellPeak bool
}

// DefaultTransportOverhead is the overhead of the headers of transport that is assumed
// (common practice, no source).
func DefaultTransportOverhead() exact.Ratio { return exact.Of(10, 100) }

// link is what the backhaul carries in the direction; not given where it is unknown.
func (b *Backhaul) link(d bands.Direction) exact.Ratio {
	if d == bands.Uplink {
		return b.Uplink
	}
	return b.Downlink
}

// factor is what goes over the link for each bit of user data.
func (b *Backhaul) factor() exact.Ratio {
	transport := b.Transport
	if transport.IsZero() {
		transport = DefaultTransportOverhead()
	}
	return exact.Whole(1).Add(transport).Add(b.Security)
}
