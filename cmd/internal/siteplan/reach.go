package siteplan

import (
	"spectally/ca"
	"spectally/throughput/propagation"
)

// SectorName is the name of a sector, counted from 0, else its number.
func (p *Plan) SectorName(i int) string {
	if name := p.Site.Sectors[i].Name; name != "" {
		return name
	}
	return "sector " + itoa(i+1)
}

// Ladder works out the rates of all carriers of a sector, counted from 0, by distance.
// The coverage is that of the plan, or the same with another share of places.
func (p *Plan) Ladder(i int, c *propagation.Coverage) (carriers ca.Combination, l *propagation.Ladder, err error) {
	var emissions []propagation.Emission
	for k := range p.Site.Sectors[i].Radios {
		for _, carrier := range p.Site.Sectors[i].Radios[k].Carriers {
			carriers, emissions = append(carriers, carrier), append(emissions, p.Radios[i][k].Emission)
		}
	}
	l, err = c.NewLadder(carriers, emissions)
	return carriers, l, err
}
