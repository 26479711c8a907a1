package pages

import (
	"cmp"
	"slices"

	"spectally/bands"
	"spectally/cmd/internal/render"
)

// mostNeighbours is how many other bands a map shows.
const mostNeighbours = 12

// bandBlocks draws a map above a band that is shown by itself.
func bandBlocks(_ *Site, _ *query, a *render.Answer) []render.Block {
	blocks := subordinate(a.Document)
	var shown *bands.Band
	for _, b := range a.Document {
		title, ok := b.(render.Title)
		if !ok {
			continue
		}
		id, err := bands.ParseID(title.Text)
		if err != nil || shown != nil {
			return blocks
		}
		if shown, err = bands.Lookup(id); err != nil {
			return blocks
		}
	}
	if shown == nil {
		return blocks
	}
	return slices.Insert(blocks, 1, render.Block(bandMap(shown)))
}

// bandMap draws a band, and below it those that overlap it or are near.
func bandMap(b *bands.Band) *render.Spectrum {
	s := &render.Spectrum{
		Title: b.ID.String() + " and its neighbours",
		Legend: "MHz, all on one scale. Upper track: downlink, solid. Lower track: uplink, hatched. A block over both tracks is TDD. " +
			"A line joins the two directions of a paired band. The axis is broken where nothing lies. Of bands that are only partly near, the near part is drawn.",
		Lanes: []render.Lane{{Name: b.ID.String(), Blocks: bandUses(b)}},
	}
	for _, n := range neighbours(b) {
		s.Lanes = place(s.Lanes, n.blocks)
	}
	return s
}

// neighbour is a band near another one, with those of its directions that are near.
type neighbour struct {
	blocks   []render.SpectrumBlock
	distance bands.Frequency
}

// nearness is how far from a band others are its neighbours.
func nearness(b *bands.Band) bands.Frequency {
	if b.Range.IsFR2() {
		return 500 * bands.MHz
	}
	return 50 * bands.MHz
}

// neighbours lists the bands that overlap a band or are near, the nearest first.
func neighbours(b *bands.Band) []neighbour {
	var list []neighbour
	own := bandUses(b)
	for _, other := range bands.All(0) {
		if other.ID == b.ID {
			continue
		}
		n := neighbour{distance: nearness(b) + 1}
		for _, block := range bandUses(other) {
			for i := range own {
				if d := distance(own[i].Edges, block.Edges); d <= nearness(b) {
					n.distance = min(n.distance, d)
					n.blocks = append(n.blocks, block)
					break
				}
			}
		}
		if len(n.blocks) > 0 {
			list = append(list, n)
		}
	}
	slices.SortStableFunc(list, func(x, y neighbour) int { return cmp.Compare(x.distance, y.distance) })
	return list[:min(len(list), mostNeighbours)]
}

// distance is the gap between two spans; zero where they touch or overlap.
func distance(a, b bands.Span) bands.Frequency { return max(0, a.Low-b.High, b.Low-a.High) }

// bandUses are the spans of a band: one for TDD, else one for each direction.
func bandUses(b *bands.Band) []render.SpectrumBlock {
	block := func(s bands.Span, use render.Use) render.SpectrumBlock {
		return render.SpectrumBlock{Band: b.ID.String(), Use: use, Edges: s, Within: s, Channels: []render.Channel{{Width: s.Width(), Edges: s}}}
	}
	if b.Duplex == bands.TDD {
		return []render.SpectrumBlock{block(b.Downlink, render.BothUse)}
	}
	var list []render.SpectrumBlock
	if b.Has(bands.Downlink) {
		list = append(list, block(b.Downlink, render.DownlinkUse))
	}
	if b.Has(bands.Uplink) {
		list = append(list, block(b.Uplink, render.UplinkUse))
	}
	return list
}

// place puts blocks into the first lane below the first that has room for them.
func place(lanes []render.Lane, blocks []render.SpectrumBlock) []render.Lane {
	for i := 1; i < len(lanes); i++ {
		if !slices.ContainsFunc(lanes[i].Blocks, func(there render.SpectrumBlock) bool {
			return slices.ContainsFunc(blocks, func(b render.SpectrumBlock) bool { return distance(there.Edges, b.Edges) == 0 })
		}) {
			lanes[i].Blocks = append(lanes[i].Blocks, blocks...)
			return lanes
		}
	}
	return append(lanes, render.Lane{Blocks: blocks})
}
