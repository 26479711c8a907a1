package holding

import (
	"cmp"
	"slices"

	"spectally/bands"
	"spectally/ca/deploy"
)

// ChangeKind is a kind of change of what a network holds.
type ChangeKind uint8

// The kinds.
const (
	Wider    ChangeKind = iota + 1 // a block has some megahertz more
	OneWhole                       // all blocks of a band become one
	Swapped                        // a block changes places with one of another network that lies between two
)

// String names the kind as it stands in output: "wider", "one-block", "swap".
func (k ChangeKind) String() string { return [...]string{"", "wider", "one-block", "swap"}[k] }

// Change is a change of what a network holds, and what it brings.
type Change struct {
	Kind ChangeKind
	// From are the blocks that change, To what they become.
	From, To []deploy.Block
	By       bands.Frequency // in each direction, for Wider
	// Held tells that somebody else holds the spectrum that would be added.
	Held bool
	// Other is the network that is swapped with, counted from 0, OtherGain what it wins.
	Other     int
	OtherGain int64
	Best      Best
	Gain      int64 // of the aim
}

// Top is the best over all technologies; false if there is none.
func (n *Network) Top(a Aim) (top Best, ok bool) {
	for _, t := range Technologies() {
		if b, found := n.Best(t, a); found && (!ok || b.weight > top.weight) {
			top, ok = b, true
		}
	}
	return top, ok
}

// Changes works out what changes would bring for an aim: each block wider by each of the
// amounts, all blocks of a band as one, and swaps with the other networks. Those that
// bring most come first; those that bring nothing are left out. others are the networks
// that hold spectrum beside this one.
func (f *Finder) Changes(n *Network, others []*Network, a Aim, by ...bands.Frequency) []Change {
	var list []Change
	add := func(c Change) {
		before, _ := n.Top(a)
		var ok bool
		if c.Best, ok = f.Network(n.with(&c)).above(a, before.weight); ok && c.Best.Value > before.Value {
			c.Gain = c.Best.Value - before.Value
			list = append(list, c)
		}
	}
	for i := range n.Blocks {
		for _, amount := range by {
			if c, ok := f.wider(n, i, others, amount); ok {
				add(c)
			}
		}
	}
	for _, c := range oneWhole(n) {
		add(c)
	}
	for k, other := range others {
		for _, c := range swaps(n, other, k) {
			before, _ := other.Top(a)
			moved := Change{From: c.From[1:], To: c.To[1:]}
			after, _ := f.Network(other.with(&moved)).Top(a)
			c.OtherGain = after.Value - before.Value
			c.From, c.To = c.From[:1], c.To[:1]
			add(c)
		}
	}
	slices.SortStableFunc(list, func(x, y Change) int { return cmp.Compare(y.Gain, x.Gain) })
	return list
}

// with is what the network holds after a change.
func (n *Network) with(c *Change) []deploy.Block {
	var list []deploy.Block
	for _, b := range n.Blocks {
		if !slices.ContainsFunc(c.From, func(from deploy.Block) bool { return from.String() == b.String() }) {
			list = append(list, b)
		}
	}
	return append(list, c.To...)
}

// wider extends a block upwards, or downwards where somebody holds what is above, or the
// band ends there.
func (f *Finder) wider(n *Network, i int, others []*Network, by bands.Frequency) (c Change, ok bool) {
	b := n.Blocks[i]
	for _, side := range [...]int{1, -1} {
		w := b
		w.Downlink = extend(b.Downlink, by, side)
		if !b.Uplink.IsZero() {
			w.Uplink = extend(b.Uplink, by, side)
		}
		if !f.gains(b, w) || n.overlaps(w, i) {
			continue
		}
		held := slices.ContainsFunc(others, func(o *Network) bool { return o.overlaps(w, -1) })
		if !ok || c.Held && !held {
			c, ok = Change{Kind: Wider, From: []deploy.Block{b}, To: []deploy.Block{w}, By: by, Held: held}, true
		}
	}
	return c, ok
}

func extend(s bands.Span, by bands.Frequency, side int) bands.Span {
	if side < 0 {
		s.Low -= by
	} else {
		s.High += by
	}
	return s
}

// gains tells whether a band has all that a wider block has more.
func (f *Finder) gains(b, w deploy.Block) bool {
	more := w.Downlink.Width() - b.Downlink.Width()
	for _, r := range f.roomsOf(w) {
		for _, had := range f.roomsOf(b) {
			if r.Band == had.Band && r.Spectrum() == had.Spectrum()+more {
				return true
			}
		}
	}
	return false
}

// overlaps tells whether a block shares spectrum with one of the network other than
// block not.
func (n *Network) overlaps(b deploy.Block, not int) bool {
	for i := range n.Blocks {
		if i != not && n.Blocks[i].Overlaps(b) {
			return true
		}
	}
	return false
}

// oneWhole puts all blocks of a band together, where the lowest begins; of bands that
// hold the same blocks only the first counts.
func oneWhole(n *Network) []Change {
	var list []Change
	for _, id := range n.ids {
		c := Change{Kind: OneWhole}
		var whole deploy.Block
		for i := range n.places {
			p := &n.places[i]
			if p.Band.ID != id {
				continue
			}
			b := n.Blocks[p.block]
			if len(c.From) == 0 {
				whole = b
			} else {
				whole.Downlink.High += b.Downlink.Width()
				if !b.Uplink.IsZero() {
					whole.Uplink.High += b.Uplink.Width()
				}
			}
			c.From = append(c.From, b)
		}
		mixed := slices.ContainsFunc(c.From, func(b deploy.Block) bool { return b.Uplink.IsZero() != whole.Uplink.IsZero() })
		c.To = []deploy.Block{whole}
		known := slices.ContainsFunc(list, func(x Change) bool { return x.To[0].String() == whole.String() })
		if len(c.From) > 1 && !mixed && !known {
			list = append(list, c)
		}
	}
	return list
}

// swaps lists the blocks of a network that would join another of it by changing places
// with what lies between. The first of From and To are of the network, the second of
// the other.
func swaps(n, other *Network, k int) []Change {
	var list []Change
	for _, low := range n.Blocks {
		for _, high := range n.Blocks {
			for _, between := range other.Blocks {
				if !follows(low, between) || !follows(between, high) {
					continue
				}
				moved, aside := high, between
				moved.Downlink, aside.Downlink = turn(between.Downlink, high.Downlink)
				if !high.Uplink.IsZero() {
					moved.Uplink, aside.Uplink = turn(between.Uplink, high.Uplink)
				}
				list = append(list, Change{Kind: Swapped, Other: k, From: []deploy.Block{high, between}, To: []deploy.Block{moved, aside}})
			}
		}
	}
	return list
}

// follows tells whether b begins where a ends, in each direction.
func follows(a, b deploy.Block) bool {
	return a.Downlink.High == b.Downlink.Low && a.Uplink.IsZero() == b.Uplink.IsZero() && (a.Uplink.IsZero() || a.Uplink.High == b.Uplink.Low)
}

// turn puts the upper of two neighbours below the lower.
func turn(low, high bands.Span) (upper, lower bands.Span) {
	edge := low.Low + high.Width()
	return bands.Span{Low: low.Low, High: edge}, bands.Span{Low: edge, High: high.High}
}
