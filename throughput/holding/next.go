package holding

import (
	"cmp"
	"slices"

	"spectally/bands"
	"spectally/ca"
	"spectally/ca/deploy"
)

// Next is a combination that would have more than the best, and what keeps it from being
// one: a carrier more, in a block that the best leaves unused, or a wider one.
type Next struct {
	Carriers ca.Combination
	// Added is the carrier that the best does not have; Instead is the one whose place
	// it takes, zero where it is one more.
	Added, Instead ca.Carrier
	Value          int64 // of the aim
	// Lacks says what it lacks.
	Lacks Lack
	// Finding is what the rules or the lists find against it, for LackListed.
	Finding ca.Finding
}

// Lack is what a combination lacks.
type Lack uint8

// The lacks.
const (
	LackListed        Lack = iota + 1 // the standard does not list it with these widths
	LackFallback                      // it is no more than a fallback of what is listed
	LackLimit                         // it has more carriers or megahertz than the limits allow
	LackConfiguration                 // the device does not have the configuration
)

// Next lists what would come next after the best, the most first; at most one for each
// block.
func (n *Network) Next(b *Best) []Next {
	var list []Next
	for block := range n.Blocks {
		var best Next
		for i := range n.places {
			p := &n.places[i]
			if p.block != block || b.Technology != ENDC && (p.Band.ID.RAT == bands.LTE) != (b.Technology == LTE) {
				continue
			}
			for _, o := range n.finder.optionsOf(p, "A") {
				if x, ok := n.next(b, p, &o); ok && x.Value > best.Value {
					best = x
				}
			}
		}
		if best.Lacks != 0 {
			list = append(list, best)
		}
	}
	slices.SortStableFunc(list, func(x, y Next) int { return cmp.Compare(y.Value, x.Value) })
	return list
}

// next puts an option into the best: in the place of the only carrier of its band and
// block, or as one more where the block has none. It is false if that is no more, or if
// nothing is lacking.
func (n *Network) next(b *Best, p *place, o *option) (x Next, ok bool) {
	at := -1
	for i, block := range b.Blocks {
		if block != p.block {
			continue
		}
		if at >= 0 || b.Carriers[i].Band != p.Band.ID {
			return x, false
		}
		at = i
	}
	c := o.carriers[0].Carrier
	x.Added, x.Carriers = c, slices.Clone(b.Carriers)
	if at >= 0 {
		x.Instead = b.Carriers[at]
		c.Transmit = x.Instead.Transmit
		x.Carriers[at] = c
	} else {
		if slices.ContainsFunc(b.Carriers, func(k ca.Carrier) bool { return k.Transmit != ca.Open }) && c.Uplink != 0 {
			c.Transmit = ca.No
		}
		x.Carriers = append(x.Carriers, c)
	}
	x.Value = n.value(b.Aim, x.Carriers)
	if x.Value <= b.Value {
		return x, false
	}
	return x, n.lacks(&x)
}

// value is what a combination has of an aim.
func (n *Network) value(aim Aim, c ca.Combination) int64 {
	a := ca.Assess(c)
	sum := int64(0)
	for i := range a.Carriers {
		p := &a.Carriers[i]
		r := n.finder.rate(p.Carrier)
		switch {
		case aim == DownlinkRate:
			sum += r.down
		case aim == DownlinkWidth:
			sum += int64(p.DownlinkWidth)
		case !p.Transmits:
		case aim == UplinkRate:
			sum += r.up
		default:
			sum += int64(p.UplinkWidth)
		}
	}
	return sum
}

// lacks finds out what a combination lacks; false if nothing.
func (n *Network) lacks(x *Next) bool {
	var u use
	for _, c := range x.Carriers {
		u.add(c.Band.RAT, 1, c.Downlink)
	}
	a := ca.Assess(x.Carriers)
	finding, bad := a.FirstError()
	switch {
	case !n.finder.bounds.hold(&u):
		x.Lacks = LackLimit
	case bad:
		x.Lacks, x.Finding = LackListed, finding
	default:
		x.Lacks = LackFallback
		forms, _ := a.Formed()
		for _, f := range forms {
			if _, listed := ca.Find(f.Name); listed {
				x.Lacks = LackConfiguration
			}
		}
		if x.Lacks == LackConfiguration && (n.finder.limits.Device == nil || len(n.finder.limits.Device.Configurations) == 0) {
			return false
		}
	}
	return true
}

// Rooms lists the rooms of a block that the search looks at.
func (n *Network) Rooms(block int) []deploy.Room {
	var list []deploy.Room
	for i := range n.places {
		if n.places[i].block == block {
			list = append(list, n.places[i].Room)
		}
	}
	return list
}
