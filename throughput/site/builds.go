package site

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/throughput/internal/words"
)

// Build is the same site with other antennas: as many ports on every radio, in both
// directions, and the usual number of layers for them.
type Build struct {
	Ports int
	// ArrayGain is how much more power the ports can bring to one place than a single
	// one of the same total power, in dB: 10 log(ports). It is a bound: every port has
	// to add in phase.
	ArrayGain float64
	// CellLayers are the layers over all users of a radio with these ports.
	CellLayers, UplinkCellLayers int
	Site                         *SiteCapacity
	// Text says in plain words what the ports do.
	Text []string
}

// BuildPorts are the builds that are compared where none are named.
func BuildPorts() []int { return []int{2, 4, 8, 32, 64} }

// WhatPortsChange says in plain words what more ports bring, and what they don't.
func WhatPortsChange() (changes, stays []string) {
	return []string{
			"Array gain: the same power from more ports adds up where the phone is, so the signal there is stronger and reaches farther, by at most 3 dB for each doubling.",
			"Layers over all users: more phones can have data on the same resource blocks at the same time, so the cell carries more.",
			"Interference: narrower beams put less power where it is not wanted.",
		}, []string{
			"The layers of one phone: they end at its own antennas, so its peak stays what it is once the site has as many ports.",
			"The bandwidth, the modulation, and the share of time of each direction.",
			"A cell with one user at a time: without others the layers over all users lie idle.",
		}
}

// CompareBuilds works the site out with each number of ports. The single phone has no
// more layers than ports. An efficiency of the planner's own is carried over as the
// published values change. Errors are of type *Error.
func CompareBuilds(site *Site, ports ...int) ([]Build, error) {
	if len(ports) == 0 {
		ports = BuildPorts()
	}
	list := make([]Build, 0, len(ports))
	for _, n := range ports {
		if err := checkPorts("ports", n); err != nil {
			return nil, &Error{Err: err}
		}
		other := site.clone()
		other.each(func(r *Radio, i int) {
			if i == 0 {
				ports := min(n, r.panelPorts())
				r.setPorts(ports, ports)
				r.Layers, r.UplinkLayers = 0, 0
			}
			c := &r.Carriers[i]
			c.Layers, c.UplinkLayers = uint8(min(int(c.Layers), r.TransmitPorts)), uint8(min(int(c.UplinkLayers), r.ReceivePorts))
		})
		capacity, err := Plan(other)
		if err != nil {
			return nil, err
		}
		b := Build{
			Ports: n, ArrayGain: 10 * math.Log10(float64(n)), Site: capacity,
			CellLayers: DefaultCellLayers(bands.Downlink, n), UplinkCellLayers: DefaultCellLayers(bands.Uplink, n),
		}
		b.Text = b.words()
		list = append(list, b)
	}
	return list, nil
}

// panelPorts is the most ports that all bands of the radio have room for.
func (r *Radio) panelPorts() int {
	most := MaxPorts
	for i := range r.Carriers {
		if b, err := bands.Lookup(r.Carriers[i].Band); err == nil {
			most = min(most, PanelPorts(b))
		}
	}
	return most
}

// heldBands are the bands whose antennas have no room for the ports of the build.
func (b *Build) heldBands() []string {
	var list []string
	for i := range b.Site.Sectors {
		for k := range b.Site.Sectors[i].Carriers {
			id := b.Site.Sectors[i].Carriers[k].Carrier.Band
			if band, err := bands.Lookup(id); err == nil && PanelPorts(band) < b.Ports && !slices.Contains(list, id.String()) {
				list = append(list, id.String())
			}
		}
	}
	return list
}

// words says what the build does for one phone and for all.
func (b *Build) words() []string {
	gain := strconv.FormatFloat(b.ArrayGain, 'f', 1, 64) + " dB of array gain over one port at most"
	var layers, most int
	var basis EfficiencyBasis
	for i := range b.Site.Sectors {
		for k := range b.Site.Sectors[i].Carriers {
			if l := &b.Site.Sectors[i].Carriers[k].Downlink; !l.IsZero() {
				layers, most, basis = max(layers, l.UserLayers), max(most, l.CellLayers), max(basis, l.Average.Basis)
			}
		}
	}
	if layers == 0 {
		return []string{gain + "."}
	}
	text := []string{gain + "; one phone has up to " + words.Plural(layers, "layer") + ", the cell " + strconv.Itoa(most) + "."}
	if held := b.heldBands(); len(held) > 0 {
		text = append(text, strings.Join(held, ", ")+": no more ports than an antenna has room for at this wavelength (common practice, no source).")
	}
	switch basis {
	case BasisHeld:
		text = append(text, "The mean is that of the largest build that is published.")
	case BasisBelow:
		text = append(text, "The mean is carried on below what is published.")
	case BasisBetween:
		text = append(text, "The mean lies between published values.")
	}
	return text
}
