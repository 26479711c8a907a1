package throughput

import (
	"slices"
	"strconv"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput/internal/words"
)

// Device is what a UE can take, as its maker or its capability report says.
type Device struct {
	Name string
	// Kind is a sort of UE with limits of its own. ReceivePorts are its receive branches,
	// 1 or 2; 0 leaves them open. Both are for UEs of reduced capability.
	Kind         DeviceKind
	ReceivePorts int
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
	// their fallbacks ([ca.Name.FallsBackTo]).
	Configurations []ca.Name
}

// DeviceBand is what a UE can do in a band; zero fields leave it open.
type DeviceBand struct {
	Band                 bands.ID
	Layers, UplinkLayers int
	QAM, UplinkQAM       int
	Widest               bands.Frequency // widest channel bandwidth
	DownlinkOnly         bool            // it does not transmit in the band
	HalfDuplex           bool            // it does not receive while it transmits (FDD)
}

// Limit is something in which a device takes less than a site offers.
type Limit struct {
	// Carrier counts from 1 in the site's combination; 0 is the combination.
	Carrier int
	// Item says what limits: "band", "width", "layers", "modulation", "uplink",
	// "uplink layers", "uplink modulation", "uplink carriers", "carriers", "LTE
	// carriers", "NR carriers", "aggregated width" and so by technology,
	// "configuration", "anchor"; of UEs of reduced capability also "technology",
	// "frequency range", "subcarrier spacing", "resource blocks", "rate", "duplex".
	Item string
	// Site and Device are what the two have of the item.
	Site, Device string
	// Text says it in one sentence.
	Text string
}

// Served is the part of a site's combination that a device takes.
type Served struct {
	Carriers ca.Combination
	// Of holds the number of each carrier in the site's combination, counted from 1.
	Of []int
	// Limits says what was changed or left out; none if the device takes all.
	Limits []Limit
	// Complete is false if there were too many ways to choose carriers to look at all:
	// a better choice than this one may exist.
	Complete bool
}

// FillIn fills in the layers and modulations that the device has in a band for
// carriers of it that do not say: the site is taken to offer as much. What it filled
// in is listed.
func (d *Device) FillIn(site ca.Combination) (ca.Combination, []Assumption) {
	site = slices.Clone(site)
	placed := ca.Assess(site).Carriers
	var assumed []Assumption
	for i := range site {
		c, p := &site[i], &placed[i]
		b := d.band(c.Band)
		if b == nil || p.Info == nil {
			continue
		}
		say := func(d bands.Direction, q Quantity, value int) {
			assumed = mergeAssumption(assumed, Assumption{Carriers: []int{i + 1}, Band: c.Band, RAT: c.Band.RAT, Direction: d, Quantity: q, Value: strconv.Itoa(value), Why: WhyDevice})
		}
		if p.Info.Has(bands.Downlink) {
			if c.Layers == 0 && b.Layers != 0 {
				c.Layers = uint8(b.Layers)
				say(bands.Downlink, QuantityLayers, b.Layers)
			}
			if c.QAM == 0 && b.QAM != 0 {
				c.QAM = uint16(b.QAM)
				say(bands.Downlink, QuantityQAM, b.QAM)
			}
		}
		if transmits(p) {
			if c.UplinkLayers == 0 && b.UplinkLayers != 0 {
				c.UplinkLayers = uint8(b.UplinkLayers)
				say(bands.Uplink, QuantityLayers, b.UplinkLayers)
			}
			if c.UplinkQAM == 0 && b.UplinkQAM != 0 {
				c.UplinkQAM = uint16(b.UplinkQAM)
				say(bands.Uplink, QuantityQAM, b.UplinkQAM)
			}
		}
	}
	return site, assumed
}

// Serve works out which part of a site's combination the device takes: carriers of
// bands that it lacks go, layers and modulations come down to what it has, and of
// what is left it takes the carriers whose maximum rates add up to the most within
// its number of carriers, its megahertz and its configurations. Carriers whose role
// is said to be that of a primary cell come first; where the site has E-UTRA with
// NR, an E-UTRA carrier stays as the anchor if the device takes any.
func (d *Device) Serve(site *Result) *Served {
	s := serving{device: d, site: site, served: &Served{Complete: true}}
	a := site.assessment
	for i := range a.Carriers {
		if c, ok := s.carrier(i); ok {
			s.offered = append(s.offered, candidate{Carrier: c, place: i})
		}
	}
	s.choose()
	s.fitUplink()
	return s.served
}

type serving struct {
	device  *Device
	site    *Result
	offered []candidate
	served  *Served
}

func (s *serving) limit(l Limit) { s.served.Limits = append(s.served.Limits, l) }

// carrier brings carrier i down to what the device has in its band; false if it
// cannot take it at all.
func (s *serving) carrier(i int) (ca.Carrier, bool) {
	p, rates := &s.site.assessment.Carriers[i], &s.site.Carriers[i]
	c := p.Carrier
	id := c.Band.String()
	b := s.device.band(c.Band)
	if b == nil {
		s.limit(Limit{i + 1, "band", id, "none", "The device does not have " + id + "."})
		return c, false
	}
	if !s.reduce(i, &c, b) {
		return c, false
	}
	if w := max(p.DownlinkWidth, p.UplinkWidth); b.Widest != 0 && w > b.Widest {
		s.limit(Limit{i + 1, "width", w.MHz() + " MHz", b.Widest.MHz() + " MHz",
			"The device takes channels of at most " + b.Widest.MHz() + " MHz in " + id + ", not " + w.MHz() + " MHz."})
		return c, false
	}
	lower := func(item, takesText, offersText string, offers, takes int) bool {
		if takes == 0 || offers <= takes {
			return false
		}
		s.limit(Limit{i + 1, item, strconv.Itoa(offers), strconv.Itoa(takes),
			"The device takes " + takesText + " in " + id + ", the site offers " + offersText + "."})
		return true
	}
	lowerLayers := func(item, word string, offers, takes int) bool {
		return lower(item, words.Plural(takes, word), strconv.Itoa(offers), offers, takes)
	}
	lowerQAM := func(item, link string, offers, takes int) bool {
		return lower(item, link+words.QAM(takes), words.QAM(offers), offers, takes)
	}
	if l := &rates.Downlink; !l.IsZero() {
		if lowerLayers("layers", "downlink layer", l.Layers, b.Layers) {
			c.Layers = uint8(b.Layers)
		}
		if lowerQAM("modulation", "", l.QAM, b.QAM) {
			c.QAM = uint16(b.QAM)
		}
	}
	switch l := &rates.Uplink; {
	case l.IsZero():
	case b.DownlinkOnly:
		s.limit(Limit{i + 1, "uplink", "yes", "no", "The device does not transmit in " + id + "."})
		c.Transmit = ca.No
	default:
		if lowerLayers("uplink layers", "uplink layer", l.Layers, b.UplinkLayers) {
			c.UplinkLayers = uint8(b.UplinkLayers)
		}
		if lowerQAM("uplink modulation", "uplink ", l.QAM, b.UplinkQAM) {
			c.UplinkQAM = uint16(b.UplinkQAM)
		}
	}
	if b.DownlinkOnly {
		c.Transmit = ca.No
	}
	return c, true
}

// fitUplink lets only as many carriers transmit as the device can, the first ones.
func (s *serving) fitUplink() {
	most := s.device.UplinkCarriers
	if s.device.Kind != 0 {
		most = 1
	}
	if most == 0 || len(s.served.Carriers) == 0 {
		return
	}
	a := ca.Assess(s.served.Carriers)
	transmitting := 0
	for i := range a.Carriers {
		if a.Carriers[i].Transmits {
			transmitting++
		}
	}
	if transmitting <= most {
		return
	}
	number := 0
	for i := range a.Carriers {
		c := &s.served.Carriers[i]
		if !a.Carriers[i].Transmits {
			continue
		}
		if number++; number > most {
			c.Transmit = ca.No
			s.limit(Limit{s.served.Of[i], "uplink carriers", strconv.Itoa(transmitting), strconv.Itoa(most),
				"The device transmits on " + words.Plural(most, "carrier") + ", the site offers " + strconv.Itoa(transmitting) + ": " + c.Band.String() + " has no uplink."})
			continue
		}
		c.Transmit = ca.Yes // what another carrier loses does not come here
	}
	for i := range a.Carriers {
		if c := &s.served.Carriers[i]; c.Transmit == ca.Open && a.Carriers[i].UplinkWidth != 0 {
			c.Transmit = ca.No
		}
	}
}
