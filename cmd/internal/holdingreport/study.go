// Package holdingreport makes the documents of what networks hold: the carriers that fit
// into their blocks, the best that one phone can aggregate, and what would add to it.
package holdingreport

import (
	"slices"

	"spectally/bands"
	"spectally/ca"
	"spectally/ca/deploy"
	"spectally/cmd/internal/holdings"
	"spectally/throughput"
	"spectally/throughput/holding"
)

// study is what was worked out of a file.
type study struct {
	title    string
	limits   holding.Limits
	networks []network
}

type network struct {
	name   string
	held   []holdings.Block
	rooms  [][]room // by block
	found  *holding.Network
	best   []holding.Best // for the downlink rate first, each technology that has one
	top    holding.Best   // of all technologies, for the downlink rate; zero if there is none
	next   []holding.Next // after the top
	change []holding.Change
}

// room is a band of a block with its layouts; without any, left says why.
type room struct {
	band    *bands.Band
	layouts []deploy.Layout
	left    []deploy.Left
}

// The megahertz that are added to blocks.
var added = []bands.Frequency{5 * bands.MHz, 10 * bands.MHz}

// work works everything out; changes only if they are asked for.
func work(h *holdings.Holdings, l holding.Limits, changes bool) (*study, error) {
	s := &study{title: h.Title, limits: l}
	finder := holding.NewFinder(l)
	for i := range h.Networks {
		n := network{name: h.Networks[i].Name, held: h.Networks[i].Blocks}
		var list []deploy.Block
		for k := range n.held {
			b := n.held[k].Block
			list = append(list, b)
			n.rooms = append(n.rooms, roomsOf(b, l.Tolerance))
		}
		n.found = finder.Network(list)
		for _, a := range holding.Aims() {
			for _, t := range holding.Technologies() {
				if b, ok := n.found.Best(t, a); ok {
					n.best = append(n.best, b)
				}
			}
		}
		var ok bool
		if n.top, ok = n.found.Top(holding.DownlinkRate); ok {
			n.next = n.found.Next(&n.top)
		}
		s.networks = append(s.networks, n)
	}
	for i := range s.networks {
		if !changes {
			break
		}
		var others []*holding.Network
		for k := range s.networks {
			if k != i {
				others = append(others, s.networks[k].found)
			}
		}
		n := &s.networks[i]
		n.change = finder.Changes(n.found, others, holding.DownlinkRate, added...)
	}
	return s, finder.Err()
}

func roomsOf(b deploy.Block, tolerance bands.Frequency) []room {
	var list []room
	for _, r := range deploy.Rooms(b) {
		r.Tolerance = tolerance
		x := room{band: r.Band, layouts: r.Layouts()}
		if len(x.layouts) == 0 {
			x.left = r.Why()
		}
		list = append(list, x)
	}
	return list
}

// rates are those of a combination.
func rates(c ca.Combination) (*throughput.Result, error) {
	r, err := throughput.Rate(ca.Assess(c))
	if err == nil {
		err = r.Schedule(throughput.Settings{})
	}
	return r, err
}

// pick is the room of a technology that a short answer shows for a block: the one whose
// layout fills most, of equals one that the best uses, then the one in the narrowest
// band.
func (n *network) pick(block int, rat bands.RAT) *room {
	rooms := n.rooms[block]
	var best *room
	for i := range rooms {
		r := &rooms[i]
		if r.band.ID.RAT != rat || len(r.layouts) == 0 || r.band.Duplex == bands.SUL {
			continue
		}
		if best == nil {
			best = r
			continue
		}
		x, y := &r.layouts[0], &best.layouts[0]
		used, before := n.uses(r.band.ID), n.uses(best.band.ID)
		if x.Filled > y.Filled || x.Filled == y.Filled && (used && !before || used == before && r.band.Downlink.Width() < best.band.Downlink.Width()) {
			best = r
		}
	}
	return best
}

// uses tells whether a best of the network has a carrier of the band.
func (n *network) uses(id bands.ID) bool {
	return slices.ContainsFunc(n.best, func(b holding.Best) bool {
		return slices.ContainsFunc(b.Carriers, func(c ca.Carrier) bool { return c.Band == id })
	})
}

// spectrumOf adds up what a network holds in a direction; a TDD block is both.
func (n *network) spectrumOf(d bands.Direction) bands.Frequency {
	var sum bands.Frequency
	for i := range n.held {
		b := &n.held[i]
		switch {
		case d == bands.Downlink || b.Uplink.IsZero() && hasTDD(n.rooms[i]):
			sum += b.Downlink.Width()
		default:
			sum += b.Uplink.Width()
		}
	}
	return sum
}

func hasTDD(rooms []room) bool {
	return slices.ContainsFunc(rooms, func(r room) bool { return r.band.Duplex == bands.TDD })
}
