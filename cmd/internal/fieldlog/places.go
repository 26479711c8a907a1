package fieldlog

import (
	"math/big"
	"slices"

	"spectally/bands"
	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/quantity"
)

// PlaceReport is what the runs at one place say together.
type PlaceReport struct {
	Where string `json:"where"` // as the runs have it; empty for those that do not say
	Runs  []int  `json:"runs"`  // by number
	// The median rates against what the carriers can yield, and medians in ms; null where
	// not measured.
	Down       *Reached `json:"down"`
	Up         *Reached `json:"up"`
	Idle       *float64 `json:"idle_ms"`
	LoadedDown *float64 `json:"loaded_down_ms"`
	LoadedUp   *float64 `json:"loaded_up_ms"`
	// Added is the median under load less the median without, both at this place.
	Added Loaded `json:"added_ms"`
}

// place is the runs at one place.
type place struct {
	where string
	runs  []int // from 0
}

// places groups runs by where they were, in the order of their first run.
func places(n *Network) []place {
	var list []place
	for i := range n.Runs {
		k := slices.IndexFunc(list, func(p place) bool { return p.where == n.Runs[i].Where })
		if k < 0 {
			k, list = len(list), append(list, place{where: n.Runs[i].Where})
		}
		list[k].runs = append(list[k].runs, i)
	}
	return list
}

// values lists a figure of the runs at the place that have it.
func (p *place) values(n *Network, of func(*Run) quantity.Decimal) []quantity.Decimal {
	var list []quantity.Decimal
	for _, i := range p.runs {
		if d := of(&n.Runs[i]); d.IsGiven() {
			list = append(list, d)
		}
	}
	return list
}

func (p *place) median(n *Network, of func(*Run) quantity.Decimal) *big.Rat {
	return claim.Median(p.values(n, of))
}

// The figures of a run.
var (
	downOf       = func(r *Run) quantity.Decimal { return r.Down }
	upOf         = func(r *Run) quantity.Decimal { return r.Up }
	idleOf       = func(r *Run) quantity.Decimal { return r.Idle }
	loadedDownOf = func(r *Run) quantity.Decimal { return r.LoadedDown }
	loadedUpOf   = func(r *Run) quantity.Decimal { return r.LoadedUp }
)

// addedAt is the latency that load adds at the places that have both times: the median
// over them. Times of different places are never subtracted.
func addedAt(n *Network, loaded func(*Run) quantity.Decimal) *big.Rat {
	var list []*big.Rat
	for _, p := range places(n) {
		if a := added(p.median(n, loaded), p.median(n, idleOf)); a != nil {
			list = append(list, a)
		}
	}
	if len(list) == 0 {
		return nil
	}
	slices.SortFunc(list, (*big.Rat).Cmp)
	sum := new(big.Rat).Add(list[(len(list)-1)/2], list[len(list)/2])
	return sum.Mul(sum, big.NewRat(1, 2))
}

// places reports what was measured place by place.
func (n *network) places() []PlaceReport {
	list := []PlaceReport{}
	for _, p := range places(n.log) {
		r := PlaceReport{Where: p.where}
		for _, i := range p.runs {
			r.Runs = append(r.Runs, i+1)
		}
		down, idle := p.median(n.log, downOf), p.median(n.log, idleOf)
		loadedDown, loadedUp := p.median(n.log, loadedDownOf), p.median(n.log, loadedUpOf)
		active := n.over(p.runs)
		if down != nil {
			r.Down = active.reached(down, bands.Downlink)
		}
		if up := p.median(n.log, upOf); up != nil {
			r.Up = active.reached(up, bands.Uplink)
		}
		r.Idle, r.LoadedDown, r.LoadedUp = float(idle), float(loadedDown), float(loadedUp)
		r.Added = Loaded{float(added(loadedDown, idle)), float(added(loadedUp, idle))}
		list = append(list, r)
	}
	return list
}

// headline is the place that stands for the network where one has to: the one with the
// most runs, the first of equals; nil without runs.
func headline(list []PlaceReport) *PlaceReport {
	var best *PlaceReport
	for i := range list {
		if best == nil || len(list[i].Runs) > len(best.Runs) {
			best = &list[i]
		}
	}
	return best
}
