package holding

import (
	"slices"

	"spectally/bands"
	"spectally/ca"
)

// uplink is an uplink of a configuration, taken to pieces.
type uplink struct {
	name     ca.Name
	blocks   []ca.NamedBlock
	carriers int
	// alone tells that it is one carrier that no table names: whether the rule of the
	// standard allows it is looked up when it matters.
	alone bool
}

// uplinksOf lists the uplinks that go with a configuration: those of its table, and for
// carrier aggregation of one technology each band alone. Those whose carriers share
// their time, or that the phone does not have, are left out.
func (f *Finder) uplinksOf(p *plan) []uplink {
	if p.isSingle() {
		return []uplink{{name: p.name, blocks: p.slots, carriers: 1}}
	}
	if list, ok := f.uplinks[p.configuration]; ok {
		return list
	}
	var list []uplink
	add := func(u uplink) {
		if f.bounds.uplink == 0 || u.carriers <= f.bounds.uplink {
			list = append(list, u)
		}
	}
	for _, u := range p.configuration.Uplinks() {
		if u.Name.IsZero() {
			continue
		}
		if x := f.uplinkOf(u.Name); x.carriers > 0 {
			add(x)
		}
	}
	if k := p.configuration.Kind(); k == ca.KindLTECA || k == ca.KindNRCA {
		for i, s := range p.slots {
			if i > 0 && p.slots[i-1].Band == s.Band {
				continue
			}
			add(uplink{name: single(s.Band), blocks: []ca.NamedBlock{{Band: s.Band, Class: "A"}}, carriers: 1, alone: true})
		}
	}
	f.uplinks[p.configuration] = list
	return list
}

// uplinkOf takes the name of an uplink to pieces, once; no carriers if they share their
// time.
func (f *Finder) uplinkOf(n ca.Name) uplink {
	if x, ok := f.named[n]; ok {
		return x
	}
	x := uplink{name: n}
	shared := false
	for _, c := range n.Components() {
		shared = shared || c.Shared
		for _, class := range c.Blocks {
			x.blocks = append(x.blocks, ca.NamedBlock{Band: c.Band, Class: class})
			x.carriers += class.Carriers(c.Band)
		}
	}
	if shared {
		x.carriers = 0
	}
	f.named[n] = x
	return x
}

// allowed tells whether the standard allows an uplink that no table names.
func (u *uplink) allowed(p *plan) bool {
	if !u.alone {
		return true
	}
	_, ok := p.configuration.AllowsUplink(u.name)
	return ok
}

// modes tells how each slot of a plan is used for the uplink; false if it does not fall
// on them.
func (u *uplink) modes(p *plan) ([]mode, bool) {
	modes := make([]mode, len(p.slots))
	for _, b := range u.blocks {
		i := slotFor(p, modes, b)
		if i < 0 {
			return nil, false
		}
		modes[i] = transmits
		if p.slots[i].Class != b.Class {
			modes[i] = transmit1
		}
	}
	return modes, true
}

// slotFor is the free slot that a sub-block of an uplink falls on: one of the same band
// and class, else for one carrier any of the band; -1 if there is none.
func slotFor(p *plan, modes []mode, b ca.NamedBlock) int {
	other := -1
	for i, s := range p.slots {
		if s.Band != b.Band || modes[i] != silent {
			continue
		}
		if s.Class == b.Class {
			return i
		}
		if b.Class == "A" && other < 0 {
			other = i
		}
	}
	return other
}

// bestUplink is the uplink of a plan with the highest rate; nil if none falls on the
// carriers.
func (f *Finder) bestUplink(p *plan, c *combination) *uplink {
	list := f.uplinksOf(p)
	rates := make([]int64, len(list))
	order := make([]int, 0, len(list))
	for i := range list {
		var ok bool
		if _, rates[i], ok = c.sending(p, &list[i]); ok {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(i, j int) int { return int(min(1, max(-1, rates[j]-rates[i]))) })
	for _, i := range order {
		if list[i].allowed(p) {
			return &list[i]
		}
	}
	return nil
}

// widthsIn lists the widths that any set of a configuration gives a band; false if its
// sets are not known.
func (f *Finder) widthsIn(c ca.Configuration, id bands.ID) ([]bands.Frequency, bool) {
	byBand, ok := f.sets[c]
	if !ok {
		byBand = make(map[bands.ID][]bands.Frequency)
		addSets(byBand, c)
		for _, m := range c.Members() {
			if m.Listed {
				addSets(byBand, m.Configuration)
			}
		}
		f.sets[c] = byBand
	}
	list, ok := byBand[id]
	return list, ok
}

func addSets(byBand map[bands.ID][]bands.Frequency, c ca.Configuration) {
	for _, s := range c.Sets() {
		for _, x := range s.Components {
			for _, widths := range x.Carriers {
				for _, w := range widths {
					if !slices.Contains(byBand[x.Band], w) {
						byBand[x.Band] = append(byBand[x.Band], w)
					}
				}
			}
		}
	}
}
