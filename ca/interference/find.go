package interference

import "spectally/bands"

// The orders that [Find] goes through.
const (
	// MaxHarmonic is the highest harmonic of an uplink.
	MaxHarmonic = 7
	// DefaultOrder is the highest order of intermodulation unless another is asked for,
	// MaxOrder the highest that may be.
	DefaultOrder, MaxOrder = 5, 9
	// maxMixing bounds the orders of the uplink and of the receiver together, and
	// maxReceiver that of the receiver: what the tables of TS 38.101-1 and TS 38.101-3 have.
	maxMixing, maxReceiver = 7, 5
)

// DefaultMargin is how far beside a downlink a product still counts as near, unless
// another margin is asked for: common practice, no source.
const DefaultMargin = 20 * bands.MHz

// Options says what [Find] looks for.
type Options struct {
	// Order is the highest order of intermodulation; zero stands for DefaultOrder, more
	// than MaxOrder for MaxOrder.
	Order int
	// Margin is how far beside a downlink a product still counts as near; zero stands for
	// DefaultMargin.
	Margin bands.Frequency
	// Misses asks for the products that hit nothing too.
	Misses bool
}

// Find compares the products of what the carriers transmit with what they receive and
// returns those that hit a downlink or come near one, a product and downlink each: the
// harmonics first, then mixing, then intermodulation by carriers and coefficients.
//
// For carriers without a place a hit means that there are places with one; [Product.Places]
// tells whether all have it. Both directions of a carrier move together. Where their
// separation has several values the answer may count places that no single one of them
// has.
func Find(carriers []Carrier, o Options) []Product {
	f := finder{carriers: carriers, order: o.Order, margin: o.Margin, misses: o.Misses}
	if f.order == 0 {
		f.order = DefaultOrder
	}
	f.order = min(f.order, MaxOrder)
	if f.margin == 0 {
		f.margin = DefaultMargin
	}
	f.gather()
	f.alone()
	f.pairs()
	f.triples()
	return f.found
}

// usual is a number of carriers up to which Find needs memory for its result alone.
const usual = 8

type finder struct {
	carriers []Carrier
	order    int
	margin   bands.Frequency
	misses   bool
	found    []Product

	sendRoom, hearRoom [usual]end
	sends, hears       []end // the uplinks and the downlinks
}

// end is one end of a link: the places of its centre, and the spectrum that its channel
// may fill, to which that of a receiver adds the margin.
type end struct {
	low, high, width bands.Frequency
	span             bands.Span
	carrier          int
	free             bool // of a carrier whose uplink may take several places
}

func (f *finder) gather() {
	f.sends, f.hears = f.sendRoom[:0], f.hearRoom[:0]
	for i := range f.carriers {
		c := &f.carriers[i]
		free := !c.Uplink.IsPlaced()
		if !c.Uplink.IsZero() {
			f.sends = append(f.sends, endOf(c.Uplink, 0, i, free))
		}
		if !c.Downlink.IsZero() {
			f.hears = append(f.hears, endOf(c.Downlink, f.margin, i, free))
		}
	}
}

func endOf(c Channel, margin bands.Frequency, carrier int, free bool) end {
	low, high := c.Centre.Low, c.Centre.High
	return end{low, high, c.Width, bands.Span{Low: low - c.Width/2 - margin, High: high + (c.Width+1)/2 + margin}, carrier, free}
}

// alone goes through the products of one uplink.
func (f *finder) alone() {
	for i := range f.sends {
		for n := int8(2); n <= MaxHarmonic; n++ {
			if f.mayMeet(times(f.sends[i].span, n)) {
				s := sum{kind: Harmonic, receiver: 1}
				s.add(f, i, n)
				f.compare(&s)
			}
		}
	}
	for i := range f.sends {
		for r := int8(2); r <= maxReceiver; r++ {
			for n := int8(1); n+r <= maxMixing; n++ {
				if coprime(n, r) && f.mayMix(times(f.sends[i].span, n), r) { // else the same places as at lower orders, which matter more
					s := sum{kind: Mixing, receiver: r}
					s.add(f, i, n)
					f.compare(&s)
				}
			}
		}
	}
}

func coprime(a, b int8) bool {
	for b != 0 {
		a, b = b, a%b
	}
	return a == 1
}

// times is the spectrum n times up.
func times(s bands.Span, n int8) bands.Span {
	return bands.Span{Low: bands.Frequency(n) * s.Low, High: bands.Frequency(n) * s.High}
}

func plus(s, t bands.Span) bands.Span  { return bands.Span{Low: s.Low + t.Low, High: s.High + t.High} }
func minus(s, t bands.Span) bands.Span { return bands.Span{Low: s.Low - t.High, High: s.High - t.Low} }

// mayMeet tells, for spectrum that a product may fill, whether a downlink may lie in it or
// near it: most products are dismissed here.
func (f *finder) mayMeet(s bands.Span) bool {
	for i := range f.hears {
		if h := &f.hears[i].span; s.Low < h.High && h.Low < s.High || -s.High < h.High && h.Low < -s.Low {
			return true
		}
	}
	return f.misses
}

// mayMix does the same for what meets a receiver in its order r.
func (f *finder) mayMix(s bands.Span, r int8) bool {
	for i := range f.hears {
		if h := times(f.hears[i].span, r); s.Low < h.High && h.Low < s.High {
			return true
		}
	}
	return f.misses
}

// pairs goes through the products of two uplinks.
func (f *finder) pairs() {
	for i := range f.sends {
		for j := range f.sends[:i] {
			for a := int8(1); int(a) < f.order; a++ {
				first := times(f.sends[j].span, a)
				for b := int8(1); int(a+b) <= f.order; b++ {
					second := times(f.sends[i].span, b)
					if f.mayMeet(plus(first, second)) {
						f.pair(j, a, i, b)
					}
					if f.mayMeet(minus(first, second)) {
						f.pair(j, a, i, -b)
					}
				}
			}
		}
	}
}

func (f *finder) pair(i int, a int8, j int, b int8) {
	s := sum{kind: Intermodulation, receiver: 1}
	s.add(f, i, a)
	s.add(f, j, b)
	f.compareBoth(&s)
}

// triples goes through the products of three uplinks.
func (f *finder) triples() {
	for i := range f.sends {
		for j := range f.sends[:i] {
			for k := range f.sends[:j] {
				f.triplesOf(k, j, i)
			}
		}
	}
}

func (f *finder) triplesOf(i, j, k int) {
	for a := int8(1); int(a) < f.order-1; a++ {
		first := times(f.sends[i].span, a)
		for b := int8(1); int(a+b) < f.order; b++ {
			second := times(f.sends[j].span, b)
			up, down := plus(first, second), minus(first, second)
			for c := int8(1); int(a+b+c) <= f.order; c++ {
				third := times(f.sends[k].span, c)
				if f.mayMeet(plus(up, third)) {
					f.triple(i, a, j, b, k, c)
				}
				if f.mayMeet(minus(up, third)) {
					f.triple(i, a, j, b, k, -c)
				}
				if f.mayMeet(plus(down, third)) {
					f.triple(i, a, j, -b, k, c)
				}
				if f.mayMeet(minus(down, third)) {
					f.triple(i, a, j, -b, k, -c)
				}
			}
		}
	}
}

func (f *finder) triple(i int, a int8, j int, b int8, k int, c int8) {
	s := sum{kind: Intermodulation, receiver: 1}
	s.add(f, i, a)
	s.add(f, j, b)
	s.add(f, k, c)
	f.compareBoth(&s)
}

// sum is a product while its uplinks are added: the least and the greatest place of its
// centre, and its width.
type sum struct {
	low, high, width bands.Frequency
	sources          [3]Source
	uplinks          int8
	kind             Kind
	receiver         int8
	free             bool
}

func (s *sum) add(f *finder, i int, coefficient int8) {
	e := &f.sends[i]
	c := bands.Frequency(coefficient)
	if c > 0 {
		s.low += c * e.low
		s.high += c * e.high
		s.width += c * e.width
	} else {
		s.low += c * e.high
		s.high += c * e.low
		s.width -= c * e.width
	}
	s.free = s.free || e.free
	s.sources[s.uplinks] = Source{int8(e.carrier), coefficient}
	s.uplinks++
}

// compareBoth compares the product of uplinks that may lie below zero hertz: what counts
// is then the same with the opposite coefficients.
func (f *finder) compareBoth(s *sum) {
	if s.low < 0 {
		opposite := *s
		opposite.low, opposite.high = -s.high, -s.low
		for i := range opposite.sources {
			opposite.sources[i].Coefficient *= -1
		}
		f.compare(&opposite)
		if s.high <= 0 {
			return
		}
	}
	f.compare(s)
}

// compare compares a product with every downlink.
func (f *finder) compare(s *sum) {
	for i := range f.hears {
		h := &f.hears[i]
		r := bands.Frequency(s.receiver)
		low, high := s.low-r*h.high, s.high-r*h.low
		if h.free {
			low, high = f.together(s, h, low, high)
		}
		reach := (s.width + r*h.width) / 2
		if !f.misses && (low >= reach+f.margin || high <= -reach-f.margin) || !f.receives(s, h.carrier) {
			continue
		}
		f.take(s, h, low, high, reach)
	}
}

// together is the distance of a product from a downlink that moves with one of its
// uplinks: with the uplink at u and the downlink d above it, c·u − r·(u+d).
func (f *finder) together(s *sum, h *end, low, high bands.Frequency) (bands.Frequency, bands.Frequency) {
	for _, source := range s.sources[:s.uplinks] {
		if int(source.Carrier) != h.carrier {
			continue
		}
		own := &f.carriers[h.carrier]
		u, d := own.Uplink.Centre, own.Separation
		c, r := bands.Frequency(source.Coefficient), bands.Frequency(s.receiver)
		others := bands.Span{Low: s.low - min(c*u.Low, c*u.High), High: s.high - max(c*u.Low, c*u.High)}
		k := c - r
		return others.Low + min(k*u.Low, k*u.High) - r*d.High, others.High + max(k*u.Low, k*u.High) - r*d.Low
	}
	return low, high
}

// receives tells whether the carrier receives while the uplinks of a product are sent.
func (f *finder) receives(s *sum, carrier int) bool {
	own := f.carriers[carrier].TDD
	if own.IsZero() {
		return true
	}
	for _, source := range s.sources[:s.uplinks] {
		if f.carriers[source.Carrier].TDD.Overlaps(own) {
			return false
		}
	}
	return true
}

// take adds a product, whose centre lies from low to high above that of the downlink.
func (f *finder) take(s *sum, h *end, low, high, reach bands.Frequency) {
	p := Product{
		Kind: s.kind, ReceiverOrder: s.receiver, Uplinks: s.uplinks, sources: s.sources,
		Victim: h.carrier,
		Span:   bands.Span{Low: max(0, s.low-s.width/2), High: s.high + (s.width+1)/2},
	}
	for _, source := range s.sources[:s.uplinks] {
		p.Order += max(source.Coefficient, -source.Coefficient)
	}
	gap := max(low-reach, -high-reach)
	switch {
	case gap < 0:
		p.Hit = Direct
	case gap < f.margin:
		p.Hit = Near
	}
	p.Distance = max(0, gap)
	switch {
	case !s.free && !h.free && low == high:
		p.Offset = low
	case gap >= 0:
		p.Places = NoPlaces
	case -reach < low && high < reach:
		p.Places = AllPlaces
	default:
		p.Places = SomePlaces
	}
	if f.found == nil {
		f.found = make([]Product, 0, 32) // as many as a few carriers have
	}
	f.found = append(f.found, p)
}
