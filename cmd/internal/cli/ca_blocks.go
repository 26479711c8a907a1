package cli

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
)

// subBlock is carriers of one band that lie side by side, or carriers of a band of
// which that is not known.
type subBlock struct {
	band     *bands.Band
	carriers []int // counted from 0
	// known tells that the carriers are contiguous; a carrier that is alone in its
	// band is so.
	known   bool
	edges   bands.Span // of the aggregated channel; none if the place is not known
	sum     bands.Frequency
	classes []ca.Class
	gaps    []gap
}

// gap is the spacing of a carrier from the one below it in the band, which may be in
// another sub-block.
type gap struct {
	below, above int // carriers, counted from 0
	spacing      bands.Frequency
	nominal      ca.Spacing
}

// contiguous tells whether the carriers count as contiguous.
func (g *gap) contiguous() bool { return g.spacing <= g.nominal.Nominal+g.nominal.Tolerance }

// leading is the direction in which the carriers of a band are ordered.
func leading(b *bands.Band) bands.Direction {
	if b.Has(bands.Downlink) {
		return bands.Downlink
	}
	return bands.Uplink
}

// subBlocks lists the sub-blocks of all bands, in order of band.
func (c *combination) subBlocks() []subBlock {
	var list []subBlock
	for i := range c.Groups {
		g := &c.Groups[i]
		if !c.name.IsZero() {
			list = append(list, c.namedBlocks(g)...)
			continue
		}
		last := -1
		for _, b := range g.Blocks {
			s := c.subBlock(g.Band, b.Carriers)
			s.known = len(g.Unplaced) == 0
			s.edges = b.Edges
			for _, n := range b.Carriers {
				if d := leading(g.Band); last >= 0 {
					if nominal, err := ca.NominalSpacing(g.Band, c.Carriers[last].Width(d), c.Carriers[n].Width(d)); err == nil {
						s.gaps = append(s.gaps, gap{last, n, c.Carriers[n].CentreIn(d) - c.Carriers[last].CentreIn(d), nominal})
					}
				}
				last = n
			}
			list = append(list, s)
		}
		if len(g.Unplaced) > 0 {
			s := c.subBlock(g.Band, g.Unplaced)
			if s.known = g.Count() == 1; !s.known {
				s.classes = nil
			}
			list = append(list, s)
		}
	}
	return list
}

// namedBlocks are the sub-blocks of a band as the name tells them. The carriers
// stand in their order.
func (c *combination) namedBlocks(g *ca.Group) []subBlock {
	rest := slices.Clone(g.Unplaced)
	slices.Sort(rest)
	widest, ok := ca.Widest(c.name)
	components := c.name.Components()
	i := slices.IndexFunc(components, func(k ca.Component) bool { return k.Band == g.Band.ID })
	if !ok || i < 0 {
		return nil
	}
	var list []subBlock
	for j, b := range widest.Components[i] {
		n := min(len(b.Carriers), len(rest))
		s := c.subBlock(g.Band, rest[:n])
		s.known, s.classes = true, components[i].Blocks[j:j+1]
		list = append(list, s)
		rest = rest[n:]
	}
	return list
}

func (c *combination) subBlock(b *bands.Band, carriers []int) subBlock {
	s := subBlock{band: b, carriers: carriers}
	widths := make([]bands.Frequency, len(carriers))
	for i, n := range carriers {
		widths[i] = c.Carriers[n].Width(leading(b))
		s.sum += widths[i]
	}
	s.classes = ca.Classes(b, widths)
	return s
}

// carrierNumbers writes carriers, counted from 0, as people count them: "2, 3".
func carrierNumbers(list []int) string {
	words := make([]string, len(list))
	for i, n := range list {
		words[i] = strconv.Itoa(n + 1)
	}
	return strings.Join(words, ", ")
}

func classList(list []ca.Class) string {
	words := make([]string, len(list))
	for i, c := range list {
		words[i] = string(c)
	}
	return strings.Join(words, " or ")
}
