package fieldlog

import (
	"slices"

	"spectally/bands"
	"spectally/ca"
)

// Expectation is what the signal supports in the downlink, and from what that is known.
type Expectation struct {
	Rate float64 `json:"expected_mbps"`
	// From is "sinr" where every carrier has a measured SINR, "rsrp" where one at least has
	// an RSRP alone, whose ratio to thermal noise leaves out all interference.
	From string `json:"from"`
	// UpperBound tells that the SINR it is worked out from is the highest there can be: from
	// RSRP, or on several layers, each of which is given the SINR of one though all share
	// the power. With as many receive antennas and layers that do not disturb each other it
	// is reached (Hadamard's inequality for the capacity with equal power). The curve from
	// SINR to rate is an estimate all the same: a run can have more.
	UpperBound bool `json:"upper_bound"`
	// FromRSRP and OverLayers are why it is one.
	FromRSRP   bool `json:"-"`
	OverLayers bool `json:"-"`
}

// expectation is that of the network; nil where a carrier gives neither SINR nor RSRP.
func (n *network) expectation() *Expectation {
	c := n.ceilings(bands.Downlink)
	if c.Expected.IsZero() {
		return nil
	}
	x := &Expectation{Rate: *float(mbpsRat(c.Expected)), From: "sinr"}
	for i := range n.rates.Carriers {
		q, ok := n.rates.Quality(i)
		if !ok {
			continue
		}
		x.FromRSRP = x.FromRSRP || q.FromRSRP
		x.OverLayers = x.OverLayers || n.rates.Carriers[i].Downlink.Layers > 1
	}
	if x.FromRSRP {
		x.From = "rsrp"
	}
	x.UpperBound = x.FromRSRP || x.OverLayers
	return x
}

// at is the network as a run met it: the carriers that were active, and on the serving
// cell, the first of them, the level and quality that the run has.
func (n *network) at(s *Spot) *network {
	list := slices.Clone(n.log.Carriers)
	if len(s.Active) > 0 {
		list = nil
		for _, number := range s.Active {
			list = append(list, n.log.Carriers[number-1])
		}
	}
	if s.RSRP.IsGiven() || s.SINR.IsGiven() {
		if i := slices.IndexFunc(list, func(c ca.Carrier) bool { return c.Downlink != 0 }); i >= 0 {
			list[i].RSRP, list[i].SINR = s.RSRP, s.SINR
		}
	}
	if slices.Equal(list, n.log.Carriers) {
		return n
	}
	key := list.String()
	if m := n.met[key]; m != nil {
		return m
	}
	log := *n.log
	log.Carriers = list
	m := &network{log: &log, assessment: ca.Assess(list)}
	m.rate()
	if n.met == nil {
		n.met = make(map[string]*network)
	}
	n.met[key] = m
	return m
}

// over is the network over which some runs were made: with the carriers that were active in
// all of them alike, else with all.
func (n *network) over(runs []int) *network {
	for _, i := range runs {
		if !slices.Equal(n.log.Runs[i].Spot.Active, n.log.Runs[runs[0]].Spot.Active) {
			return n
		}
	}
	return n.at(&Spot{Active: n.log.Runs[runs[0]].Spot.Active})
}

// gap says what measured rates below those that could be scheduled can come from; empty
// where there are none. It never says which.
func gap(r *NetworkReport) string {
	below := func(x *Reached) bool { return x != nil && x.OfScheduled != nil && *x.OfScheduled < 1 }
	if !slices.ContainsFunc(r.Runs, func(run RunReport) bool { return below(run.Down) || below(run.Up) }) {
		return ""
	}
	return "What was measured stays below what could be scheduled. Other users' load, interference, the transport behind the site, and the far end of the test can each cause that; these figures do not tell which."
}
