package deploy

import (
	"cmp"
	"slices"

	"spectally/bands"
	"spectally/ca"
)

// Layout is carriers of one band in a block, in rising frequency.
type Layout struct {
	Band     *bands.Band
	Carriers []Carrier
	// ResourceBlocks adds up N_RB of the carriers, UplinkResourceBlocks that of their
	// uplinks; Filled is the spectrum of those blocks in the direction in which the
	// carriers are laid out, which compares layouts of different subcarrier spacings.
	ResourceBlocks, UplinkResourceBlocks int
	Filled                               bands.Frequency
	// Edges are the outer edges of a layout made by [Room.Fit], those of aggregated
	// channels, in the direction in which it is laid out.
	Edges bands.Span
	// Unused is what the channels leave of the block, in the direction in which they
	// are laid out; Left says why.
	Unused bands.Frequency
	Left   []Left
	// Traits are what the layout is best at.
	Traits []Trait
}

// Trait is something that a layout is best at among those of its band.
type Trait uint8

// The traits. Most comes first in a list of layouts.
const (
	Most   Trait = iota + 1 // most resource blocks
	Fewest                  // most resource blocks with fewer carriers
	Widest                  // the widest carrier that fits
	Alike                   // carriers of one width
)

// String names the trait: "most resource blocks".
func (t Trait) String() string {
	return [...]string{"", "most resource blocks", "fewer carriers", "widest carrier", "carriers alike"}[t]
}

// Uplink adds up the uplink widths.
func (l *Layout) Uplink() bands.Frequency {
	var sum bands.Frequency
	for i := range l.Carriers {
		sum += l.Carriers[i].Uplink
	}
	return sum
}

// layout describes carriers that have been placed.
func (r *Room) layout(list []Carrier) Layout {
	l := Layout{Band: r.Band, Carriers: list}
	lead := r.g.lead
	var used bands.Frequency
	end := bands.Frequency(0)
	for i := range list {
		c := &list[i]
		l.ResourceBlocks += c.ResourceBlocks
		l.UplinkResourceBlocks += c.UplinkResourceBlocks
		l.Filled += r.g.widths[r.g.index(c.width(lead))].fill
		s := c.Span(lead)
		used += s.High - max(s.Low, end)
		end = s.High
	}
	block := r.Block.Downlink
	if lead == bands.Uplink && !r.Block.Uplink.IsZero() {
		block = r.Block.Uplink
	}
	l.Unused = max(0, block.Width()-used)
	return l
}

// width is the width of the carrier in a direction.
func (c *Carrier) width(d bands.Direction) bands.Frequency {
	if d == bands.Uplink {
		return c.Uplink
	}
	return c.Downlink
}

// maxCarriers bounds the carriers of a layout.
const maxCarriers = 16

// Layouts lists the layouts of a room that are worth a look: the one with the most
// resource blocks first, those of both directions together in a paired band; then, in order of falling resource blocks, the best with one
// carrier fewer and with a single one, the best with the widest carrier that fits, and the best
// of carriers that are all alike. None if no carrier fits; [Room.Why] says why.
func (r *Room) Layouts() []Layout {
	var list []Layout
	add := func(l Layout, t Trait) {
		for i := range list {
			if slices.EqualFunc(list[i].Carriers, l.Carriers, func(a, b Carrier) bool { return a.Carrier == b.Carrier }) {
				if !slices.Contains(list[i].Traits, t) {
					list[i].Traits = append(list[i].Traits, t)
				}
				return
			}
		}
		l.Traits = []Trait{t}
		list = append(list, l)
	}
	most, ok := r.most(maxCarriers)
	if !ok {
		return nil
	}
	add(most, Most)
	for _, n := range [...]int{len(most.Carriers) - 1, 1} {
		if l, ok := r.most(n); ok {
			add(l, Fewest)
		}
	}
	if l, ok := r.widest(); ok {
		add(l, Widest)
	}
	if l, ok := r.alike(); ok {
		add(l, Alike)
	}
	slices.SortStableFunc(list[1:], func(a, b Layout) int {
		return cmp.Or(cmp.Compare(b.Filled, a.Filled), cmp.Compare(len(a.Carriers), len(b.Carriers)))
	})
	for i := range list {
		list[i].Left = r.left(&list[i])
	}
	return list
}

// most is the layout with the most resource blocks of at most n carriers.
func (r *Room) most(n int) (Layout, bool) {
	s := search{room: r, limit: n}
	return s.run(nil)
}

// widest is the best layout with the widest carrier that fits.
func (r *Room) widest() (Layout, bool) {
	byWidth := make([]int, len(r.g.widths))
	for i := range byWidth {
		byWidth[i] = i
	}
	slices.SortFunc(byWidth, func(a, b int) int { return cmp.Compare(r.g.widths[b].Width, r.g.widths[a].Width) })
	for _, k := range byWidth {
		if _, ok := r.Fit(Run{r.g.widths[k].Width}); ok {
			s := search{room: r, limit: maxCarriers}
			return s.run([]int{k})
		}
	}
	return Layout{}, false
}

// alike is the best layout of two carriers or more of one width.
func (r *Room) alike() (best Layout, ok bool) {
	for k := range r.g.widths {
		w := r.g.widths[k].Width
		for n := min(maxCarriers, int((r.lead().Width()+2*r.Tolerance+bands.Frequency(maxCarriers)*r.g.overlap)/w)); n > 1; n-- {
			seq := make([]int, n)
			for i := range seq {
				seq[i] = k
			}
			f := fitter{room: r, seq: seq, joints: r.g.joints(seq)}
			if !f.place() {
				continue
			}
			l := r.layout(f.best)
			if !ok || l.Filled > best.Filled || l.Filled == best.Filled && n < len(best.Carriers) {
				best, ok = l, true
			}
			break
		}
	}
	return best, ok
}

// search looks for the multiset of widths that fills most, downlink and uplink
// together: depth first, the fullest widths first, without what cannot become better.
type search struct {
	room  *Room
	limit int // carriers
	loose bool

	best   []Carrier
	order  []int // the widths of the best
	value  bands.Frequency
	found  bool
	budget bands.Frequency
	tried  int
}

// maxTried bounds the orders in which widths are tried.
const maxTried = 5_000

// run searches with some widths given.
func (s *search) run(given []int) (Layout, bool) {
	s.budget = s.room.lead().Width() + 2*s.room.Tolerance
	s.walk(slices.Clone(given), 0)
	if !s.found || s.loose {
		return Layout{}, false
	}
	return s.room.layout(s.best), true
}

// worth is the most that a carrier of a width can fill: with its uplink, if the room
// has one.
func (s *search) worth(w *width) bands.Frequency {
	if s.loose || !s.room.g.paired || s.room.Uplink.IsZero() {
		return w.fill
	}
	return w.fill + w.ulFill
}

// walk goes on with widths from k on, and tries the widths chosen.
func (s *search) walk(chosen []int, k int) {
	g := s.room.g
	var most, sum, saved bands.Frequency
	for _, c := range chosen {
		most += s.worth(&g.widths[c])
		sum += g.widths[c].Width
	}
	if len(chosen) <= g.run {
		saved = bands.Frequency(min(s.limit, g.run)-1) * g.overlap
	}
	left := s.budget + saved - sum
	if left < 0 || s.tried > maxTried {
		return
	}
	if len(chosen) < s.limit {
		for ; k < len(g.widths); k++ {
			w := &g.widths[k]
			if w.Width > left {
				continue
			}
			// No width behind fills more, nor more of a hertz than the best of them.
			ahead := min(bands.Frequency(s.limit-len(chosen))*s.worth(w), s.densest(k, left))
			if !s.improves(most+ahead, len(chosen)+1) {
				break
			}
			s.walk(append(slices.Clip(chosen), k), k)
		}
	}
	if len(chosen) > 0 && s.improves(most, len(chosen)) {
		s.try(chosen, most)
	}
}

// improves tells whether a value with so many carriers is better than the best.
func (s *search) improves(value bands.Frequency, carriers int) bool {
	return !s.found || value > s.value || value == s.value && carriers < len(s.order)
}

// densest bounds what widths from k on can fill of so much spectrum.
func (s *search) densest(k int, left bands.Frequency) bands.Frequency {
	best := bands.Frequency(0)
	for i := k; i < len(s.room.g.widths); i++ {
		w := &s.room.g.widths[i]
		worth, khz := s.worth(w), w.Width/bands.KHz // in kilohertz, so that the product does not overflow
		best = max(best, left/w.Width*worth+(left%w.Width/bands.KHz+1)*(worth/khz+1))
	}
	return best
}

// try looks for the order in which the widths fit with the most uplink, the widest
// first. Beyond the carriers of a bandwidth class the order changes next to nothing.
func (s *search) try(chosen []int, most bands.Frequency) {
	order := slices.Clone(chosen)
	slices.Sort(order)
	f := fitter{room: s.room, joints: s.room.g.joints(order), loose: s.loose}
	Permute(order, func(p []int) bool {
		s.tried++
		f.seq = p
		if f.place() {
			value := most
			if !s.loose {
				value = s.room.filled(f.best)
			}
			if s.improves(value, len(p)) {
				s.found, s.value, s.order, s.best = true, value, slices.Clone(p), f.best
			}
		}
		return s.improves(most, len(p)) && s.tried <= maxTried && len(p) <= s.room.g.run
	})
}

// filled is the spectrum of the resource blocks of carriers, in both directions of a
// paired band.
func (r *Room) filled(list []Carrier) bands.Frequency {
	var sum bands.Frequency
	for i := range list {
		w := &r.g.widths[r.g.index(list[i].width(r.g.lead))]
		sum += w.fill
		if r.g.paired {
			sum += bands.Frequency(12*list[i].UplinkResourceBlocks) * w.SCS
		}
	}
	return sum
}

// joints tells how carriers of a layout stand to each other: at the nominal spacing if
// they form a bandwidth class together, else beside each other.
func (g *geometry) joints(seq []int) []joint {
	list := make([]joint, len(seq))
	if len(seq) < 2 {
		return list
	}
	widths := make([]bands.Frequency, len(seq))
	for i, k := range seq {
		widths[i] = g.widths[k].Width
	}
	if len(seq) > g.run || len(ca.Classes(g.band, widths)) == 0 {
		for i := range list {
			list[i] = beside
		}
	}
	return list
}

// Permute calls yield with every order of a list, equal ones once, until it
// returns false.
func Permute[T cmp.Ordered](list []T, yield func([]T) bool) {
	p := slices.Clone(list)
	slices.Sort(p)
	for {
		if !yield(p) {
			return
		}
		i := len(p) - 2
		for i >= 0 && p[i] >= p[i+1] {
			i--
		}
		if i < 0 {
			return
		}
		j := len(p) - 1
		for p[j] <= p[i] {
			j--
		}
		p[i], p[j] = p[j], p[i]
		slices.Reverse(p[i+1:])
	}
}
