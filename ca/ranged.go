package ca

import (
	"slices"

	"spectally/bands"
)

// reach is where the centre of a carrier can lie in the direction that leads: at one
// place, or within a range; zero if nothing is known.
func (p *Placed) reach() bands.Span {
	if p.Info == nil {
		return bands.Span{}
	}
	if c := p.CentreIn(lead(p.Info)); c != 0 {
		return bands.Span{Low: c, High: c}
	}
	return p.Centres
}

// neighbours tells whether two carriers of a band can follow each other at no more than
// the nominal spacing, and whether they must.
func (a *Assessment) neighbours(i, j int) (may, must bool) {
	p, q := &a.Carriers[i], &a.Carriers[j]
	x, y := p.reach(), q.reach()
	if x.IsZero() || y.IsZero() {
		return true, false
	}
	d := lead(p.Info)
	s, err := NominalSpacing(p.Info, p.Width(d), q.Width(d))
	if err != nil {
		return false, false
	}
	limit := s.Nominal + s.Tolerance
	return max(y.Low-x.High, x.Low-y.High) <= limit, max(y.High-x.Low, x.High-y.Low) <= limit
}

// fits tells whether carriers can lie so that units are their sub-blocks: those of a
// unit linked by carriers that can be neighbours, and none of different units that must
// be. What it lets through can still be impossible for three carriers and more.
func (a *Assessment) fits(units []unit) bool {
	for n, u := range units {
		if !a.linked(u.members) {
			return false
		}
		for _, v := range units[:n] {
			for _, i := range u.members {
				if slices.ContainsFunc(v.members, func(j int) bool { _, must := a.neighbours(i, j); return must }) {
					return false
				}
			}
		}
	}
	return true
}

// linked tells whether each of the carriers is reached from the first by carriers that
// can be neighbours.
func (a *Assessment) linked(members []int) bool {
	found, rest := slices.Clone(members[:1]), slices.Clone(members[1:])
	for n := 0; n < len(found); n++ {
		for m := len(rest) - 1; m >= 0; m-- {
			if may, _ := a.neighbours(found[n], rest[m]); may {
				found = append(found, rest[m])
				rest = slices.Delete(rest, m, m+1)
			}
		}
	}
	return len(rest) == 0
}

// isOpen tells whether it is open how the carriers of a group lie to each other.
func (a *Assessment) isOpen(g *Group) bool {
	var all []int
	for i := range g.Blocks {
		all = append(all, g.Blocks[i].Carriers...)
	}
	for _, i := range g.Unplaced {
		for _, j := range all {
			if may, must := a.neighbours(i, j); may && !must {
				return true
			}
		}
		all = append(all, i)
	}
	return false
}
