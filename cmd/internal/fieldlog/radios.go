package fieldlog

import (
	"fmt"

	"spectally/bands"
	"spectally/throughput"
)

func (n *network) radios() []RadioReport {
	list := []RadioReport{}
	for i := range n.log.Radios {
		list = append(list, n.radio(&n.log.Radios[i]))
	}
	return list
}

// radio holds the ports of a radio against the layers that one phone can get: no more
// than it has receive antennas, no more than transmit ports are connected.
func (n *network) radio(r *Radio) RadioReport {
	out := RadioReport{
		Name: r.Name, Ports: fmt.Sprintf("%dT%dR", r.Transmit, r.Receive), Transmit: r.Transmit, Receive: r.Receive, Antenna: r.Antenna,
		Numbers: present(r.Ports), Bands: []string{}, Notes: present(r.Notes),
	}
	if r.HasConnected {
		connected := r.Connected
		out.Connected = &connected
	}
	for _, id := range r.Bands {
		out.Bands = append(out.Bands, id.String())
	}
	out.PhonePorts = n.log.Device.ReceiveAntennas
	if out.PhonePorts == 0 {
		out.PhonePorts, out.Assumed = n.standardPorts(r), true
	}
	ports := r.ports()
	out.PhoneLayers = min(ports, n.layersAt(r, out.PhonePorts))
	if out.PhoneLayers > 0 {
		out.Phones = ports / out.PhoneLayers
	}
	out.Statements = out.statements(ports)
	return out
}

// layersAt is the most layers that a phone with so many receive antennas takes in the bands
// that a radio serves.
func (n *network) layersAt(r *Radio, antennas int) int {
	most := 0
	for i := range n.assessment.Carriers {
		p := &n.assessment.Carriers[i]
		if p.Info != nil && p.Info.Has(bands.Downlink) && r.serves(p.Band) {
			most = max(most, int(p.Layers), antennasIn(p.Info, antennas).layers)
		}
	}
	if most == 0 { // none of its carriers was seen
		most = antennas
	}
	return min(most, antennas, maxLayers)
}

// standardPorts is the most receive ports that the standard asks of a phone in the
// bands that a radio serves.
func (n *network) standardPorts(r *Radio) int {
	most := 2
	for i := range n.assessment.Carriers {
		p := &n.assessment.Carriers[i]
		if p.Info != nil && p.Info.Has(bands.Downlink) && r.serves(p.Band) {
			most = max(most, throughput.DefaultLayers(p.Info, bands.Downlink))
		}
	}
	return most
}

func (r *RadioReport) statements(ports int) []string {
	var list []string
	if r.Connected != nil && ports < r.Transmit {
		list = append(list, fmt.Sprintf("%d of %d transmit ports are connected; the others are idle.", ports, r.Transmit))
	}
	phone := counted(r.PhonePorts, "receive antenna")
	if r.Assumed {
		phone += " (as the standard asks for; the log does not say)"
	}
	switch {
	case ports == 0:
		return append(list, "No transmit port is connected, so this radio serves nobody.")
	case ports > r.PhoneLayers:
		list = append(list,
			fmt.Sprintf("One phone gets at most %s from these %s: it has %s.", counted(r.PhoneLayers, "layer"), counted(ports, "transmit port"), phone))
		if r.Phones > 1 {
			list = append(list, fmt.Sprintf("The other ports are not idle: they can serve up to %d such phones at once if these are far enough apart, or put their power into fewer, stronger beams.", r.Phones))
		} else {
			list = append(list, "The other ports add power and diversity, and shape beams.")
		}
	default:
		list = append(list, fmt.Sprintf("One phone gets at most %s, as many as there are transmit ports; it has %s.", counted(r.PhoneLayers, "layer"), phone))
	}
	if r.Antenna == "omni" && ports > 2 {
		list = append(list, "An omni antenna seldom gives more than two ports that differ in polarisation at one place; more layers need antennas some way apart (common practice, no source).")
	}
	return list
}
