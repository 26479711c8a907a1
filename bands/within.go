package bands

// Within finds the lowest and the highest channel number on a raster of the band, or in its
// list, at which the carrier centre of a channel lies in a span, edges included, and the
// channel inside the band; false if there is none. The enhanced raster does not count, as
// not every UE knows it.
func (b *Band) Within(d Direction, centres Span, width Frequency) (first, last int32, ok bool) {
	own := b.Span(d)
	low, high := max(centres.Low, own.Low+width/2), min(centres.High, own.High-width/2)
	if own.IsZero() || low > high {
		return 0, 0, false
	}
	take := func(n int32) {
		if f, err := b.ChannelFrequency(n); err != nil || f < low || f > high {
			return
		}
		if !ok {
			first, last, ok = n, n, true
		}
		first, last = min(first, n), max(last, n)
	}
	if b.hasList(width) {
		for _, c := range b.listed() {
			if c.Width == width && (directions{c.Downlink, c.Uplink}).has(d) {
				take(c.Number)
			}
		}
		return first, last, ok
	}
	for _, f := range [...]Frequency{low, high} {
		n, _, err := b.ChannelNumber(d, f)
		if err != nil {
			continue
		}
		for i := range b.rasters {
			r := &b.rasters[i]
			if r.Direction != d || r.Step == 0 {
				continue
			}
			for m := r.upTo(n) - r.Step; m <= n+2*r.Step; m += r.Step {
				if r.Has(m) {
					take(m)
				}
			}
		}
	}
	return first, last, ok
}
