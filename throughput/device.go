package throughput

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
)

// Device is what a UE can take, as its maker or its capability report says.
type Device struct {
	Name string
	// Bands are the bands it has. A carrier of another band is not served.
	Bands []DeviceBand
	// Carriers bounds the number of downlink carriers, LTECarriers and NRCarriers
	// those of a technology, UplinkCarriers the carriers on which it transmits; zero
	// leaves a number open.
	Carriers, LTECarriers, NRCarriers, UplinkCarriers int
	// Width bounds the sum of the downlink channel bandwidths, LTEWidth and NRWidth
	// those of a technology; zero leaves a sum open.
	Width, LTEWidth, NRWidth bands.Frequency
	// Configurations are the configurations it has, if it lists any. They bring
	// their fallbacks.
	Configurations []ca.Name
}

// DeviceBand is what a UE can do in a band; zero fields leave it open.
type DeviceBand struct {
	Band                 bands.ID
	Layers, UplinkLayers int
	QAM, UplinkQAM       int
	Widest               bands.Frequency // widest channel bandwidth
	DownlinkOnly         bool            // it does not transmit in the band
}

// Limit is something in which a device takes less than a site offers.
type Limit struct {
	// Carrier counts from 1 in the site's combination; 0 is the combination.
	Carrier int
	// Item says what limits: "band", "layers", "modulation", "width", "carriers",
	// "aggregated width", "uplink".
	Item string
	// Text says it in one sentence.
	Text string
}

// Serve returns the part of a site's combination that the device takes: carriers of
// bands that it lacks go, layers and modulations come down to what it has, and where
// there are too many carriers or megahertz those with the lowest maximum rate go
// first. The limits say what was changed, none if the device takes all. Carriers
// that do not say how many layers or which modulation they have are taken with the
// defaults.
//
// It is an error if the site's combination cannot be rated.
func (d *Device) Serve(site ca.Combination) (ca.Combination, []Limit, error) {
	rated, err := Rate(ca.Check(site))
	if err != nil {
		return nil, nil, err
	}
	s := serving{device: d, site: rated}
	for i := range site {
		if c, ok := s.carrier(i, site[i]); ok {
			s.kept = append(s.kept, keptCarrier{c, i})
		}
	}
	s.fit()
	s.fitUplink()
	served := make(ca.Combination, len(s.kept))
	for i, k := range s.kept {
		served[i] = k.Carrier
	}
	return served, s.limits, nil
}

type keptCarrier struct {
	ca.Carrier
	place int // in the site's combination
}

type serving struct {
	device *Device
	site   *Result
	kept   []keptCarrier
	limits []Limit
}

func (s *serving) limit(i int, item, format string, args ...any) {
	s.limits = append(s.limits, Limit{Carrier: i + 1, Item: item, Text: fmt.Sprintf(format, args...)})
}

// carrier brings one carrier down to what the device has in its band; false if it
// cannot take it at all.
func (s *serving) carrier(i int, c ca.Carrier) (ca.Carrier, bool) {
	at := slices.IndexFunc(s.device.Bands, func(b DeviceBand) bool { return b.Band == c.Band })
	if at < 0 {
		s.limit(i, "band", "The device does not have %s.", c.Band)
		return c, false
	}
	b := &s.device.Bands[at]
	if b.Widest != 0 && max(c.Downlink, c.Uplink) > b.Widest {
		s.limit(i, "width", "The device takes channels of at most %s in %s, not %s.", b.Widest, c.Band, c.Downlink)
		return c, false
	}
	rates := &s.site.Carriers[i]
	if l := &rates.Downlink; !l.IsZero() {
		if b.Layers != 0 && l.Layers > b.Layers {
			s.limit(i, "layers", "The device takes %s in %s, the site offers %d.", plural(b.Layers, "downlink layer"), c.Band, l.Layers)
			c.Layers = uint8(b.Layers)
		}
		if b.QAM != 0 && l.QAM > b.QAM {
			s.limit(i, "modulation", "The device takes %dQAM in %s, the site offers %dQAM.", b.QAM, c.Band, l.QAM)
			c.QAM = uint16(b.QAM)
		}
	}
	l := &rates.Uplink
	switch {
	case l.IsZero():
	case b.DownlinkOnly:
		s.limit(i, "uplink", "The device does not transmit in %s.", c.Band)
		c.Transmit = ca.No
	default:
		if b.UplinkLayers != 0 && l.Layers > b.UplinkLayers {
			s.limit(i, "layers", "The device sends %s in %s, the site offers %d.", plural(b.UplinkLayers, "layer"), c.Band, l.Layers)
			c.UplinkLayers = uint8(b.UplinkLayers)
		}
		if b.UplinkQAM != 0 && l.QAM > b.UplinkQAM {
			s.limit(i, "modulation", "The device sends %dQAM in %s, the site offers %dQAM.", b.UplinkQAM, c.Band, l.QAM)
			c.UplinkQAM = uint16(b.UplinkQAM)
		}
	}
	return c, true
}

// fit drops carriers until numbers and widths are within the device's bounds.
func (s *serving) fit() {
	d := s.device
	any := func(keptCarrier) bool { return true }
	of := func(rat bands.RAT) func(keptCarrier) bool {
		return func(k keptCarrier) bool { return k.Band.RAT == rat }
	}
	for _, b := range []struct {
		name  string
		count int
		width bands.Frequency
		of    func(keptCarrier) bool
	}{
		{"LTE ", d.LTECarriers, d.LTEWidth, of(bands.LTE)},
		{"NR ", d.NRCarriers, d.NRWidth, of(bands.NR)},
		{"", d.Carriers, d.Width, any},
	} {
		for {
			count, width := 0, bands.Frequency(0)
			for _, k := range s.kept {
				if w := s.width(k); w > 0 && b.of(k) {
					count, width = count+1, width+w
				}
			}
			switch {
			case b.count != 0 && count > b.count:
				s.drop(b.of, "carriers", "The device takes "+strconv.Itoa(b.count)+" "+b.name+"carriers, the site offers more")
			case b.width != 0 && width > b.width:
				s.drop(b.of, "aggregated width", "The device takes "+b.width.String()+" of "+b.name+"spectrum, not "+width.String())
			default:
				goto next
			}
		}
	next:
	}
}

// fitUplink lets only as many carriers transmit as the device can, the first of each
// technology before others.
func (s *serving) fitUplink() {
	if s.device.UplinkCarriers == 0 {
		return
	}
	transmitting := 0
	for i := range s.kept {
		k := &s.kept[i]
		if s.site.Carriers[k.place].Uplink.IsZero() || k.Transmit == ca.No {
			continue
		}
		if transmitting++; transmitting > s.device.UplinkCarriers {
			s.limit(k.place, "uplink", "The device transmits on %s; %s is left out.", plural(s.device.UplinkCarriers, "carrier"), k.Band)
			k.Transmit = ca.No
		}
	}
}

func (s *serving) width(k keptCarrier) bands.Frequency {
	return s.site.assessment.Carriers[k.place].DownlinkWidth
}

// drop takes out the carrier of the lowest maximum rate, but not the first one while
// there is another: it is the primary cell.
func (s *serving) drop(of func(keptCarrier) bool, item, why string) {
	worst := -1
	for i, k := range s.kept {
		if !of(k) || s.width(k) == 0 {
			continue
		}
		if worst < 0 || s.isFirst(worst) || !s.isFirst(i) && s.rate(i).Cmp(s.rate(worst)) <= 0 {
			worst = i
		}
	}
	k := s.kept[worst]
	s.limit(k.place, item, "%s: %s is left out.", why, strings.TrimSpace(k.Band.String()+" "+k.Downlink.String()))
	s.kept = slices.Delete(s.kept, worst, worst+1)
}

// isFirst tells whether kept carrier i is the first of its technology.
func (s *serving) isFirst(i int) bool {
	return !slices.ContainsFunc(s.kept[:i], func(k keptCarrier) bool { return k.Band.RAT == s.kept[i].Band.RAT })
}

func (s *serving) rate(i int) Ratio { return s.site.Carriers[s.kept[i].place].Downlink.Max }
