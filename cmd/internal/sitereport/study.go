package sitereport

import (
	"slices"
	"strconv"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/siteplan"
	"spectally/throughput/exact"
	"spectally/throughput/site"
)

// study is a plan with all that was worked out of it.
type study struct {
	*siteplan.Plan
	capacity *site.SiteCapacity
	changes  []site.WhatIf
	builds   []site.Build
	together []*combination.Answer // of the carriers of each sector, for one phone
	reaches  []reach
	ladders  []byDistance
	options  []compared // the plan itself first; none if it has no options
}

var directions = [...]bands.Direction{bands.Downlink, bands.Uplink}

// shortNames are the names of the directions in JSON.
var shortNames = map[bands.Direction]string{bands.Downlink: "dl", bands.Uplink: "ul"}

func newStudy(p *siteplan.Plan) (*study, error) {
	s := &study{Plan: p}
	var err error
	if s.capacity, err = site.Plan(&p.Site); err != nil {
		return nil, err
	}
	if s.changes, err = s.capacity.WhatIf(); err != nil {
		return nil, err
	}
	if s.builds, err = site.CompareBuilds(&p.Site); err != nil {
		return nil, err
	}
	for i := range p.Site.Sectors {
		x, err := combination.Of(ca.Assess(p.Site.Sectors[i].Combination()))
		if err != nil {
			return nil, err
		}
		s.together = append(s.together, x)
	}
	if len(p.Options) > 0 {
		list := []Variant{{Name: "the plan", Plan: p}}
		for _, o := range p.Options {
			list = append(list, Variant{o.Name, o.Settings, o.Plan})
		}
		if s.options, err = compare(list); err != nil {
			return nil, err
		}
	}
	if err := s.climb(); err != nil {
		return nil, err
	}
	return s, s.reach()
}

// faults are the errors and warnings about one phone on all carriers of a sector.
func (s *study) faults(sector int) render.Findings {
	x := s.together[sector]
	return slices.DeleteFunc(combination.Findings(x.Assessment, x.Findings()), func(f render.Finding) bool { return f.Severity == render.Note })
}

// carrierName names a carrier by band and width: "n78:100".
func carrierName(c *ca.Carrier) string {
	if c.Downlink == 0 {
		return c.Band.String() + ":" + c.Uplink.MHz() + " uplink"
	}
	return c.Band.String() + ":" + c.Downlink.MHz()
}

// radioOf is the radio of a carrier.
func (s *study) radioOf(sector int, c *site.CarrierCapacity) *site.Radio {
	return &s.Site.Sectors[sector].Radios[c.Radio]
}

func portsText(r *site.Radio) string {
	return strconv.Itoa(r.TransmitPorts) + "T" + strconv.Itoa(r.ReceivePorts) + "R"
}

// loadOf is the load of a sector in a direction; all of it where nothing is given.
func (s *study) loadOf(sector int, d bands.Direction) exact.Ratio {
	load := s.Site.Sectors[sector].LoadOf(d)
	if load.IsZero() {
		return exact.Whole(1)
	}
	return load
}

// Enough tells whether the link of a plan carries what the site needs; true where the
// plan names no link.
func Enough(p *siteplan.Plan) (bool, error) {
	c, err := site.Plan(&p.Site)
	if err != nil {
		return false, err
	}
	return c.Backhaul.Downlink.Enough && c.Backhaul.Uplink.Enough, nil
}
