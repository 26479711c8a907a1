package ca

import (
	"slices"

	"spectally/bands"
)

// SubBlock is carriers of one band that lie side by side, or carriers of a band of which
// that is not known.
type SubBlock struct {
	Band     *bands.Band
	Carriers []int // places in Assessment.Carriers
	// Known tells that the carriers are contiguous; a carrier that is alone in its
	// band is so.
	Known   bool
	Edges   bands.Span // of the aggregated channel; none if the place is not known
	Sum     bands.Frequency
	Classes []Class // that the carriers form together; none if that is not known
	// Neighbours are the carriers and those below them in the band, which may be in
	// another sub-block.
	Neighbours []Neighbours
}

// Neighbours are two carriers of a band of which one follows the other.
type Neighbours struct {
	Below, Above int             // places in Assessment.Carriers
	Apart        bands.Frequency // distance of their centres
	Spacing      Spacing
}

// Contiguous tells whether the carriers count as contiguous.
func (n *Neighbours) Contiguous() bool { return n.Apart <= n.Spacing.Nominal+n.Spacing.Tolerance }

// SubBlocks lists the sub-blocks of all bands, in order of band. Those of a name are as
// the name tells them.
func (a *Assessment) SubBlocks() []SubBlock {
	var list []SubBlock
	for i := range a.Groups {
		g := &a.Groups[i]
		if !a.Name.IsZero() {
			list = append(list, a.namedBlocks(g)...)
			continue
		}
		d := lead(g.Band)
		last := -1
		for _, b := range g.Blocks {
			s := a.subBlock(g.Band, b.Carriers)
			s.Known, s.Edges = len(g.Unplaced) == 0, b.Edges
			for _, n := range b.Carriers {
				if last >= 0 {
					if spacing, err := NominalSpacing(g.Band, a.Carriers[last].Width(d), a.Carriers[n].Width(d)); err == nil {
						s.Neighbours = append(s.Neighbours, Neighbours{last, n, a.Carriers[n].CentreIn(d) - a.Carriers[last].CentreIn(d), spacing})
					}
				}
				last = n
			}
			list = append(list, s)
		}
		if len(g.Unplaced) > 0 {
			s := a.subBlock(g.Band, g.Unplaced)
			if s.Known = g.Count() == 1; !s.Known {
				s.Classes = nil
			}
			list = append(list, s)
		}
	}
	return list
}

// namedBlocks are the sub-blocks of a band as the name tells them. The carriers stand in
// their order.
func (a *Assessment) namedBlocks(g *Group) []SubBlock {
	rest := slices.Sorted(slices.Values(g.Unplaced))
	components := a.Name.Components()
	i := slices.IndexFunc(components, func(k Component) bool { return k.Band == g.Band.ID })
	if len(a.ways) == 0 || i < 0 {
		return nil
	}
	var list []SubBlock
	for j, b := range a.ways[0].Components[i] {
		n := min(len(b.Carriers), len(rest))
		s := a.subBlock(g.Band, rest[:n])
		s.Known, s.Classes = true, components[i].Blocks[j:j+1]
		list = append(list, s)
		rest = rest[n:]
	}
	return list
}

func (a *Assessment) subBlock(b *bands.Band, carriers []int) SubBlock {
	s := SubBlock{Band: b, Carriers: carriers}
	widths := a.widths(carriers)
	for _, w := range widths {
		s.Sum += w
	}
	s.Classes = Classes(b, widths)
	return s
}
