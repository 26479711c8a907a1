package ca

import (
	"slices"

	"spectally/bands"
)

// Block is a sub-block: carriers of one band that follow each other at no more than
// the nominal spacing.
type Block struct {
	// Carriers are places in Assessment.Carriers, in rising frequency.
	Carriers []int
	// Edges are the edges of the aggregated channel in the downlink (in the uplink
	// for a supplementary uplink); none if the place is not known.
	Edges bands.Span
}

// Group is the carriers of one band.
type Group struct {
	Band *bands.Band
	// Blocks are sub-blocks whose extent is known, in rising frequency.
	Blocks []Block
	// Unplaced are carriers whose place is not known: they may be contiguous with
	// each other and with any block.
	Unplaced []int
}

// Count is the number of carriers of the group.
func (g *Group) Count() int {
	n := len(g.Unplaced)
	for _, b := range g.Blocks {
		n += len(b.Carriers)
	}
	return n
}

// lead is the direction in which the carriers of a band are ordered.
func lead(b *bands.Band) bands.Direction {
	if b.Has(bands.Downlink) {
		return bands.Downlink
	}
	return bands.Uplink
}

// group sorts the carriers into bands and sub-blocks.
func (k *checker) group() {
	order, blocks, groups := k.order[:0], k.blocks[:0], k.groups[:0]
	if n := len(k.Carriers); n > usual {
		order, blocks, groups = make([]int, 0, n), make([]Block, 0, n), make([]Group, 0, n)
	}
	for i := range k.Carriers {
		if k.Carriers[i].Info != nil {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(i, j int) int {
		a, b := &k.Carriers[i], &k.Carriers[j]
		if c := a.Band.Compare(b.Band); c != 0 {
			return c
		}
		d := lead(a.Info)
		ca, cb := a.CentreIn(d), b.CentreIn(d)
		switch {
		case ca == cb:
			return 0
		case ca == 0: // unplaced last
			return 1
		case cb == 0 || ca < cb:
			return -1
		}
		return 1
	})
	for start := 0; start < len(order); {
		end := start + 1
		for end < len(order) && k.Carriers[order[end]].Band == k.Carriers[order[start]].Band {
			end++
		}
		g := Group{Band: k.Carriers[order[start]].Info}
		first := len(blocks)
		d := lead(g.Band)
		placed := start
		for placed < end && k.Carriers[order[placed]].CentreIn(d) != 0 {
			if placed > start && k.contiguous(order[placed-1], order[placed]) {
				last := &blocks[len(blocks)-1]
				last.Carriers = last.Carriers[:len(last.Carriers)+1] // the order is that of the slice
			} else {
				blocks = append(blocks, Block{Carriers: order[placed : placed+1]})
			}
			placed++
		}
		g.Blocks, g.Unplaced = blocks[first:len(blocks):len(blocks)], order[placed:end:end]
		for j := range g.Blocks {
			g.Blocks[j].Edges = k.edges(g.Band, g.Blocks[j].Carriers)
		}
		groups = append(groups, g)
		start = end
	}
	k.Groups = groups
}

// contiguous tells whether carrier j follows carrier i, below it in the same band,
// at no more than the nominal spacing.
func (k *checker) contiguous(i, j int) bool {
	a, b := &k.Carriers[i], &k.Carriers[j]
	d := lead(a.Info)
	s, err := NominalSpacing(a.Info, a.Width(d), b.Width(d))
	return err == nil && b.CentreIn(d)-a.CentreIn(d) <= s.Nominal+s.Tolerance
}

// edges are the edges of the aggregated channel of contiguous carriers; a single
// carrier has the edges of its channel.
func (k *checker) edges(b *bands.Band, list []int) bands.Span {
	d := lead(b)
	low, high := &k.Carriers[list[0]], &k.Carriers[list[len(list)-1]]
	if len(list) == 1 {
		return low.Span(d)
	}
	var room [usual]bands.Frequency
	widths := room[:0]
	for _, i := range list {
		widths = append(widths, k.Carriers[i].Width(d))
	}
	below, above, err := AggregatedReach(b, widths)
	if err != nil {
		return bands.Span{Low: low.Span(d).Low, High: high.Span(d).High}
	}
	return bands.Span{Low: low.CentreIn(d) - below, High: high.CentreIn(d) + above}
}

// AggregatedReach tells how far the aggregated channel of contiguous carriers goes
// below the centre of the lowest and above that of the highest; the widths stand in
// rising order of frequency (TS 38.101-1 clause 5.3A.3, TS 38.101-2 clause 5.3A.2,
// TS 36.101 clause 5.6A):
//
//	below = (12 N_RB,low  + 1) SCS/2 + GB
//	above = (12 N_RB,high − 1) SCS/2 + GB, GB the larger of the two guard bands
//	LTE: (12 N_RB + 1) · 15 kHz / 2 + 0.05 BW_max − 7.5 kHz, on both sides
//
// A single carrier reaches half its width to either side. A width that the band does
// not have is an error.
func AggregatedReach(b *bands.Band, widths []bands.Frequency) (below, above bands.Frequency, err error) {
	low, high := widths[0], widths[len(widths)-1]
	if len(widths) == 1 {
		return low / 2, low / 2, nil
	}
	first, last, err := atCommonSpacing(b, low, high)
	if err != nil {
		return 0, 0, err
	}
	if b.ID.RAT == bands.LTE {
		guard := slices.Max(widths)/20 - 7500*bands.Hz
		return bands.Frequency(12*first.ResourceBlocks+1)*first.SCS/2 + guard, bands.Frequency(12*last.ResourceBlocks+1)*last.SCS/2 + guard, nil
	}
	guard := max(first.GuardBand, last.GuardBand)
	return bands.Frequency(12*first.ResourceBlocks+1)*first.SCS/2 + guard, bands.Frequency(12*last.ResourceBlocks-1)*last.SCS/2 + guard, nil
}
