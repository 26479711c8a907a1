package fieldreport

import (
	"spectally/bands"
	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/render"
)

// strip draws the spectrum of one network.
func strip(title string, n *fieldlog.NetworkReport) *render.Spectrum {
	return &render.Spectrum{Title: title, Lanes: []render.Lane{{Blocks: laneOf(n)}}}
}

// laneOf makes a lane of the sub-blocks of a network: one block for TDD carriers and
// for single directions, else one in each direction.
func laneOf(n *fieldlog.NetworkReport) []render.SpectrumBlock {
	var lane []render.SpectrumBlock
	for i := range n.Blocks {
		b := &n.Blocks[i]
		var carriers []*combination.Carrier
		for _, number := range b.Carriers {
			carriers = append(carriers, &n.Carriers[number-1])
		}
		if b.Low != nil {
			lane = append(lane, directions(b, carriers)...)
			continue
		}
		for i := range carriers { // their order is not known: each stands by itself
			lane = append(lane, directions(b, carriers[i:i+1])...)
		}
	}
	return lane
}

func directions(b *combination.Block, carriers []*combination.Carrier) []render.SpectrumBlock {
	if carriers[0].Duplex == "TDD" {
		return present(block(b, carriers, render.BothUse))
	}
	return present(block(b, carriers, render.DownlinkUse), block(b, carriers, render.UplinkUse))
}

// present leaves out blocks of nothing.
func present(blocks ...render.SpectrumBlock) []render.SpectrumBlock {
	var list []render.SpectrumBlock
	for _, b := range blocks {
		if len(b.Channels) > 0 {
			list = append(list, b)
		}
	}
	return list
}

// block is the channels of carriers in one use.
func block(b *combination.Block, carriers []*combination.Carrier, use render.Use) render.SpectrumBlock {
	out := render.SpectrumBlock{Band: b.Band, Use: use, Within: within(b.Band, use)}
	placed := true
	for _, c := range carriers {
		link := c.Downlink
		if use == render.UplinkUse || link == nil && use == render.BothUse {
			link = c.Uplink
		}
		if link == nil || link.Width == "0" {
			continue
		}
		channel := render.Channel{Carrier: c.Number, Width: hertz(link.Width), Silent: use != render.DownlinkUse && !c.Transmits}
		if link.Low != nil && link.High != nil {
			channel.Edges = bands.Span{Low: hertz(*link.Low), High: hertz(*link.High)}
		}
		placed = placed && !channel.Edges.IsZero()
		out.Channels = append(out.Channels, channel)
	}
	if len(out.Channels) == 0 {
		return out
	}
	if l := carriers[0].Downlink; len(carriers) == 1 && use != render.UplinkUse && l != nil && l.CentreLow != nil {
		half := hertz(l.Width) / 2
		low, high := hertz(*l.CentreLow), hertz(*l.CentreHigh)
		out.Loose, out.Edges = true, bands.Span{Low: low - half, High: high + half}
		if high-half < low+half {
			out.Certain = bands.Span{Low: high - half, High: low + half}
		}
		out.Channels[0].Edges = out.Edges
		return out
	}
	if !placed {
		for i := range out.Channels {
			out.Channels[i].Edges = bands.Span{}
		}
		return out
	}
	out.Edges = bands.Span{Low: out.Channels[0].Edges.Low, High: out.Channels[len(out.Channels)-1].Edges.High}
	return out
}

// within is where a band lies in a direction; none for a band that is not known.
func within(band string, use render.Use) bands.Span {
	id, err := bands.ParseID(band)
	if err != nil {
		return bands.Span{}
	}
	info, err := bands.Lookup(id)
	if err != nil {
		return bands.Span{}
	}
	if use == render.UplinkUse {
		return info.Uplink
	}
	return info.Downlink
}
