package holding

import (
	"cmp"
	"slices"

	"spectally/bands"
	"spectally/ca"
)

// plansKey names the plans of a technology for bands.
type plansKey struct {
	technology Technology
	bands      string
}

// plansOf lists the configurations of a technology that have no other bands than those
// given and that the phone can take.
func (f *Finder) plansOf(t Technology, ids []bands.ID) []*plan {
	ids = slices.Clone(ids)
	slices.SortFunc(ids, bands.ID.Compare)
	key := plansKey{technology: t}
	for _, id := range ids {
		key.bands += id.String() + " "
	}
	if list, ok := f.plans[key]; ok {
		return list
	}
	var list []*plan
	if t != ENDC {
		for _, id := range ids {
			if (id.RAT == bands.LTE) == (t == LTE) {
				p := &plan{name: single(id), slots: []ca.NamedBlock{{Band: id, Class: "A"}}, carriers: 1}
				f.number(p)
				list = append(list, p)
			}
		}
	}
	for c := range ca.Among(ids, t.kinds()...) {
		if p := f.planOf(c); p != nil {
			list = append(list, p)
		}
	}
	f.plans[key] = list
	return list
}

// planOf is a configuration as a plan; nil if it is none for the phone.
func (f *Finder) planOf(c ca.Configuration) *plan {
	if p, ok := f.known[c]; ok {
		return p
	}
	f.known[c] = nil
	p := &plan{configuration: c, carriers: c.Carriers()}
	if n := f.bounds.carriers; n != 0 && p.carriers > n || p.carriers > maxCarriers {
		return nil
	}
	if d := f.limits.Device; d != nil && len(d.Configurations) > 0 {
		name := c.Name()
		if !slices.ContainsFunc(d.Configurations, func(have ca.Name) bool { return have.FallsBackTo(name) }) {
			return nil
		}
	}
	for s := range c.NamedBlocks() {
		p.joined = p.joined || s.Joined
		p.slots = append(p.slots, s)
	}
	slices.SortStableFunc(p.slots, func(x, y ca.NamedBlock) int {
		return cmp.Or(x.Band.Compare(y.Band), cmp.Compare(y.Class, x.Class))
	})
	f.number(p)
	f.known[c] = p
	return p
}

// number gives the slots of a plan their numbers, one for each band and class, and adds
// up its bands.
func (f *Finder) number(p *plan) {
	p.numbers = make([]int, len(p.slots))
	for i, s := range p.slots {
		n, ok := f.numbers[s]
		if !ok {
			n = len(f.numbers)
			f.numbers[s] = n
		}
		p.numbers[i] = n
		if b, err := bands.Lookup(s.Band); err == nil {
			p.span += b.Downlink.Width() // of two bands with the same blocks the narrower is the usual one
		}
	}
}
