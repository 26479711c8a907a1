package ca

import (
	"cmp"
	"slices"

	"spectally/bands"
	"spectally/ca/interference"
)

// Remedy is what a proposal changes.
type Remedy uint8

// The remedies. The zero Remedy is none.
const (
	MoveCarrier  Remedy = iota + 1 // to another channel number
	NarrowUplink                   // send on less of the channel
	ChangeUplink                   // transmit on other carriers
)

// Proposal is a change with which fewer products fall on downlinks.
type Proposal struct {
	Remedy Remedy
	// Carrier is the one that moves or sends less, counted from 0; -1 for ChangeUplink.
	Carrier int
	// Channel and Centre are its new place in the direction that leads, By how far that is.
	Channel    int32
	Centre, By bands.Frequency
	// Width is the most that it may send.
	Width bands.Frequency
	// Uplinks lists the carriers that then transmit, counted from 0.
	Uplinks []int
	// Left counts the products that still fall on a downlink.
	Left int
}

// Proposals lists changes with which fewer products fall on a downlink than do now, one for
// each carrier that has a place, for a narrower uplink, and for other uplinks: those that
// leave the fewest first. Whether the network owns the other place is not asked, nor whether
// its carriers may be aggregated there.
func (a *Assessment) Proposals(o interference.Options) []Proposal {
	o.Misses = false
	now := a.Emissions()
	before := direct(interference.Find(now, o))
	if before == 0 {
		return nil
	}
	var list []Proposal
	for i := range now {
		if p, ok := a.move(now, i, o); ok && p.Left < before {
			list = append(list, p)
		}
	}
	for _, p := range [...]Proposal{a.narrow(now, before, o), a.changeUplink(before, o)} {
		if p.Left < before {
			list = append(list, p)
		}
	}
	slices.SortStableFunc(list, func(p, q Proposal) int {
		return cmp.Or(cmp.Compare(p.Left, q.Left), cmp.Compare(p.Remedy, q.Remedy), cmp.Compare(distance(p.By), distance(q.By)))
	})
	return list
}

func direct(products []interference.Product) int {
	n := 0
	for i := range products {
		if products[i].Hit == interference.Direct {
			n++
		}
	}
	return n
}

func distance(f bands.Frequency) bands.Frequency { return max(f, -f) }

// move finds the nearest place of a carrier at which it takes part in no hit.
func (a *Assessment) move(now []interference.Carrier, i int, o interference.Options) (Proposal, bool) {
	p := &a.Carriers[i]
	d, centre := bands.Downlink, p.DownlinkCentre
	if p.DownlinkWidth == 0 {
		d, centre = bands.Uplink, p.UplinkCentre
	}
	if p.Info == nil || centre == 0 {
		return Proposal{}, false
	}
	anywhere := slices.Clone(now)
	anywhere[i] = interference.Of(p.Info, p.DownlinkWidth, now[i].Uplink.Width)
	var best Proposal
	for _, free := range interference.Avoid(anywhere, i, interference.Find(anywhere, o)) {
		first, last, ok := p.Info.Within(d, free, p.Width(d))
		if !ok {
			continue
		}
		for _, end := range [...]struct{ n, step int32 }{{first, 1}, {last, -1}} {
			n := end.n
			for first <= n && n <= last && !p.Info.OnOwnRaster(d, n, p.Spacing) {
				n += end.step
			}
			f, err := p.Info.ChannelFrequency(n)
			if err != nil || n < first || n > last || f == centre || a.covered(i, d, f) || best.Channel != 0 && distance(f-centre) >= distance(best.By) {
				continue
			}
			best = Proposal{Remedy: MoveCarrier, Carrier: i, Channel: n, Centre: f, By: f - centre}
		}
	}
	if best.Channel == 0 {
		return best, false
	}
	if d == bands.Uplink {
		anywhere[i] = anywhere[i].Transmitting(best.Centre)
	} else {
		anywhere[i] = anywhere[i].Receiving(best.Centre)
	}
	best.Left = direct(interference.Find(anywhere, o))
	return best, true
}

// covered tells whether a carrier moved to f would lie on another one.
func (a *Assessment) covered(i int, d bands.Direction, f bands.Frequency) bool {
	moved := bands.Around(f, a.Carriers[i].Width(d))
	for j := range a.Carriers {
		if j != i && a.Carriers[j].Span(d).Overlaps(moved) {
			return true
		}
	}
	return false
}

// narrow finds the carrier and the widest of its widths with which the fewest products are
// left while it sends no more than that around its centre.
func (a *Assessment) narrow(now []interference.Carrier, before int, o interference.Options) Proposal {
	best := Proposal{Left: before}
	for i := range now {
		p := &a.Carriers[i]
		if now[i].Uplink.IsZero() {
			continue
		}
		widths := p.Info.WidthsIn(bands.Uplink, 0)
		for _, w := range slices.Backward(widths) {
			if w >= now[i].Uplink.Width {
				continue
			}
			narrowed := slices.Clone(now)
			narrowed[i].Uplink.Width = w
			if left := direct(interference.Find(narrowed, o)); left < best.Left {
				best = Proposal{Remedy: NarrowUplink, Carrier: i, Width: w, Left: left}
			}
		}
	}
	return best
}

// changeUplink finds the carriers, one of each technology that transmits now, with which
// the fewest products are left; of E-UTRA and NR one alone where the standard lets a UE be
// limited to that.
func (a *Assessment) changeUplink(before int, o interference.Options) Proposal {
	best := Proposal{Left: before, Carrier: -1}
	var choices [bands.NR + 1][]int // of each technology
	for i := range a.Carriers {
		if p := &a.Carriers[i]; p.uplinkFitness() >= uplinkPrimary {
			choices[p.Band.RAT] = append(choices[p.Band.RAT], i)
		}
	}
	both := len(choices[bands.LTE]) > 0 && len(choices[bands.NR]) > 0
	single := a.SingleUplink()
	if alone, _ := single.Holds(); !both || alone {
		for _, list := range choices {
			for _, i := range list {
				a.tryUplinks(&best, []int{i}, o)
			}
		}
	}
	if both {
		for _, i := range choices[bands.LTE] {
			for _, j := range choices[bands.NR] {
				a.tryUplinks(&best, []int{i, j}, o)
			}
		}
	}
	return best
}

func (a *Assessment) tryUplinks(best *Proposal, uplinks []int, o interference.Options) {
	list := make([]interference.Carrier, len(a.Carriers))
	for i := range a.Carriers {
		list[i] = a.Carriers[i].emission(slices.Contains(uplinks, i))
	}
	if left := direct(interference.Find(list, o)); left < best.Left {
		*best = Proposal{Remedy: ChangeUplink, Carrier: -1, Uplinks: uplinks, Left: left}
	}
}
