package fieldlog

import (
	"fmt"
	"slices"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/tomlcarrier"
	"spectally/throughput"
)

const maxLayers = 8 // of one UE (TS 38.211 clause 7.3.1.3, TS 36.211 clause 6.3.3.2; from memory)

// withDevice fills in what the device and the radios say of layers and modulation
// where the carriers leave it open, with what was assumed.
func withDevice(n *Network) (ca.Combination, []throughput.Assumption) {
	list := slices.Clone(n.Carriers)
	transmits := ca.Assess(list).Carriers
	var assumed []throughput.Assumption
	for i := range list {
		c := &list[i]
		b := transmits[i].Info
		if b == nil {
			continue
		}
		if k := n.Device.Kind; k != 0 {
			taken, limits, ok, err := k.Alone(*c, n.Device.ReceiveAntennas)
			if ok && err == nil {
				taken.Transmit, taken.Role = c.Transmit, c.Role
				*c = taken
			}
			for _, l := range limits {
				assumed = append(assumed, throughput.Assumption{Carriers: []int{i + 1}, Text: strings.TrimSuffix(l.Text, ".")})
			}
			continue
		}
		say := func(d bands.Direction, format string, args ...any) {
			text := c.Band.String() + " " + d.String() + " " + fmt.Sprintf(format, args...)
			assumed = append(assumed, throughput.Assumption{Carriers: []int{i + 1}, Text: text})
		}
		if layers, why := layersOf(n, b); c.Layers == 0 && layers != 0 && b.Has(bands.Downlink) {
			c.Layers = uint8(layers)
			say(bands.Downlink, "%s (%s)", counted(layers, "layer"), why)
		}
		set := func(d bands.Direction, field *uint16, size int) {
			if *field != 0 || size == 0 || !b.Has(d) || d == bands.Uplink && !transmits[i].Transmits {
				return
			}
			*field = uint16(size)
			p := transmits[i]
			p.Carrier = *c
			if tomlcarrier.RateAlone(&p) != nil { // the band does not have this constellation
				*field = 0
				return
			}
			say(d, "%dQAM (the device's largest)", size)
		}
		set(bands.Downlink, &c.QAM, qamIn(b, n.Device.QAM))
		set(bands.Uplink, &c.UplinkQAM, n.Device.UplinkQAM)
	}
	return list, assumed
}

// qamIn is a constellation size as far as a band knows it: 1024QAM is for LTE and FR1
// (TS 38.306 clause 4.2.7, pdsch-1024QAM-FR1; from memory).
func qamIn(b *bands.Band, size int) int {
	if b.Range.IsFR2() {
		return min(size, 256)
	}
	return size
}

// layersOf is the number of downlink layers that the antennas leave in a band, and
// why; 0 where the log says nothing of either side.
func layersOf(n *Network, b *bands.Band) (layers int, why string) {
	layers = throughput.DefaultLayers(b, bands.Downlink)
	known := false
	if r := n.Device.ReceiveAntennas; r > 0 {
		layers, known = min(r, maxLayers), true
		why = "the device has " + counted(r, "receive antenna")
	}
	if t := transmitPorts(n, b.ID); t > 0 && t < layers {
		layers, known = t, true
		why = "the radio has " + counted(t, "transmit port") + " connected"
	}
	if !known {
		return 0, ""
	}
	return layers, why
}

// transmitPorts is the most transmit ports of the radios that serve a band; 0 if the
// log has none.
func transmitPorts(n *Network, id bands.ID) int {
	most := 0
	for i := range n.Radios {
		if r := &n.Radios[i]; r.serves(id) {
			most = max(most, r.ports())
		}
	}
	return most
}

func (r *Radio) serves(id bands.ID) bool { return len(r.Bands) == 0 || slices.Contains(r.Bands, id) }

// ports are the transmit ports that are connected, as far as known.
func (r *Radio) ports() int {
	if r.HasConnected {
		return r.Connected
	}
	return r.Transmit
}

// checkDevice finds what the log says of carriers beyond what its antennas allow.
func (n *network) checkDevice() {
	d := &n.log.Device
	for i := range n.log.Carriers {
		c := &n.log.Carriers[i]
		layers, ports := int(c.Layers), d.ReceiveAntennas
		if ports > 0 && layers > ports {
			n.warn("device-layers", i+1, fmt.Sprintf("%s are written down, but the device has %s: one phone gets no more layers than it has receive antennas.",
				counted(layers, "layer"), counted(ports, "receive antenna")))
		}
		if t := transmitPorts(n.log, c.Band); t > 0 && layers > t {
			n.warn("radio-layers", i+1, fmt.Sprintf("%s are written down, but the radio has %s.", counted(layers, "layer"), counted(t, "transmit port")))
		}
		if t := d.TransmitAntennas; t > 0 && int(c.UplinkLayers) > t {
			n.warn("device-layers", i+1, fmt.Sprintf("%s in the uplink are written down, but the device has %s.",
				counted(int(c.UplinkLayers), "layer"), counted(t, "transmit antenna")))
		}
	}
}

// counted writes a number with its noun.
func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
