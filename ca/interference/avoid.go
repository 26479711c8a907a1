package interference

import (
	"cmp"
	"slices"

	"spectally/bands"
)

// Lead is the direction that places a carrier: its downlink, but for one without any its
// uplink.
func (c *Carrier) Lead() bands.Direction {
	if c.Downlink.IsZero() {
		return bands.Uplink
	}
	return bands.Downlink
}

// Avoid lists the places of the centre of carrier i, in the direction that leads, in which
// none of the products hits, in rising order: of those in which the carrier takes part,
// as [Find] returned them for these carriers. Others that have no place may take any of
// theirs.
func Avoid(carriers []Carrier, i int, products []Product) []bands.Span {
	c := &carriers[i]
	all := c.Downlink.Centre
	if c.Lead() == bands.Uplink {
		all = c.Uplink.Centre
	}
	var hits []bands.Span // open: their edges are free
	for j := range products {
		if p := &products[j]; p.Hit == Direct && p.Concerns(i) {
			hits = append(hits, hitPlaces(carriers, i, p))
		}
	}
	slices.SortFunc(hits, func(a, b bands.Span) int { return cmp.Compare(a.Low, b.Low) })
	var free []bands.Span
	at := all.Low
	for _, h := range hits {
		if at <= min(h.Low, all.High) {
			free = append(free, bands.Span{Low: at, High: min(h.Low, all.High)})
		}
		at = max(at, h.High)
	}
	if at <= all.High {
		free = append(free, bands.Span{Low: at, High: all.High})
	}
	return free
}

// Concerns tells whether the carrier takes part in the product.
func (p *Product) Concerns(carrier int) bool {
	return p.Victim == carrier || p.coefficient(carrier) != 0
}

func (p *Product) coefficient(carrier int) bands.Frequency {
	for _, s := range p.Sources() {
		if int(s.Carrier) == carrier {
			return bands.Frequency(s.Coefficient)
		}
	}
	return 0
}

// hitPlaces is the open span of places of carrier i in which a product may hit, wherever
// the others are. The distance of the product from the downlink is k times the place of
// the carrier and a rest that the others leave open.
func hitPlaces(carriers []Carrier, i int, p *Product) bands.Span {
	var k, width bands.Frequency
	var rest bands.Span
	add := func(times bands.Frequency, s bands.Span) {
		rest.Low += min(times*s.Low, times*s.High)
		rest.High += max(times*s.Low, times*s.High)
	}
	for j := range carriers {
		c, n, r := &carriers[j], p.coefficient(j), bands.Frequency(0)
		if p.Victim == j {
			r = bands.Frequency(p.ReceiverOrder)
		}
		width += max(n, -n)*c.Uplink.Width + r*c.Downlink.Width
		switch {
		case j == i && c.Lead() == bands.Uplink:
			k = n
		case j == i: // the uplink at its separation below
			k = n - r
			add(-n, c.Separation)
		case n != 0 && r != 0 && !c.Uplink.IsPlaced(): // the downlink at its separation above
			add(n-r, c.Uplink.Centre)
			add(-r, c.Separation)
		default:
			add(n, c.Uplink.Centre)
			add(-r, c.Downlink.Centre)
		}
	}
	low, high := -width/2-rest.High, width/2-rest.Low
	if k < 0 {
		low, high, k = -high, -low, -k
	}
	if k == 0 { // the place is all the same
		const farthest = 1 << 62
		if low < 0 && 0 < high {
			return bands.Span{Low: -farthest, High: farthest}
		}
		return bands.Span{}
	}
	return bands.Span{Low: floorDiv(low, k), High: -floorDiv(-high, k)}
}

// floorDiv is a/b rounded down, for b above zero.
func floorDiv(a, b bands.Frequency) bands.Frequency {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}
