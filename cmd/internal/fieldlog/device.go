package fieldlog

import (
	"fmt"
	"slices"
	"strings"

	"spectally/bands"
	"spectally/bands/rf"
	"spectally/ca"
	"spectally/cmd/internal/assumed"
	"spectally/cmd/internal/tomlcarrier"
	"spectally/throughput"
)

const maxLayers = 8 // of one UE (TS 38.211 clause 7.3.1.3, TS 36.211 clause 6.3.3.2; from memory)

// withDevice fills in what the device and the radios say of layers and modulation
// where the carriers leave it open, with what was assumed.
func withDevice(n *Network) (ca.Combination, []assumed.Statement) {
	list := slices.Clone(n.Carriers)
	transmits := ca.Assess(list).Carriers
	var said []assumed.Statement
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
				said = append(said, assumed.Statement{Carriers: []int{i + 1}, Text: strings.TrimSuffix(l.Text, ".")})
			}
			continue
		}
		say := func(d bands.Direction, source bands.Source, format string, args ...any) {
			said = append(said, assumed.Statement{Carriers: []int{i + 1}, Band: c.Band, Text: d.String() + " " + fmt.Sprintf(format, args...), Source: source})
		}
		if l := layersOf(n, b); c.Layers == 0 && l.layers != 0 && b.Has(bands.Downlink) {
			c.Layers = uint8(l.layers)
			say(bands.Downlink, l.source, "%s (%s)", counted(l.layers, "layer"), l.why)
		}
		set := func(d bands.Direction, field *uint16, size int) {
			why := "the device's largest"
			if d == bands.Downlink && size > fr2QAM && b.Range.IsFR2() {
				why = fmt.Sprintf("the device's %dQAM is for FR1", size)
				size = fr2QAM
			}
			if *field != 0 || size == 0 || !b.Has(d) || d == bands.Uplink && !transmits[i].Transmits {
				return
			}
			*field = uint16(size)
			p := transmits[i]
			p.Carrier = *c
			if err := tomlcarrier.RateAlone(&p); err != nil {
				*field = 0
				say(d, bands.Source{}, "as usual, without the device's %dQAM (%v)", size, err)
				return
			}
			say(d, bands.Source{}, "%dQAM (%s)", size, why)
		}
		set(bands.Downlink, &c.QAM, n.Device.QAM)
		set(bands.Uplink, &c.UplinkQAM, n.Device.UplinkQAM)
	}
	return list, said
}

// fr2QAM is the largest constellation of the downlink in FR2: 1024QAM is for LTE and FR1
// (TS 38.306 clause 4.2.7, pdsch-1024QAM-FR1; from memory).
const fr2QAM = 256

// taken is a number of layers, and why it is no more; 0 where nothing is known.
type taken struct {
	layers int
	why    string
	source bands.Source
}

// antennasIn is the number of layers that a device with so many receive antennas takes in
// a band, unless the carrier says so itself: no more than the receive ports for which the
// standard has a requirement there, two in FR2, and two below 1 GHz, where phones have no
// room for more.
func antennasIn(b *bands.Band, antennas int) taken {
	t := taken{layers: min(antennas, maxLayers), why: "the device has " + counted(antennas, "receive antenna")}
	limit := func(most int, why string, source bands.Source) taken {
		if t.layers > most {
			t = taken{most, why, source}
		}
		return t
	}
	span := b.Span(bands.Downlink)
	switch {
	case b.Range.IsFR2():
		return limit(2, "two polarisations, however many antennas the device has; "+assumed.NoSource, bands.Source{})
	case span.High < bands.GHz:
		return limit(2, "below 1 GHz, whatever the device has above; "+assumed.NoSource, bands.Source{})
	case b.ID.RAT == bands.NR:
		most, source := throughput.DefaultLayers(b, bands.Downlink), bands.Source{Spec: "TS 38.101-1", Version: "19.5.0", Table: "7.3.2-2"}
		for _, p := range rf.MorePorts(b.ID) {
			if p.Ports > most {
				most, source = p.Ports, p.Source
			}
		}
		return limit(most, "the most receive ports with a requirement in this band", source)
	}
	return t
}

// layersOf is the number of downlink layers that the antennas leave in a band; none where
// the log says nothing of either side.
func layersOf(n *Network, b *bands.Band) taken {
	t := taken{layers: throughput.DefaultLayers(b, bands.Downlink)}
	if r := n.Device.ReceiveAntennas; r > 0 {
		t = antennasIn(b, r)
	}
	if p := transmitPorts(n, b.ID); p > 0 && p < t.layers {
		t = taken{layers: p, why: "the radio has " + counted(p, "transmit port") + " connected"}
	}
	if t.why == "" {
		return taken{}
	}
	return t
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
