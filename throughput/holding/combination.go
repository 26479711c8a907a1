package holding

import (
	"cmp"
	"slices"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/ca/deploy"
)

// combination is carriers at their places, with the slot that each one fills.
type combination struct {
	carriers ca.Combination
	places   []deploy.Carrier
	blocks   []int
	slots    []int
	ups      []int64 // scheduled uplink rates
}

// combination places what fills the slots; false where what one block has to hold does
// not fit side by side. reversed takes the bands of a block in the other order, if they
// fit so.
func (s *search) combination(reversed bool) (combination, bool) {
	var c combination
	for i, o := range s.chosen {
		if slices.ContainsFunc(s.chosen[:i], func(p *option) bool { return p.room.block == o.room.block }) {
			continue // placed with the first of its block
		}
		shared := []int{i}
		for k := i + 1; k < len(s.chosen); k++ {
			if s.chosen[k].room.block == o.room.block {
				shared = append(shared, k)
			}
		}
		if len(shared) == 1 {
			c.add(o.carriers, o.room.block, i)
			continue
		}
		if !s.together(&c, shared, reversed) {
			return c, false
		}
	}
	c.sort()
	for i := range c.carriers {
		c.ups = append(c.ups, s.network.finder.rate(c.carriers[i]).up)
	}
	return c, true
}

// together places the sub-blocks of slots in one block: those of a band beside each
// other, one band above the other, in the order that leaves them the most uplink.
func (s *search) together(c *combination, slots []int, reversed bool) bool {
	var rooms []int // the first slot of each band
	for _, k := range slots {
		if !slices.ContainsFunc(rooms, func(i int) bool { return s.chosen[i].room == s.chosen[k].room }) {
			rooms = append(rooms, k)
		}
	}
	var best combination
	most := bands.Frequency(-1)
	deploy.Permute(rooms, func(order []int) bool {
		var all combination
		var up, edge bands.Frequency
		for _, k := range order {
			room := s.chosen[k].room
			top, ok := s.stack(&all, room, slots, edge)
			if !ok {
				return true
			}
			edge = top
			if len(order) > 1 && !s.task.plan.joined {
				edge += adjacent + 1 // carriers of both technologies that touch would be contiguous
			}
		}
		for i := range all.carriers {
			up += all.carriers[i].Uplink
		}
		if up > most || reversed && up == most {
			best, most = all, up
		}
		return true
	})
	for i := range best.carriers {
		c.add(best.places[i:i+1], best.blocks[i], best.slots[i])
	}
	return most >= 0
}

// adjacent is how near an LTE and an NR channel are that count as contiguous (TS
// 38.101-3 clause 5.4B.1, from memory).
const adjacent = 15 * bands.KHz

// stack places the sub-blocks of a room above an edge, in the order with the most
// uplink; it returns their upper edge.
func (s *search) stack(c *combination, room *place, slots []int, edge bands.Frequency) (top bands.Frequency, ok bool) {
	var own []int
	for _, k := range slots {
		if s.chosen[k].room == room {
			own = append(own, k)
		}
	}
	var best deploy.Layout
	var inOrder []int
	above := room.Above(edge)
	deploy.Permute(own, func(order []int) bool {
		runs := make([]deploy.Run, len(order))
		for i, k := range order {
			runs[i] = s.chosen[k].run
		}
		if l, ok := above.Fit(runs...); ok && (inOrder == nil || l.Uplink() > best.Uplink()) {
			best, inOrder = l, slices.Clone(order)
		}
		return true
	})
	list := best.Carriers
	for _, k := range inOrder {
		n := len(s.chosen[k].run)
		for j := range list[:n] {
			s.network.finder.equip(&list[j], room.Band)
		}
		c.add(list[:n], room.block, k)
		list = list[n:]
	}
	return best.Edges.High, inOrder != nil
}

func (c *combination) add(list []deploy.Carrier, block, slot int) {
	for i := range list {
		c.carriers = append(c.carriers, list[i].Carrier)
		c.places = append(c.places, list[i])
		c.blocks = append(c.blocks, block)
		c.slots = append(c.slots, slot)
	}
}

// sort puts the carriers in order of band and frequency.
func (c *combination) sort() {
	order := make([]int, len(c.carriers))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int {
		return cmp.Or(c.carriers[i].Band.Compare(c.carriers[j].Band), cmp.Compare(c.places[i].DownlinkCentre, c.places[j].DownlinkCentre))
	})
	c.reorder(order)
}

func (c *combination) reorder(order []int) {
	var d combination
	for _, i := range order {
		d.carriers = append(d.carriers, c.carriers[i])
		d.places = append(d.places, c.places[i])
		d.blocks = append(d.blocks, c.blocks[i])
		d.slots = append(d.slots, c.slots[i])
		if c.ups != nil {
			d.ups = append(d.ups, c.ups[i])
		}
	}
	*c = d
}

// sending lists the carriers that transmit for an uplink, those with the highest rates
// where it falls on several, and their rate together; false if it falls on none.
func (c *combination) sending(p *plan, u *uplink) (list []int, rate int64, ok bool) {
	taken := make([]bool, len(p.slots))
	for _, b := range u.blocks {
		best, slot, most := []int(nil), -1, int64(0)
		for i, s := range p.slots {
			if s.Band != b.Band || taken[i] || s.Class != b.Class && b.Class != "A" {
				continue
			}
			if sends, r := c.uplinkOf(i, s.Class != b.Class); r > most {
				best, slot, most = sends, i, r
			}
		}
		if slot < 0 {
			return nil, 0, false
		}
		taken[slot] = true
		list, rate = append(list, best...), rate+most
	}
	return list, rate, true
}

// uplinkOf lists the carriers of a slot, or the one of them with the highest rate, and
// their uplink rate; zero if one of them has no uplink.
func (c *combination) uplinkOf(slot int, one bool) (list []int, rate int64) {
	for i := range c.carriers {
		switch {
		case c.slots[i] != slot:
		case one && c.ups[i] > rate:
			list, rate = []int{i}, c.ups[i]
		case one:
		case c.ups[i] == 0:
			return nil, 0
		default:
			list, rate = append(list, i), rate+c.ups[i]
		}
	}
	return list, rate
}

// transmit puts the carriers that transmit first in each technology and marks them
// where the rule of package ca would choose others.
func (c *combination) transmit(p *plan, u *uplink) bool {
	list, _, ok := c.sending(p, u)
	if !ok || len(list) == 0 {
		return false
	}
	order := slices.Clone(list)
	for i := range c.carriers {
		if !slices.Contains(list, i) {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(c.carriers[i].Band.RAT, c.carriers[j].Band.RAT) })
	c.reorder(order)
	sends := func(i int) bool { return slices.Contains(list, order[i]) }
	a := ca.Assess(c.carriers)
	for i := range a.Carriers {
		if a.Carriers[i].Transmits != sends(i) {
			for k := range c.carriers {
				switch {
				case c.carriers[k].Uplink == 0:
				case sends(k):
					c.carriers[k].Transmit = ca.Yes
				case a.Carriers[k].Transmits:
					c.carriers[k].Transmit = ca.No
				}
			}
			break
		}
	}
	for i := range c.carriers {
		c.places[i].Carrier = c.carriers[i]
	}
	return true
}

// admits tells whether the standard lists the combination, with these widths.
func (p *plan) admits(c *combination) bool {
	a := ca.Assess(c.carriers)
	if slices.ContainsFunc(a.RuleFindings(), func(f ca.Finding) bool { return f.Severity == ca.Error || f.Rule == ca.RuleOverlap }) {
		return false
	}
	if p.isSingle() {
		return true
	}
	name := p.configuration.Name().String()
	forms, _ := a.Formed()
	for _, f := range forms {
		if !sameBut(f.Name.String(), name) {
			continue
		}
		for _, w := range f.Ways {
			if x, err := p.configuration.Admit(w); err == nil && x.Admitted() {
				return true
			}
		}
	}
	return false
}

// sameBut tells whether two names differ in no more than the kind: NR carriers in dual
// connectivity form the carrier aggregation of the same bands.
func sameBut(a, b string) bool {
	_, a, _ = strings.Cut(a, "_")
	_, b, _ = strings.Cut(b, "_")
	return strings.ReplaceAll(a, "_", "-") == strings.ReplaceAll(b, "_", "-")
}

// Spectrum adds up the downlink widths, or the uplink widths of the carriers that
// transmit.
func (b *Best) Spectrum(d bands.Direction) bands.Frequency { return ca.Assess(b.Carriers).Width(d) }
