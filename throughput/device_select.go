package throughput

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput/internal/words"
)

// candidate is a carrier of the site that the device could take.
type candidate struct {
	ca.Carrier
	place  int // in the site's combination
	width  bands.Frequency
	weight int64 // what is added up: the maximum downlink rate
	extra  bool  // supplementary: stands only beside another carrier of its technology
}

// Weights beside the rate in bit/s: a primary cell goes before any rate, a carrier
// without a downlink behind all.
const (
	weightPrimary = int64(1) << 48
	weightUplink  = int64(1)
)

// bound limits number and sum of widths of the carriers of a technology, of all if
// that is zero.
type bound struct {
	rat      bands.RAT
	name     string // "LTE ", "NR " or nothing
	carriers int
	width    bands.Frequency
}

func (d *Device) bounds() [3]bound {
	carriers := d.Carriers
	if d.Kind != 0 {
		carriers = 1 // neither carrier aggregation nor dual connectivity
	}
	return [3]bound{
		{0, "", carriers, d.Width},
		{bands.LTE, "LTE ", d.LTECarriers, d.LTEWidth},
		{bands.NR, "NR ", d.NRCarriers, d.NRWidth},
	}
}

// used is what a set of candidates has of a bound.
type used struct {
	carriers int
	width    bands.Frequency
}

func (b *bound) of(c *candidate) bool {
	return c.width != 0 && (b.rat == 0 || b.rat == c.Band.RAT)
}

func (b *bound) holds(u used) bool {
	return (b.carriers == 0 || u.carriers <= b.carriers) && (b.width == 0 || u.width <= b.width)
}

// choose fills in the carriers that the device takes.
func (s *serving) choose() {
	s.offered = s.weigh(s.offered)
	best, by := selection{}, ca.Name{}
	if configurations := s.device.Configurations; len(configurations) == 0 {
		best = s.search(ca.Name{}, best)
	} else {
		for _, n := range configurations {
			if found := s.search(n, best); found.weight > best.weight {
				best, by = found, n
			}
		}
		if found := s.searchSingle(best); found.weight > best.weight {
			best, by = found, ca.Name{}
		}
	}
	if !s.served.Complete {
		best = s.fillUp(best, by)
	}
	for i := range s.offered {
		if c := &s.offered[i]; best.has(i) {
			s.served.Carriers = append(s.served.Carriers, c.Carrier)
			s.served.Of = append(s.served.Of, c.place+1)
		}
	}
	s.order()
	for i := range s.offered {
		if !best.has(i) {
			s.explain(i, best, by)
		}
	}
	slices.SortStableFunc(s.served.Limits, func(a, b Limit) int { return cmp.Compare(a.Carrier, b.Carrier) })
	if s.site.assessment.Kind == ca.KindENDC && len(s.served.Carriers) > 0 && !s.hasLTE() {
		s.limit(Limit{0, "anchor", "LTE with NR", "NR alone", "No LTE carrier is left as an anchor: the NR carriers serve only where the network has NR standalone."})
	}
}

// fillUp adds to a set what can still stand beside it, the heaviest first.
func (s *serving) fillUp(best selection, by ca.Name) selection {
	f := s.searcherOf(by)
	for i := range s.offered {
		with := best.set | 1<<i
		if best.has(i) || !f.within(with) || !f.stands(with) || !allows(by, s.combination(with)) ||
			by.IsZero() && len(s.device.Configurations) > 0 && best.set != 0 {
			continue
		}
		best = selection{with, best.weight + s.offered[i].weight}
	}
	return best
}

func (s *serving) hasLTE() bool {
	return slices.ContainsFunc(s.served.Carriers, func(c ca.Carrier) bool { return c.Band.RAT == bands.LTE })
}

// order puts the carriers back into the order of the site.
func (s *serving) order() {
	places := slices.Clone(s.served.Of)
	slices.Sort(places)
	carriers := make(ca.Combination, len(places))
	for i, of := range s.served.Of {
		at, _ := slices.BinarySearch(places, of)
		carriers[at] = s.served.Carriers[i]
	}
	s.served.Carriers, s.served.Of = carriers, places
}

// weigh rates the candidates as the device takes them and sorts them, those with the
// highest weight first, then as they stand.
func (s *serving) weigh(list []candidate) []candidate {
	for i := range list {
		c := &list[i]
		p := &s.site.assessment.Carriers[c.place]
		c.width = p.DownlinkWidth
		c.extra = p.Info.Duplex == bands.SUL || p.Info.Duplex == bands.SDL
		l := s.site.Carriers[c.place].Downlink
		if l.IsZero() {
			c.weight = weightUplink
			continue
		}
		p2 := *p
		p2.Carrier = c.Carrier
		l.setUp(&p2, bands.Downlink)
		if err := l.rate(&p2, bands.Downlink); err == nil {
			c.weight = l.Max.Round()
		}
		if c.Role == ca.PCell || c.Role == ca.PSCell {
			c.weight += weightPrimary
		}
	}
	slices.SortStableFunc(list, func(a, b candidate) int { return cmp.Compare(b.weight, a.weight) })
	return list[:min(len(list), maxOffered)]
}

// maxOffered bounds the carriers that are chosen from: a set is a word of bits. The
// notation has no more than 32.
const maxOffered = 64

// selection is a set of candidates.
type selection struct {
	set    uint64
	weight int64
}

func (s selection) has(i int) bool { return s.set>>i&1 == 1 }

// combination lists the carriers of a set in the order of the site.
func (s *serving) combination(set uint64) ca.Combination {
	var list []candidate
	for i := range s.offered {
		if set>>i&1 == 1 {
			list = append(list, s.offered[i])
		}
	}
	slices.SortFunc(list, func(a, b candidate) int { return a.place - b.place })
	c := make(ca.Combination, len(list))
	for i := range list {
		c[i] = list[i].Carrier
	}
	return c
}

// allows tells whether carriers can form a configuration, or a fallback of it.
func allows(n ca.Name, c ca.Combination) bool {
	if len(c) < 2 || n.IsZero() {
		return true
	}
	return ca.Assess(c).CanForm(n)
}

// explain says why candidate i is not in the set that was chosen: what does not hold
// if it is put in.
func (s *serving) explain(i int, best selection, by ca.Name) {
	c := &s.offered[i]
	name := strings.TrimSpace(c.Band.String() + " " + c.width.MHz() + " MHz")
	if c.width == 0 {
		name = c.Band.String()
	}
	with := best.set | 1<<i
	for _, b := range s.device.bounds() {
		if !b.of(c) {
			continue
		}
		offered, u := s.count(&b, ^uint64(0)), s.count(&b, with)
		switch {
		case b.carriers != 0 && u.carriers > b.carriers:
			s.limit(Limit{c.place + 1, b.name + "carriers", strconv.Itoa(offered.carriers), strconv.Itoa(b.carriers),
				"The device takes " + words.Plural(b.carriers, b.name+"carrier") + ", the site offers " + strconv.Itoa(offered.carriers) + ": " + name + " is left out."})
			return
		case b.width != 0 && u.width > b.width:
			s.limit(Limit{c.place + 1, b.name + "aggregated width", offered.width.MHz() + " MHz", b.width.MHz() + " MHz",
				"The device takes " + b.width.MHz() + " MHz of " + b.name + "spectrum, the site offers " + offered.width.MHz() + " MHz: " + name + " is left out."})
			return
		}
	}
	have := "a single carrier"
	if !by.IsZero() {
		have = by.String()
	}
	l := Limit{Carrier: c.place + 1, Item: "configuration", Device: have,
		Text: "No configuration of the device has " + name + " beside the other carriers: it is left out."}
	if forms, _ := ca.Assess(s.combination(with)).Formed(); len(forms) > 0 && len(s.device.Configurations) > 0 {
		l.Site = forms[0].Name.String()
	} else if len(s.device.Configurations) == 0 {
		l.Item, l.Site, l.Device = "band", c.Band.String(), "none"
		l.Text = "The device has no carrier beside which " + name + " could stand: it is left out."
	}
	s.limit(l)
}

// count adds up what the candidates of a set have of a bound.
func (s *serving) count(b *bound, set uint64) (u used) {
	for i := range s.offered {
		if c := &s.offered[i]; set>>i&1 == 1 && b.of(c) {
			u.carriers, u.width = u.carriers+1, u.width+c.width
		}
	}
	return u
}
