package site

import (
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/throughput/exact"
	"spectally/throughput/internal/words"
)

// LimitKind is a sort of limit of a site.
type LimitKind string

// The sorts, the ones that decide first.
const (
	LimitBackhaul     LimitKind = "backhaul"      // the link carries less than the means
	LimitBackhaulPeak LimitKind = "backhaul-peak" // the link carries the means, but not one peak
	LimitLayers       LimitKind = "layers"        // the layers and modulation of carriers hold the mean down
	LimitSpectrum     LimitKind = "spectrum"      // bandwidth and what each hertz of it carries
)

// SiteLimit is something that holds a site down in a direction.
type Limit struct {
	Direction bands.Direction
	Kind      LimitKind
	Text      string // one sentence
}

// Limits says what holds the site down in each direction, what decides first.
func (c *SiteCapacity) Limits() []Limit {
	var list []Limit
	for _, d := range bothDirections {
		if c.In(d).Width == 0 {
			continue
		}
		add := func(k LimitKind, text string) { list = append(list, Limit{d, k, text}) }
		b := c.Backhaul.In(d)
		switch {
		case !b.FitsMeans:
			add(LimitBackhaul, "The link lets "+mbps(b.Delivered)+" of user data through, the radio carries "+mbps(b.Means)+" in the busy hour.")
		case !b.Enough:
			add(LimitBackhaulPeak, "The link of "+mbps(b.Link)+" carries the busy hour, but the need of "+mbps(b.Need)+" follows from the peak of one sector.")
		}
		var held, free []string
		for i := range c.Sectors {
			for k := range c.Sectors[i].Carriers {
				one := &c.Sectors[i].Carriers[k]
				switch l := one.Link(d); l.Bound {
				case BoundLayers:
					held = appendNew(held, carrierName(one, d)+" ("+words.Plural(l.CellLayers, "layer")+", "+words.QAM(l.QAM)+")")
				case BoundSpectrum:
					free = appendNew(free, carrierName(one, d))
				}
			}
		}
		if len(held) > 0 {
			add(LimitLayers, "Layers and modulation hold the mean down on "+strings.Join(held, ", ")+".")
		}
		if len(free) > 0 {
			add(LimitSpectrum, "Bandwidth and spectral efficiency limit the mean on "+strings.Join(free, ", ")+".")
		}
	}
	return list
}

// carrierName names a carrier by band and width: "n78:100".
func carrierName(c *CarrierCapacity, d bands.Direction) string {
	return c.Carrier.Band.String() + ":" + c.Link(d).Width.MHz()
}

func appendNew(list []string, s string) []string {
	for _, have := range list {
		if have == s {
			return list
		}
	}
	return append(list, s)
}

// mbps writes a rate with one decimal: "1348.0 Mbit/s".
func mbps(r exact.Ratio) string { return strconv.FormatFloat(r.Mbps(), 'f', 1, 64) + " Mbit/s" }
