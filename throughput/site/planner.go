package site

import (
	"spectally/ca"
	"spectally/throughput"
	"spectally/throughput/exact"
)

// Planner plans many sites and remembers what it has worked out for carriers that
// come again with the same radio, load and environment. It is for one goroutine at a
// time. The zero Planner remembers nothing.
type Planner struct {
	most int
	kept map[plannedCarrier]CarrierCapacity
}

// plannedCarrier is all that the capacity of a carrier follows from.
type plannedCarrier struct {
	carrier              ca.Carrier
	transmit, receive    int
	layers, uplinkLayers int
	measured             Measured
	environment          Environment
	load, uplinkLoad     exact.Ratio
	schedule             throughput.Settings
}

// NewPlanner is a planner that remembers a number of carriers at most.
func NewPlanner(carriers int) *Planner {
	return &Planner{most: carriers, kept: make(map[plannedCarrier]CarrierCapacity)}
}

// Plan is [Plan].
func (p *Planner) Plan(site *Site) (*SiteCapacity, error) { return p.plan(site) }

func (p *Planner) carrier(s *Sector, r *Radio, c ca.Carrier) (CarrierCapacity, error) {
	if p.most < 1 {
		return s.carrierCapacity(r, c)
	}
	key := plannedCarrier{c, r.TransmitPorts, r.ReceivePorts, r.Layers, r.UplinkLayers, r.Measured, s.Environment, s.Load, s.UplinkLoad, r.Schedule}
	if out, ok := p.kept[key]; ok {
		return out, nil
	}
	out, err := s.carrierCapacity(r, c)
	if err != nil {
		return out, err
	}
	if len(p.kept) >= p.most {
		clear(p.kept)
	}
	p.kept[key] = out
	return out, nil
}
