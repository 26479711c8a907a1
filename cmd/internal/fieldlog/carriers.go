package fieldlog

import (
	"spectally/bands"
	"spectally/ca"
	"spectally/throughput"
)

func (n *network) carriers() []CarrierReport {
	list := make([]CarrierReport, len(n.assessment.Carriers))
	for i := range n.assessment.Carriers {
		list[i] = n.carrier(i)
	}
	return list
}

func (n *network) carrier(i int) CarrierReport {
	p := &n.assessment.Carriers[i]
	c := CarrierReport{
		Number: i + 1, Text: p.Carrier.String(), Band: p.Band.String(), RAT: p.Band.RAT.String(),
		Role: p.Role.String(), SCS: p.Spacing.InKHz(), Transmits: p.Transmits,
		RSRP: decibels(p.RSRP), SINR: decibels(p.SINR),
	}
	if p.Info != nil {
		c.Duplex, c.Range = p.Info.Duplex.String(), p.Info.Range.String()
	}
	if p.HasChannel {
		channel := p.Channel
		c.Channel = &channel
	}
	if p.HasPCI {
		pci := int(p.PCI)
		c.PCI = &pci
	}
	var rates *throughput.CarrierRates
	if n.rates != nil {
		rates = &n.rates.Carriers[i]
		if p.Info != nil && p.Info.Duplex == bands.TDD {
			c.Pattern, c.PatternAssumed = rates.Frame.String(), rates.Frame.Assumed
			share := rates.Frame.Share(bands.Downlink).Float()
			c.DownlinkShare = &share
		}
	}
	c.Downlink, c.Uplink = linkOf(p, rates, bands.Downlink), linkOf(p, rates, bands.Uplink)
	return c
}

func decibels(l ca.Level) *float64 {
	if !l.IsGiven() {
		return nil
	}
	db := l.DB()
	return &db
}

func linkOf(p *ca.Placed, rates *throughput.CarrierRates, d bands.Direction) *LinkReport {
	if p.Width(d) == 0 {
		return nil
	}
	l := &LinkReport{Width: p.Width(d).InMHz(), Centre: mhz(p.CentreIn(d)), Blocks: p.Blocks(d)}
	if s := p.Span(d); !s.IsZero() {
		l.Low, l.High = mhz(s.Low), mhz(s.High)
	}
	if d == bands.Downlink && !p.Centres.IsZero() {
		l.CentreLow, l.CentreHigh = mhz(p.Centres.Low), mhz(p.Centres.High)
	}
	if rates == nil || rates.Link(d).IsZero() {
		return l
	}
	link := rates.Link(d)
	l.Layers, l.QAM, l.LayersAssumed, l.QAMAssumed, l.Counted = link.Layers, link.QAM, link.LayersAssumed, link.QAMAssumed, link.Counted
	r := ratesOf(&link.Rates)
	l.Rates = &r
	return l
}

// blocks lists the sub-blocks of every band, and the carriers without a place.
func (n *network) blocks() []BlockReport {
	list := []BlockReport{}
	for i := range n.assessment.Groups {
		g := &n.assessment.Groups[i]
		for j := range g.Blocks {
			b := &g.Blocks[j]
			r := BlockReport{Band: g.Band.ID.String(), Carriers: numbers(b.Carriers), Low: mhz(b.Edges.Low), High: mhz(b.Edges.High), Placed: true}
			if j+1 < len(g.Blocks) {
				gap := (g.Blocks[j+1].Edges.Low - b.Edges.High).InMHz()
				r.Gap = &gap
			}
			list = append(list, r)
		}
		if len(g.Unplaced) > 0 {
			list = append(list, BlockReport{Band: g.Band.ID.String(), Carriers: numbers(g.Unplaced)})
		}
	}
	return list
}

// numbers turns places in a list into numbers from 1.
func numbers(places []int) []int {
	list := make([]int, len(places))
	for i, p := range places {
		list[i] = p + 1
	}
	return list
}
