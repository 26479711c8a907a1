package ca

import (
	"slices"

	"spectally/bands"
)

// joins lists the ways in which an LTE and an NR sub-block of the same band number
// can be contiguous with each other, as in DC_(n)41AA. Where the channels tell there
// is one; else none and each possible pair are listed.
func (a *Assessment) joins(form []Component) []Joined {
	list := []Joined{{}}
	if a.Kind != KindENDC {
		return list
	}
	for _, l := range form {
		if l.Band.RAT != bands.LTE {
			continue
		}
		i := slices.IndexFunc(form, func(c Component) bool {
			return c.Band == bands.ID{RAT: bands.NR, Number: l.Band.Number}
		})
		if i < 0 {
			continue
		}
		switch near, known := a.adjacent(l.Band.Number); {
		case known && near:
			list = nil
			fallthrough
		case !known:
			for _, x := range slices.Compact(slices.Clone(l.Blocks)) {
				for _, y := range slices.Compact(slices.Clone(form[i].Blocks)) {
					list = append(list, Joined{Band: l.Band.Number, LTE: x, NR: y})
				}
			}
		}
	}
	return list
}

// adjacent tells whether an LTE and an NR sub-block of a band lie side by side, and
// whether the channels tell at all. Side by side are channels whose edges meet but
// for the raster offset of the nominal spacing, 15 kHz at most (TS 38.101-3 clause
// 5.4B.1, from memory).
func (a *Assessment) adjacent(number uint16) (near, known bool) {
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
		return false, false
	}
	for _, x := range lte.Blocks {
		for _, y := range nr.Blocks {
			first, second := a.channelSpan(x), a.channelSpan(y)
			if first.Low > second.Low {
				first, second = second, first
			}
			if second.Low-first.High <= 15*bands.KHz {
				return true, true
			}
		}
	}
	return false, true
}

// channelSpan is the spectrum of the channels of a block, from the lowest lower to
// the highest upper channel edge.
func (a *Assessment) channelSpan(b Block) bands.Span {
	first, last := &a.Carriers[b.Carriers[0]], &a.Carriers[b.Carriers[len(b.Carriers)-1]]
	d := lead(first.Info)
	return bands.Span{Low: first.Span(d).Low, High: last.Span(d).High}
}
