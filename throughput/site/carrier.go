package site

import (
	"spectally/bands"
	"spectally/ca"
	"spectally/throughput"
	"spectally/throughput/exact"
	"spectally/throughput/internal/words"
)

// Capacity is what a carrier, a sector or a site can carry in one direction. Rates
// are in bit/s; those of the mean and the edge are whole bits.
type Capacity struct {
	// Width is the channel bandwidth; Effective is that times the share of time of the
	// direction, to the nearest hertz (the effective bandwidth of Report ITU-R M.2410
	// clauses 4.4 and 4.5).
	Width, Effective bands.Frequency
	// User is the peak of one phone that has the cell to itself: of a sector the sum
	// over the carriers that it uses at once, of a site that of its best sector.
	User throughput.Rates
	// Cell is the peak with the layers of all users in the air at once.
	Cell throughput.Rates
	// Full is the mean over the users of a fully loaded cell, Mean that at the load of
	// the busy hour.
	Full, Mean exact.Ratio
	// Edge is the rate that nineteen of twenty users exceed when ten share the cell, as
	// the evaluation of the 5th percentile has it (ten from memory); of a site that of
	// its worst sector. A zero denominator stands for none.
	Edge exact.Ratio
}

// add adds what is in the air at once in another cell of the same sector or site. It
// leaves User and Edge alone.
func (c *Capacity) add(d *Capacity) {
	c.Width += d.Width
	c.Effective += d.Effective
	c.Cell = c.Cell.Add(d.Cell)
	c.Full = c.Full.Add(d.Full)
	c.Mean = c.Mean.Add(d.Mean)
}

// Bound is what holds the mean of a carrier down.
type Bound uint8

// The bounds. The zero Bound is none: there is no such direction.
const (
	BoundSpectrum Bound = iota + 1 // bandwidth and what each hertz of it carries
	BoundLayers                    // the peak of the cell with its layers and modulation
)

// String names the bound: "spectrum" or "layers".
func (b Bound) String() string {
	switch b {
	case BoundSpectrum:
		return "spectrum"
	case BoundLayers:
		return "layers"
	}
	return ""
}

// LinkCapacity is one direction of a carrier. The zero LinkCapacity is none.
type LinkCapacity struct {
	Capacity
	Share         exact.Ratio // of time
	QAM           int
	UserLayers    int // of one phone
	CellLayers    int // over all users
	LayersAssumed bool
	QAMAssumed    bool
	// InUser tells that the peak of the sector for one phone counts the link.
	InUser      bool
	Average     Efficiency
	AtEdge      Efficiency
	Bound       Bound
	portsReduce bool // the default of the phone's layers is more than the ports
}

// IsZero tells whether there is no such link.
func (l *LinkCapacity) IsZero() bool { return l.UserLayers == 0 }

// CarrierCapacity is a carrier of a sector.
type CarrierCapacity struct {
	Carrier ca.Carrier
	// Radio is the place of its radio in Sector.Radios, from 0.
	Radio            int
	Downlink, Uplink LinkCapacity
	Frame            throughput.Frame
}

// Link is the link of the carrier in a direction.
func (c *CarrierCapacity) Link(d bands.Direction) *LinkCapacity {
	if d == bands.Uplink {
		return &c.Uplink
	}
	return &c.Downlink
}

var bothDirections = [...]bands.Direction{bands.Downlink, bands.Uplink}

// carrierCapacity works out one carrier by itself, with its uplink in use unless it
// is said not to be.
func (s *Sector) carrierCapacity(r *Radio, c ca.Carrier) (CarrierCapacity, error) {
	out := CarrierCapacity{Carrier: c}
	alone := c
	alone.Role = 0
	if alone.Transmit == ca.Open {
		alone.Transmit = ca.Yes
		if alone.Uplink == 0 {
			alone.Transmit = ca.No
		}
	}
	a := ca.Assess(ca.Combination{alone})
	if p := &a.Carriers[0]; p.Info != nil {
		switch {
		case !p.Info.Has(bands.Uplink):
			alone.Transmit = ca.Open // a supplementary downlink has nothing to transmit on
		case c.Transmit == ca.Open && (p.UplinkBlocks == 0 || p.Info.LicensedAssisted()):
			alone.Transmit = ca.No // a width for the downlink alone, or a secondary cell that usually is one
		}
		alone.Layers = fitLayers(alone.Layers, throughput.DefaultLayers(p.Info, bands.Downlink), r.TransmitPorts)
		alone.UplinkLayers = fitLayers(alone.UplinkLayers, throughput.DefaultLayers(p.Info, bands.Uplink), r.ReceivePorts)
		a = ca.Assess(ca.Combination{alone})
	}
	rated, err := throughput.Rate(a)
	if err != nil {
		return out, cause(err)
	}
	if err := rated.Schedule(r.Schedule); err != nil {
		return out, cause(err)
	}
	out.Frame = rated.Carriers[0].Frame
	for _, d := range bothDirections {
		if rated.Carriers[0].Link(d).IsZero() {
			continue
		}
		if err := s.linkCapacity(r, rated, a.Carriers[0].Info, d, out.Link(d)); err != nil {
			return out, err
		}
		l, layers, qam := out.Link(d), c.Layers, c.QAM
		if d == bands.Uplink {
			layers, qam = c.UplinkLayers, c.UplinkQAM
		}
		l.LayersAssumed, l.QAMAssumed = layers == 0, qam == 0
		l.portsReduce = l.LayersAssumed && l.UserLayers < throughput.DefaultLayers(a.Carriers[0].Info, d)
	}
	return out, nil
}

// cause takes the carrier away from an error that is about the only one there is.
func cause(err error) error {
	if e, ok := err.(*throughput.CarrierError); ok {
		return e.Err
	}
	return err
}

// fitLayers is the number of layers of one phone: as given, else the usual number but
// no more than the ports.
func fitLayers(given uint8, usual, ports int) uint8 {
	if given != 0 {
		return given
	}
	return uint8(min(usual, ports))
}

func (s *Sector) linkCapacity(r *Radio, rated *throughput.Result, info *bands.Band, d bands.Direction, l *LinkCapacity) error {
	link := rated.Carriers[0].Link(d)
	if link.Layers > r.Ports(d) {
		return &bands.ValueError{Param: d.String() + " layers", Got: words.Plural(link.Layers, "layer"), Allowed: "at most the " + words.Plural(r.Ports(d), "port") + " of the radio"}
	}
	l.Share = rated.Carriers[0].Frame.Share(d)
	if airtime := r.Schedule.Airtime; !airtime.IsZero() && info.IsUnlicensed() {
		l.Share = l.Share.Mul(airtime)
	}
	l.Width, l.Effective = link.Width, bands.Frequency(product(int64(link.Width), l.Share))
	l.QAM, l.UserLayers = link.QAM, link.Layers
	l.CellLayers = r.cellLayers(d, link.Layers)
	l.User = throughput.Rates{Max: link.Max, Schedulable: link.Schedulable, Scheduled: link.Scheduled}
	var err error
	if l.Cell, err = rated.CellPeak(0, d, l.CellLayers); err != nil {
		return err
	}
	if l.Average, err = r.efficiency(Average, s.Environment, info, d); err != nil {
		return err
	}
	if l.AtEdge, err = r.efficiency(CellEdge, s.Environment, info, d); err != nil {
		return err
	}
	load := s.LoadOf(d)
	if load.IsZero() {
		load = exact.Whole(1)
	}
	l.Bound = BoundSpectrum
	full, ceiling := product(int64(link.Width), l.Average.Value, l.Share), product(1, l.Cell.Scheduled)
	if full > ceiling {
		full, l.Bound = ceiling, BoundLayers
	}
	l.Full = exact.Whole(full)
	l.Mean = exact.Whole(product(full, load))
	l.Edge = exact.Whole(product(int64(link.Width), l.AtEdge.Value, l.Share))
	return nil
}
