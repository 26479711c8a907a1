package bands

// The subcarriers of an SS/PBCH block on either side of its middle, and those that are
// sent of it in a 3 MHz channel: 20 and 12 resource blocks (TS 38.211 clause 7.4.3.1;
// TS 38.104 Table 5.4.3.1-3).
const (
	blockHalf       = 120
	blockHalfNarrow = 72
	narrowChannel   = 3 * MHz
)

// BlockRaster tells whether an SS/PBCH block at f stands on the synchronisation raster
// of the band for channels of a width, and as which number. Blocks of secondary cells
// may stand off it (TS 38.331, absoluteFrequencySSB, from memory).
func (b *Band) BlockRaster(f, width Frequency) (GSCN, bool) {
	g, ok := gscnAt(f, width == narrowChannel)
	if !ok {
		return 0, false
	}
	for _, s := range syncRasters()[b.ID] {
		if s.Narrow == (width == narrowChannel) && s.Has(g) {
			return g, true
		}
	}
	return 0, false
}

// CentresAround is where the centre of a downlink carrier can lie of which only the
// frequency of its SS/PBCH block is known: from the lowest to the highest place on the
// channel rasters of the band at which the block lies inside the resource blocks of the
// channel and the channel inside the band, and inside a block of spectrum if within is
// not zero. The spacing is that of the carrier; the block has the narrowest that the
// band allows at its place, so that no place is missed.
//
// A frequency outside the band, a width that cannot hold the block, and a block for
// which no place is left are a ValueError.
func (b *Band) CentresAround(block, width, scs Frequency, within Span) (Span, error) {
	e := &ValueError{Param: "SS/PBCH block of " + b.ID.String(), Got: block.MHz() + " MHz", Source: b.Source}
	w := b.widthAt(scs, width)
	if !b.Downlink.Contains(block) || w == nil {
		e.Allowed = b.Downlink.String()
		return Span{}, e
	}
	span := SSBSpan(block, b.blockSpacing(block, width))
	if width == narrowChannel {
		span = narrowed(block, span)
	}
	// The centre is subcarrier 6 N_RB counted from 0 (TS 38.101-1 clause 5.4.2.2).
	half := 6*Frequency(w.ResourceBlocks)*scs - scs/2
	low, high := span.High-half, span.Low+half+scs
	limit := b.Downlink
	if !within.IsZero() {
		limit = Span{max(limit.Low, within.Low), min(limit.High, within.High)}
	}
	if !b.IsShared() || !within.IsZero() { // whose lists of channels pass the edges of the band
		low, high = max(low, limit.Low+width/2), min(high, limit.High-width/2)
	}
	if places := b.rastered(low, high, width); !places.IsZero() {
		return places, nil
	}
	e.Allowed = "a place that leaves a carrier of " + width.MHz() + " MHz room in " + limit.String()
	if low := span.High - half; low > span.Low+half+scs {
		e.Allowed = "a carrier that holds its " + span.Width().KHz() + " kHz: " + width.MHz() + " MHz with " + scs.KHz() + " kHz does not"
	}
	return Span{}, e
}

// blockSpacing is the narrowest subcarrier spacing that a block at f can have.
func (b *Band) blockSpacing(f, width Frequency) Frequency {
	narrow := width == narrowChannel
	g, on := gscnAt(f, narrow)
	var best, any Frequency
	for _, s := range syncRasters()[b.ID] {
		if s.Narrow != narrow {
			continue
		}
		if any == 0 || s.SCS < any {
			any = s.SCS
		}
		if on && s.Has(g) && (best == 0 || s.SCS < best) {
			best = s.SCS
		}
	}
	if best != 0 {
		return best
	}
	return any
}

// narrowed is the part of a block that a 3 MHz channel sends.
func narrowed(f Frequency, span Span) Span {
	scs := span.Width() / (2 * blockHalf)
	low := f - blockHalfNarrow*scs - scs/2
	return Span{low, low + 2*blockHalfNarrow*scs}
}

// rastered is the span from the first to the last place on a channel raster of the
// band, the enhanced one included, from low to high; zero if there is none.
func (b *Band) rastered(low, high, width Frequency) Span {
	var s Span
	take := func(n int32) {
		f, err := b.ChannelFrequency(n)
		if err != nil || f < low || f > high {
			return
		}
		if s.IsZero() {
			s = Span{f, f}
		}
		s = Span{min(s.Low, f), max(s.High, f)}
	}
	if low > high {
		return s
	}
	if b.hasList(width) {
		for _, c := range b.listed() {
			if c.Downlink && c.Width == width {
				take(c.Number)
			}
		}
		return s
	}
	first, _, err := ARFCNNear(low)
	if err != nil {
		return s
	}
	last, _, err := ARFCNNear(high)
	if err != nil {
		return s
	}
	for _, list := range [...][]Raster{b.rasters, enhancedRasters()[b.ID]} {
		for i := range list {
			r := &list[i]
			if r.Direction != Downlink || r.Step == 0 {
				continue
			}
			for _, n := range [...]int32{r.upTo(int32(first)), r.upTo(int32(last))} {
				for m := n - r.Step; m <= n+r.Step; m += r.Step {
					if r.Has(m) {
						take(m)
					}
				}
			}
		}
	}
	return s
}
