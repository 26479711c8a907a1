package holding

import (
	"cmp"
	"slices"

	"spectally/bands"
	"spectally/ca"
	"spectally/ca/deploy"
)

// option is a way in which a room can have a sub-block of a class.
type option struct {
	room     *place
	run      deploy.Run
	carriers []deploy.Carrier
	width    bands.Frequency // of the downlink
	extent   bands.Frequency // from edge to edge
	down     rate0
	all      rate0 // the uplinks of all carriers
	one      rate0 // the best uplink of one carrier
	weight   int64 // what the search adds up
}

// rate0 is a rate in bit/s and the spectrum that it needs.
type rate0 struct {
	rate  int64
	width bands.Frequency
}

// place is a room of a network: what a band has of one of its blocks.
type place struct {
	deploy.Room
	block int
	key   string
}

// optionKey names the options of a class in a room.
type optionKey struct {
	room  string
	class ca.Class
}

// mode is how a sub-block is used in the uplink.
type mode uint8

const (
	silent    mode = iota // it does not count there
	transmits             // all its carriers transmit
	transmit1             // one of them does
	modes
)

// weigh is what an option adds to an aim. The aim stands in the upper bits, what decides
// between equals in the lower: sums of up to 32 carriers do not run over.
func (o *option) weigh(a Aim, m mode) int64 {
	up := rate0{}
	switch m {
	case transmits:
		up = o.all
	case transmit1:
		up = o.one
	}
	switch a {
	case DownlinkRate:
		return o.down.rate<<24 | int64(o.down.width/bands.KHz)
	case DownlinkWidth:
		return int64(o.down.width/bands.KHz)<<36 | o.down.rate
	case UplinkRate:
		return up.rate<<25 | o.down.rate/1000
	}
	return int64(up.width/bands.KHz)<<34 | up.rate
}

// optionsOf lists the options of a class in a room, in no order.
func (f *Finder) optionsOf(p *place, class ca.Class) []option {
	key := optionKey{p.key, class}
	if list, ok := f.options[key]; ok {
		return list
	}
	var list []option
	n := class.Carriers(p.Band.ID)
	widest := p.Widest()
	var widths []bands.Frequency
	for _, w := range p.Widths() {
		if d := f.deviceBand(p.Band.ID); w <= widest && (d == nil || d.Widest == 0 || w <= d.Widest) {
			widths = append(widths, w)
		}
	}
	run := make(deploy.Run, n)
	var fill func(i, from int, left bands.Frequency)
	fill = func(i, from int, left bands.Frequency) {
		if i == n {
			if n == 1 || slices.Contains(ca.Classes(p.Band, run), class) {
				list = f.addOptions(list, p, run)
			}
			return
		}
		for k := from; k < len(widths); k++ {
			if widths[k] <= left {
				run[i] = widths[k]
				fill(i+1, k, left-widths[k])
			}
		}
	}
	if n > 0 {
		fill(0, 0, p.Spectrum()+bands.Frequency(n)*2*bands.MHz) // contiguous carriers overlap by less
	}
	f.options[key] = list
	return list
}

// maxOrders bounds the orders in which the widths of a sub-block are tried.
const maxOrders = 24

// addOptions adds a run in the orders that matter: of LTE, whose sets are given in the
// order of frequency, in each; of NR in the first that fits.
func (f *Finder) addOptions(list []option, p *place, run deploy.Run) []option {
	tried := 0
	deploy.Permute(run, func(order []bands.Frequency) bool {
		if tried++; tried > maxOrders {
			return false
		}
		l, ok := p.Fit(order)
		if !ok {
			return true
		}
		o := option{run: slices.Clone(order), carriers: l.Carriers}
		for i := range l.Carriers {
			c := &o.carriers[i]
			f.equip(c, p.Band)
			r := f.rate(c.Carrier)
			o.width += c.Downlink
			o.down.rate += r.down
			o.all.rate += r.up
			o.all.width += c.Uplink
			if r.up > o.one.rate {
				o.one = rate0{r.up, c.Uplink}
			}
		}
		o.down.width = o.width
		o.extent = l.Edges.Width()
		list = append(list, o)
		return p.Band.ID.RAT == bands.LTE
	})
	return list
}

// slot holds the options of a sub-block in the whole network, once they are asked for.
type slot struct {
	made    bool
	list    []option
	densest float64 // the most weight to a hertz
	only    int     // the block, counted from 1, if the band has but one
}

// options lists the options of slot i of a plan, those with the greatest weight first.
func (n *Network) options(p *plan, i int, a Aim, m mode) []option { return n.slot(p, i, a, m).list }

func (n *Network) slot(p *plan, i int, a Aim, m mode) *slot {
	all := &n.slots[a][m]
	k := p.numbers[i]
	if k >= len(*all) {
		*all = append(*all, make([]slot, k+1-len(*all))...)
	}
	s := &(*all)[k]
	if !s.made {
		s.made, s.list, s.only = true, n.makeOptions(p.slots[i], a, m), n.only[p.slots[i].Band]
		for j := range s.list {
			s.densest = max(s.densest, float64(s.list[j].weight)/float64(s.list[j].extent))
		}
	}
	return s
}

func (n *Network) makeOptions(b ca.NamedBlock, a Aim, m mode) []option {
	var list []option
	for i := range n.places {
		p := &n.places[i]
		if p.Band.ID != b.Band {
			continue
		}
		for _, o := range n.finder.optionsOf(p, b.Class) {
			if m != silent && o.one.rate == 0 || m == transmits && slices.ContainsFunc(o.carriers, func(c deploy.Carrier) bool { return c.Uplink == 0 }) {
				continue
			}
			o.room, o.weight = p, o.weigh(a, m)
			list = append(list, o)
		}
	}
	slices.SortStableFunc(list, func(x, y option) int { return cmp.Compare(y.weight, x.weight) })
	return list
}
