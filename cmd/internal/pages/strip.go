package pages

import (
	"slices"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/render"
)

// carrierStrip draws the spectrum of carriers; nil if they cannot be read.
func carrierStrip(text string) *render.Spectrum {
	a, err := ca.AssessText(text)
	if err != nil {
		return nil
	}
	var blocks []render.SpectrumBlock
	for i := range a.Groups {
		g := &a.Groups[i]
		for _, b := range g.Blocks {
			blocks = append(blocks, carrierUses(a, g.Band, b.Carriers)...)
		}
		for _, n := range g.Unplaced {
			blocks = append(blocks, carrierUses(a, g.Band, []int{n})...)
		}
	}
	if len(blocks) == 0 {
		return nil
	}
	return &render.Spectrum{Title: "Spectrum", Lanes: []render.Lane{{Blocks: blocks}}}
}

// carrierUses are the channels of carriers that lie side by side: one block for TDD,
// else one for each direction.
func carrierUses(a *ca.Assessment, b *bands.Band, carriers []int) []render.SpectrumBlock {
	var uses []render.Use
	if b.Duplex == bands.TDD {
		uses = []render.Use{render.BothUse}
	} else {
		if b.Has(bands.Downlink) {
			uses = append(uses, render.DownlinkUse)
		}
		if b.Has(bands.Uplink) {
			uses = append(uses, render.UplinkUse)
		}
	}
	var list []render.SpectrumBlock
	for _, use := range uses {
		if block, ok := carrierBlock(a, b, carriers, use); ok {
			list = append(list, block)
		}
	}
	return list
}

func carrierBlock(a *ca.Assessment, b *bands.Band, carriers []int, use render.Use) (block render.SpectrumBlock, ok bool) {
	d := bands.Downlink
	if use == render.UplinkUse {
		d = bands.Uplink
	}
	block = render.SpectrumBlock{Band: b.ID.String(), Use: use, Within: b.Span(d)}
	placed := true
	for _, n := range carriers {
		p := &a.Carriers[n]
		if p.Width(d) == 0 {
			continue
		}
		c := render.Channel{Carrier: n + 1, Width: p.Width(d), Silent: use != render.DownlinkUse && !p.Transmits}
		if p.CentreIn(d) != 0 {
			c.Edges = p.Span(d)
		}
		placed = placed && !c.Edges.IsZero()
		block.Channels = append(block.Channels, c)
	}
	if len(block.Channels) == 0 {
		return block, false
	}
	if p := &a.Carriers[carriers[0]]; !p.Centres.IsZero() && d == bands.Downlink {
		block.Loose = true
		block.Edges, block.Certain = p.Possible()
		block.Channels[0].Edges = block.Edges
		return block, true
	}
	if !placed {
		for i := range block.Channels {
			block.Channels[i].Edges = bands.Span{}
		}
		return block, true
	}
	slices.SortFunc(block.Channels, func(x, y render.Channel) int { return int(x.Edges.Low/bands.KHz - y.Edges.Low/bands.KHz) })
	block.Edges = bands.Span{Low: block.Channels[0].Edges.Low, High: block.Channels[0].Edges.High}
	for _, c := range block.Channels {
		block.Edges.High = max(block.Edges.High, c.Edges.High)
	}
	return block, true
}
