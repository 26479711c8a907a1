package ca

import (
	"slices"

	"spectally/bands"
)

// joins lists the ways in which an LTE and an NR sub-block of the same band number
// can be contiguous with each other, as in DC_(n)41AA. Where the channels tell, only
// those that are so count; else none and each possible pair are listed.
func (a *Assessment) joins(form []Component) []Joined {
	list := []Joined{{}}
	if a.Kind != KindENDC && a.Kind != KindNEDC {
		return list
	}
	for _, l := range form {
		if l.Band.RAT != bands.LTE {
			continue
		}
		number := l.Band.Number
		i := slices.IndexFunc(form, func(c Component) bool { return c.Band == bands.ID{RAT: bands.NR, Number: number} })
		if i < 0 {
			continue
		}
		pairs, known := a.adjacent(number)
		if !known {
			for _, x := range slices.Compact(slices.Clone(l.Blocks)) {
				for _, y := range slices.Compact(slices.Clone(form[i].Blocks)) {
					list = append(list, Joined{Band: number, LTE: x, NR: y})
				}
			}
			continue
		}
		if len(pairs) == 0 {
			continue
		}
		list = nil
		for _, x := range l.Blocks {
			for _, y := range form[i].Blocks {
				j := Joined{Band: number, LTE: x, NR: y}
				fits := slices.ContainsFunc(pairs, func(p [2]Block) bool {
					return slices.Contains(a.classes(p[0]), x) && slices.Contains(a.classes(p[1]), y)
				})
				if fits && !slices.Contains(list, j) {
					list = append(list, j)
				}
			}
		}
	}
	return list
}

// classes lists the bandwidth classes of a sub-block.
func (a *Assessment) classes(b Block) []Class {
	info := a.Carriers[b.Carriers[0]].Info
	return Classes(info, a.widths(b.Carriers))
}

// widths lists the widths of carriers of one band in the direction that leads.
func (a *Assessment) widths(carriers []int) []bands.Frequency {
	list := make([]bands.Frequency, len(carriers))
	for n, i := range carriers {
		list[n] = a.Carriers[i].Width(lead(a.Carriers[i].Info))
	}
	return list
}

// adjacent lists the LTE and NR sub-blocks of a band that lie side by side, LTE
// first, and whether the channels tell at all. Side by side are channels whose edges
// meet, but for the raster offset of the nominal spacing, 15 kHz at most (TS 38.101-3
// clause 5.4B.1, from memory), and whose resource blocks do not share spectrum.
func (a *Assessment) adjacent(number uint16) (pairs [][2]Block, known bool) {
	var lte, nr *Group
	for i := range a.Groups {
		switch a.Groups[i].Band.ID {
		case bands.ID{RAT: bands.LTE, Number: number}:
			lte = &a.Groups[i]
		case bands.ID{RAT: bands.NR, Number: number}:
			nr = &a.Groups[i]
		}
	}
	if lte == nil || nr == nil || len(lte.Unplaced) > 0 || len(nr.Unplaced) > 0 {
		return nil, false
	}
	for _, x := range lte.Blocks {
		for _, y := range nr.Blocks {
			if a.meet(x, y) || a.meet(y, x) {
				pairs = append(pairs, [2]Block{x, y})
			}
		}
	}
	return pairs, true
}

// meet tells whether the channels of a block end where those of another begin.
func (a *Assessment) meet(low, high Block) bool {
	x, y := &a.Carriers[low.Carriers[len(low.Carriers)-1]], &a.Carriers[high.Carriers[0]]
	d := lead(x.Info)
	gap := y.Span(d).Low - x.Span(d).High
	return x.CentreIn(d) < y.CentreIn(d) && gap <= 15*bands.KHz && !x.overlaps(y, d)
}
