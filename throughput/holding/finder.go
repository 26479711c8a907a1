package holding

import (
	"spectally/bands"
	"spectally/ca"
	"spectally/ca/deploy"
	"spectally/throughput"
)

// Finder finds the best of networks for a phone. It keeps what it has worked out of
// rates, rooms and configurations, for the next network. It is for one goroutine.
type Finder struct {
	limits  Limits
	bounds  bounds
	rates   map[rateKey]rate
	rooms   map[string][]deploy.Room
	options map[optionKey][]option
	uplinks map[ca.Configuration][]uplink
	sets    map[ca.Configuration]map[bands.ID][]bands.Frequency
	plans   map[plansKey][]*plan
	known   map[ca.Configuration]*plan // nil for those that are none
	numbers map[ca.NamedBlock]int
	named   map[ca.Name]uplink
	err     error
}

// NewFinder makes a finder for a phone.
func NewFinder(l Limits) *Finder {
	return &Finder{
		limits:  l,
		bounds:  l.bounds(),
		rates:   make(map[rateKey]rate),
		rooms:   make(map[string][]deploy.Room),
		options: make(map[optionKey][]option),
		uplinks: make(map[ca.Configuration][]uplink),
		sets:    make(map[ca.Configuration]map[bands.ID][]bands.Frequency),
		plans:   make(map[plansKey][]*plan),
		known:   make(map[ca.Configuration]*plan),
		numbers: make(map[ca.NamedBlock]int),
		named:   make(map[ca.Name]uplink),
	}
}

// Err is the first fault that kept a rate from being worked out, such as a pattern that
// does not hold; its carriers count as yielding nothing.
func (f *Finder) Err() error { return f.err }

// rateKey is a carrier as far as its rate goes.
type rateKey struct {
	band             bands.ID
	downlink, uplink bands.Frequency
}

// rate is what a carrier yields, in bit/s.
type rate struct{ down, up int64 }

// rate works out the scheduled rates of a carrier, with its uplink in use.
func (f *Finder) rate(c ca.Carrier) rate {
	key := rateKey{c.Band, c.Downlink, c.Uplink}
	if r, ok := f.rates[key]; ok {
		return r
	}
	c.HasChannel, c.Channel = false, 0
	if c.Uplink != 0 {
		c.Transmit = ca.Yes
	}
	var r rate
	result, err := throughput.Rate(ca.Assess(ca.Combination{c}))
	if err == nil {
		err = result.Schedule(throughput.Settings{})
	}
	switch {
	case err != nil && f.err == nil:
		f.err = err
	case err == nil:
		r.down = result.Carriers[0].Downlink.Scheduled.Round()
		if up := &result.Carriers[0].Uplink; !up.IsZero() {
			r.up = up.Scheduled.Round()
		}
	}
	f.rates[key] = r
	return r
}

// equip gives a carrier the layers, constellations and pattern of the limits, as far as
// the device has them, and takes the uplink away that it does not use.
func (f *Finder) equip(c *deploy.Carrier, b *bands.Band) {
	l := &f.limits
	c.Layers, c.UplinkLayers, c.QAM, c.UplinkQAM = uint8(l.Layers), uint8(l.UplinkLayers), uint16(l.QAM), uint16(l.UplinkQAM)
	if b.Duplex == bands.TDD && b.ID.RAT == bands.NR {
		c.Pattern = l.Pattern
	}
	if d := f.deviceBand(c.Band); d != nil {
		c.Layers = uint8(least(int(c.Layers), d.Layers))
		c.UplinkLayers = uint8(least(int(c.UplinkLayers), d.UplinkLayers))
		c.QAM = uint16(least(int(c.QAM), d.QAM))
		c.UplinkQAM = uint16(least(int(c.UplinkQAM), d.UplinkQAM))
		if d.DownlinkOnly {
			c.Uplink, c.UplinkCentre, c.UplinkChannel, c.UplinkResourceBlocks = 0, 0, 0, 0
		}
	}
	if c.Uplink == 0 {
		c.UplinkLayers, c.UplinkQAM = 0, 0
	}
}

// deviceBand is what the device has in a band; nil if it does not have it or there is
// no device.
func (f *Finder) deviceBand(id bands.ID) *throughput.DeviceBand {
	if f.limits.Device == nil {
		return nil
	}
	for i := range f.limits.Device.Bands {
		if b := &f.limits.Device.Bands[i]; b.Band == id {
			return b
		}
	}
	return nil
}

// roomsOf lists the rooms of a block that the phone can use.
func (f *Finder) roomsOf(b deploy.Block) []deploy.Room {
	key := b.String()
	for _, id := range b.Bands {
		key += " " + id.String()
	}
	if list, ok := f.rooms[key]; ok {
		return list
	}
	var list []deploy.Room
	for _, r := range deploy.Rooms(b) {
		if r.Band.ID == bandN90 || r.Band.Duplex == bands.SUL || f.limits.Device != nil && f.deviceBand(r.Band.ID) == nil {
			continue
		}
		r.Tolerance = f.limits.Tolerance
		list = append(list, r)
	}
	f.rooms[key] = list
	return list
}

// bandN90 is the spectrum of n41 once more; what is listed for n41 holds for it.
var bandN90 = bands.ID{RAT: bands.NR, Number: 90}
