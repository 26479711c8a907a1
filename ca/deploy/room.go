package deploy

import (
	"slices"
	"sync"

	"spectally/bands"
	"spectally/ca"
)

// Room is what a band has of a block.
type Room struct {
	Block Block
	Band  *bands.Band
	// Downlink and Uplink are the parts of the block inside the band, none where the
	// band or the block has no such direction. They are the same in TDD.
	Downlink, Uplink bands.Span
	// Tolerance is how far a channel may pass an edge of the block, but not of the
	// band. Zero keeps it inside.
	Tolerance bands.Frequency

	g     *geometry
	floor bands.Frequency // channels stay above it in the direction in which they are laid out
}

// Above is the room without the spectrum below an edge, which another band of the block
// has.
func (r Room) Above(edge bands.Frequency) *Room {
	r.floor = edge
	return &r
}

// Rooms lists the bands that have a channel's width of a block, LTE first, in order
// of number: paired bands and supplementary downlinks for the downlink of a paired
// block, supplementary uplinks for its uplink; TDD and supplementary bands for a
// single range, and paired bands whose downlink it is, for the downlink alone. Bands
// of satellites have none, nor have those on which networks serve no UEs.
func Rooms(b Block) []Room {
	var list []Room
	for _, band := range allBands() {
		r := Room{Block: b, Band: band}
		if len(b.Bands) > 0 && !slices.Contains(b.Bands, band.ID) || !r.cut() {
			continue
		}
		r.g = geometryOf(band)
		lead := r.lead()
		if slices.ContainsFunc(r.g.widths, func(w width) bool { return w.Width <= lead.Width() }) {
			list = append(list, r)
		}
	}
	return list
}

// cut takes the parts of the block that lie inside the band; false if the block is
// none for it.
func (r *Room) cut() bool {
	b, paired := r.Band, !r.Block.Uplink.IsZero()
	switch b.Duplex {
	case bands.FDD:
		r.Downlink = common(r.Block.Downlink, b.Downlink)
		if paired {
			r.Uplink = common(r.Block.Uplink, b.Uplink)
			return !r.Downlink.IsZero() && !r.Uplink.IsZero()
		}
	case bands.TDD:
		if paired {
			return false
		}
		r.Downlink = common(r.Block.Downlink, b.Downlink)
		r.Uplink = r.Downlink
	case bands.SDL:
		r.Downlink = common(r.Block.Downlink, b.Downlink)
	case bands.SUL:
		up := r.Block.Uplink
		if !paired {
			up = r.Block.Downlink
		}
		r.Uplink = common(up, b.Uplink)
	}
	return !r.lead().IsZero()
}

func common(a, b bands.Span) bands.Span {
	s := bands.Span{Low: max(a.Low, b.Low), High: min(a.High, b.High)}
	if s.Low >= s.High {
		return bands.Span{}
	}
	return s
}

// allBands lists the bands of terrestrial networks that have channels.
var allBands = sync.OnceValue(func() []*bands.Band {
	var list []*bands.Band
	for _, b := range bands.All(0) {
		if !b.Range.IsNTN() && len(b.Widths()) > 0 && ca.IsServed(b) {
			list = append(list, b)
		}
	}
	return list
})

// lead is the spectrum in which carriers are laid out: the uplink of a supplementary
// uplink, the downlink of all others.
func (r *Room) lead() bands.Span {
	if r.Band.Duplex == bands.SUL {
		return r.Uplink
	}
	return r.Downlink
}

// limits are the edges that channels keep to in a direction: those of the block, less
// the tolerance, but never beyond those of the band, except where the standard's own
// list has channels that pass them.
func (r *Room) limits(d bands.Direction) bands.Span {
	s := r.Downlink
	if d == bands.Uplink {
		s = r.Uplink
	}
	if s.IsZero() {
		return s
	}
	band := r.Band.Span(d)
	return bands.Span{Low: max(s.Low-r.Tolerance, band.Low), High: min(s.High+r.Tolerance, band.High)}
}

// Carrier is a carrier at its place in a block.
type Carrier struct {
	ca.Carrier
	// DownlinkCentre and UplinkCentre are the centres; zero where the carrier has no
	// such direction.
	DownlinkCentre, UplinkCentre bands.Frequency
	// UplinkChannel is the channel number of the uplink, if there is one.
	UplinkChannel int32
	// Sync is the entry of the synchronisation raster nearest to the centre that the
	// SS/PBCH block of an NR carrier can have; zero where it has none.
	Sync bands.GSCN
	// ResourceBlocks is the maximum number of resource blocks N_RB: of the downlink,
	// or of a supplementary uplink. UplinkResourceBlocks is that of the uplink.
	ResourceBlocks, UplinkResourceBlocks int
}

// Span is the channel in a direction; none if the carrier does not have it.
func (c *Carrier) Span(d bands.Direction) bands.Span {
	switch {
	case d == bands.Downlink && c.DownlinkCentre != 0:
		return bands.Around(c.DownlinkCentre, c.Downlink)
	case d == bands.Uplink && c.UplinkCentre != 0:
		return bands.Around(c.UplinkCentre, c.Uplink)
	}
	return bands.Span{}
}

// carrier makes the carrier of a width at a centre of the lead direction; false if it
// cannot stand there. Without a place for its uplink it is one for the downlink alone.
func (r *Room) carrier(w *width, centre bands.Frequency) (Carrier, bool) {
	g := r.g
	c := Carrier{Carrier: ca.Carrier{Band: r.Band.ID, Downlink: w.Width, Uplink: w.Width, HasChannel: true}, ResourceBlocks: w.ResourceBlocks}
	if !g.mayStand(g.lead, centre, w.Width) {
		return c, false
	}
	var ok bool
	if g.lead == bands.Downlink {
		if c.Sync, ok = g.entry(centre, w); !ok {
			return c, false
		}
	}
	if c.Channel, ok, _ = r.Band.ChannelNumber(g.lead, centre); !ok {
		return c, false
	}
	switch r.Band.Duplex {
	case bands.SUL:
		c.UplinkCentre, c.UplinkChannel, c.UplinkResourceBlocks = centre, c.Channel, w.ResourceBlocks
	case bands.SDL:
		c.DownlinkCentre, c.Uplink = centre, 0
	case bands.TDD:
		c.DownlinkCentre = centre
		if c.Uplink = 0; w.both {
			c.Uplink, c.UplinkCentre, c.UplinkChannel, c.UplinkResourceBlocks = w.Width, centre, c.Channel, w.ResourceBlocks
		}
	default:
		c.DownlinkCentre = centre
		r.pair(&c, w)
	}
	return c, true
}

// pair gives a downlink the uplink that the block has room for: as wide as it, else
// the widest that the band allows beside it, else none.
func (r *Room) pair(c *Carrier, w *width) {
	c.Uplink = 0
	if r.Uplink.IsZero() {
		return
	}
	if w.both && r.pairAt(c, w, w.Width, &w.ul) {
		return
	}
	for _, up := range w.uplinks {
		if uw, ok := r.Band.Width(w.SCS, up); ok {
			ul := rasterOf(r.Band, bands.Uplink, uw)
			if r.pairAt(c, w, up, &ul) {
				return
			}
		}
	}
}

// pairAt looks for the place of an uplink of a width: at a separation of the band or
// inside its range, moved by no more than half the difference of the widths (TS
// 38.101-1 clause 5.3.6), as near to the separation as the raster allows.
func (r *Room) pairAt(c *Carrier, w *width, up bands.Frequency, ul *raster) bool {
	limits := r.limits(bands.Uplink)
	low, high := limits.Low+up/2, limits.High-up/2
	slack := (w.Width - up) / 2
	for _, s := range r.Band.Separations() {
		from, to, ideal := c.DownlinkCentre-s.Default-slack, c.DownlinkCentre-s.Default+slack, c.DownlinkCentre-s.Default
		if !s.HasDefault {
			from, to = c.DownlinkCentre-s.Max-slack, c.DownlinkCentre-s.Min+slack
			ideal = from
		}
		from, to = max(from, low), min(to, high)
		if from > to {
			continue
		}
		centre, ok := nearestIn(ul, from, to, min(max(ideal, from), to))
		if !ok || !r.g.mayStand(bands.Uplink, centre, up) {
			continue
		}
		n, exact, err := r.Band.ChannelNumber(bands.Uplink, centre)
		if err != nil || !exact {
			continue
		}
		u, _ := r.Band.Width(w.SCS, up)
		c.Uplink, c.UplinkCentre, c.UplinkChannel, c.UplinkResourceBlocks = up, centre, n, u.ResourceBlocks
		return true
	}
	return false
}

// nearestIn is the place of a raster in a range that is nearest to a frequency.
func nearestIn(r *raster, from, to, ideal bands.Frequency) (bands.Frequency, bool) {
	above, ok := r.from(ideal)
	ok = ok && above <= to
	below, ok2 := r.below(ideal)
	ok2 = ok2 && below >= from
	switch {
	case ok && (!ok2 || above-ideal <= ideal-below):
		return above, true
	case ok2:
		return below, true
	}
	return 0, false
}

// Widths lists the channel bandwidths of the band in the direction in which carriers
// are laid out, those whose resource blocks fill most first.
func (r *Room) Widths() []bands.Frequency {
	list := make([]bands.Frequency, len(r.g.widths))
	for i := range list {
		list[i] = r.g.widths[i].Width
	}
	return list
}

// Spectrum is what the room has in the direction in which carriers are laid out.
func (r *Room) Spectrum() bands.Frequency { return r.lead().Width() }

// Widest is the widest channel that fits; zero if none does.
func (r *Room) Widest() bands.Frequency {
	var widest bands.Frequency
	for i := range r.g.widths {
		if w := r.g.widths[i].Width; w > widest {
			if _, ok := r.Fit(Run{w}); ok {
				widest = w
			}
		}
	}
	return widest
}
