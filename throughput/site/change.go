package site

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
)

// carrierKind tells carriers of a site apart that a change treats alike.
type carrierKind struct {
	band              bands.ID
	downlink, uplink  bands.Frequency
	transmit, receive int
}

func kindOf(r *Radio, c *ca.Carrier) carrierKind {
	return carrierKind{c.Band, c.Downlink, c.Uplink, r.TransmitPorts, r.ReceivePorts}
}

// kinds lists the kinds of carriers of a site in the order in which they stand.
func (site *Site) kinds() []carrierKind {
	var list []carrierKind
	site.each(func(r *Radio, i int) {
		if k := kindOf(r, &r.Carriers[i]); !slices.Contains(list, k) {
			list = append(list, k)
		}
	})
	return list
}

// radioKind tells radios of a site apart that a change of ports treats alike.
type radioKind struct {
	transmit, receive int
	carriers          string // bands and widths, as the change names them
}

func (r *Radio) kind() radioKind {
	var names []string
	for i := range r.Carriers {
		if name := kindOf(r, &r.Carriers[i]).name(); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return radioKind{r.TransmitPorts, r.ReceivePorts, strings.Join(names, " and ")}
}

// radioKinds lists the kinds of radios of a site in the order in which they stand.
func (site *Site) radioKinds() []radioKind {
	var list []radioKind
	for i := range site.Sectors {
		for j := range site.Sectors[i].Radios {
			if k := site.Sectors[i].Radios[j].kind(); !slices.Contains(list, k) {
				list = append(list, k)
			}
		}
	}
	return list
}

// name is the band and the width that stands for the kind.
func (k carrierKind) name() string {
	width := k.downlink
	if width == 0 {
		width = k.uplink
	}
	return k.band.String() + ":" + width.MHz()
}

func portsText(transmit, receive int) string {
	return strconv.Itoa(transmit) + "T" + strconv.Itoa(receive) + "R"
}

// hasLike tells whether a site has the carriers of a kind with other ports too.
func (site *Site) hasLike(k carrierKind) bool {
	return slices.ContainsFunc(site.kinds(), func(o carrierKind) bool {
		return o != k && o.band == k.band && o.downlink == k.downlink && o.uplink == k.uplink
	})
}

// each visits the carriers of a site, each with its radio and its place there.
func (site *Site) each(visit func(r *Radio, i int)) {
	for i := range site.Sectors {
		for k := range site.Sectors[i].Radios {
			r := &site.Sectors[i].Radios[k]
			for c := range r.Carriers {
				visit(r, c)
			}
		}
	}
}

// clone copies a site so far that a change of sectors, radios and carriers leaves the
// original alone.
func (site *Site) clone() *Site {
	out := *site
	out.Sectors = slices.Clone(site.Sectors)
	for i := range out.Sectors {
		s := &out.Sectors[i]
		s.Radios = slices.Clone(s.Radios)
		for k := range s.Radios {
			s.Radios[k].Carriers = slices.Clone(s.Radios[k].Carriers)
		}
	}
	return &out
}

// unplaced is a carrier without what belongs to its place and cell.
func unplaced(c ca.Carrier) ca.Carrier {
	c.HasChannel, c.Channel, c.Centre = false, 0, 0
	c.HasPCI, c.PCI = false, 0
	c.RSRP, c.SINR, c.Role = ca.Level{}, ca.Level{}, 0
	return c
}

// withCarrier adds a carrier of a kind to every radio that has one; false if a radio
// then has more than its band holds.
func (site *Site) withCarrier(k carrierKind) (*Site, bool) {
	out := site.clone()
	for i := range out.Sectors {
		for j := range out.Sectors[i].Radios {
			r := &out.Sectors[i].Radios[j]
			at := slices.IndexFunc(r.Carriers, func(c ca.Carrier) bool { return kindOf(r, &c) == k })
			if at >= 0 {
				r.Carriers = slices.Insert(r.Carriers, at+1, unplaced(r.Carriers[at]))
			}
		}
	}
	return out, out.fits()
}

// withWidth takes the next wider channel bandwidth of the band for the first carrier of
// a kind in every radio that has one; false if there is none, or the band is full.
func (site *Site) withWidth(k carrierKind) (*Site, bands.Frequency, bool) {
	info, err := bands.Lookup(k.band)
	if err != nil {
		return nil, 0, false
	}
	d, width := bands.Downlink, k.downlink
	if !info.Has(d) {
		d, width = bands.Uplink, k.uplink
	}
	var wider bands.Frequency
	out := site.clone()
	for i := range out.Sectors {
		for j := range out.Sectors[i].Radios {
			r := &out.Sectors[i].Radios[j]
			at := slices.IndexFunc(r.Carriers, func(c ca.Carrier) bool { return kindOf(r, &c) == k })
			if at < 0 {
				continue
			}
			c := unplaced(r.Carriers[at])
			scs := c.SCS
			if scs == 0 {
				scs = info.DefaultSpacing(width)
			}
			wider = nextAbove(info.WidthsIn(d, scs), width)
			if wider == 0 {
				return nil, 0, false
			}
			c.SCS = scs
			if c.Uplink == c.Downlink && (!info.Has(bands.Uplink) || info.CheckWidth(bands.Uplink, wider, scs) == nil) {
				c.Uplink = wider
			}
			if d == bands.Uplink {
				c.Uplink = wider
			}
			if c.Downlink != 0 {
				c.Downlink = wider
			}
			r.Carriers[at] = c
		}
	}
	return out, wider, out.fits()
}

func nextAbove(list []bands.Frequency, width bands.Frequency) bands.Frequency {
	for _, w := range list { // in rising order
		if w > width {
			return w
		}
	}
	return 0
}

// withPorts gives the radios of a kind a number of ports. Layers that were given stay,
// unless the usual number for the ports is larger.
func (site *Site) withPorts(k radioKind, ports int) *Site {
	out := site.clone()
	for i := range out.Sectors {
		for j := range out.Sectors[i].Radios {
			r := &out.Sectors[i].Radios[j]
			if r.kind() == k {
				r.setPorts(ports, max(ports, r.ReceivePorts))
				if r.Layers > 0 {
					r.Layers = max(r.Layers, DefaultCellLayers(bands.Downlink, r.TransmitPorts))
				}
				if r.UplinkLayers > 0 {
					r.UplinkLayers = max(r.UplinkLayers, DefaultCellLayers(bands.Uplink, r.ReceivePorts))
				}
			}
		}
	}
	return out
}

// setPorts changes the ports; measured efficiencies remember those that they are for.
func (r *Radio) setPorts(transmit, receive int) {
	if r.Measured.TransmitPorts == 0 {
		r.Measured.TransmitPorts = r.TransmitPorts
	}
	if r.Measured.ReceivePorts == 0 {
		r.Measured.ReceivePorts = r.ReceivePorts
	}
	r.TransmitPorts, r.ReceivePorts = transmit, receive
}

// fits tells whether the carriers of every sector have room in their bands.
func (site *Site) fits() bool {
	for i := range site.Sectors {
		for _, f := range ca.CheckRules(site.Sectors[i].Combination()) {
			if f.Severity == ca.Error && (f.Rule == ca.RuleExceedsBand || f.Rule == ca.RuleOverlap) {
				return false
			}
		}
	}
	return true
}
