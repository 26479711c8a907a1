package interference

import (
	"cmp"
	"slices"

	"spectally/bands"
)

// Result is a product with what the standard lists for it.
type Result struct {
	Product
	Listed []Entry
}

// Worst is the greatest sensitivity degradation listed for the product; false if none is.
func (r *Result) Worst() (bands.DB, bool) {
	worst, ok := bands.DB(0), false
	for i := range r.Listed {
		if e := &r.Listed[i]; e.HasMSD {
			worst, ok = max(worst, e.MSD, e.MSD2Tx), true
		}
	}
	return worst, ok
}

// Study is what a UE of a power class does to itself.
type Study struct {
	// Carriers are those of the products, whatever of them transmits at once.
	Carriers  []Carrier
	Results   []Result // by severity: see [Examine]
	Isolation []Isolation
	Allowance []Allowance
}

// Examine studies carriers with each of several sets of uplinks that transmit at once: the
// same carriers in the same order, which differ in their uplinks alone. Direct hits stand
// first, those that the standard lists before others and the greatest degradation first,
// then what is near; what repeats itself with another set stands once.
func Examine(sets [][]Carrier, class PowerClass, o Options) *Study {
	s := &Study{}
	seen := make(map[productKey]bool)
	for _, carriers := range sets {
		if s.Carriers == nil {
			s.Carriers = slices.Clone(carriers)
		}
		for _, p := range Find(carriers, o) {
			if key := (productKey{p.sources, p.Victim, p.ReceiverOrder}); !seen[key] {
				seen[key] = true
				s.Results = append(s.Results, Result{p, Listed(carriers, &p, class)})
			}
		}
		for i := range carriers {
			if s.Carriers[i].Uplink.IsZero() {
				s.Carriers[i].Uplink = carriers[i].Uplink
			}
		}
		for _, e := range Isolated(carriers, class) {
			if !slices.ContainsFunc(s.Isolation, func(have Isolation) bool { return have.same(&e) }) {
				s.Isolation = append(s.Isolation, e)
			}
		}
	}
	slices.SortStableFunc(s.Results, func(a, b Result) int { return a.compare(&b) })
	var own []bands.ID
	for i := range s.Carriers {
		own = append(own, s.Carriers[i].Band)
	}
	s.Allowance = Allowances(own)
	return s
}

type productKey struct {
	sources  [3]Source
	victim   int
	receiver int8
}

func (r *Result) compare(other *Result) int {
	a, _ := r.Worst()
	b, _ := other.Worst()
	return cmp.Or(
		cmp.Compare(other.Hit, r.Hit), cmp.Compare(b, a), cmp.Compare(r.Order+r.ReceiverOrder, other.Order+other.ReceiverOrder),
		cmp.Compare(r.Distance, other.Distance))
}

func (e *Isolation) same(other *Isolation) bool {
	return e.Source == other.Source && e.MSD == other.MSD && e.Downlink == other.Downlink && slices.Equal(e.Uplinks, other.Uplinks)
}

// Count counts the results of a hit.
func (s *Study) Count(h Hit) int {
	n := 0
	for i := range s.Results {
		if s.Results[i].Hit == h {
			n++
		}
	}
	return n
}
