package interference

import "spectally/bands"

// Channel is one direction of a carrier: its width, and the lowest and the highest place
// of its centre, which are the same where the place is known. A width of zero stands for
// a width that is not known: the places are then the whole band. The zero Channel is none.
type Channel struct {
	Width  bands.Frequency
	Centre bands.Span
}

// IsZero tells whether there is no such direction.
func (c Channel) IsZero() bool { return c == Channel{} }

// IsPlaced tells whether the place is known.
func (c Channel) IsPlaced() bool { return c.Centre.Low == c.Centre.High }

// at is the channel with its centre moved to f.
func (c Channel) at(f bands.Frequency) Channel { return Channel{c.Width, bands.Span{Low: f, High: f}} }

// within narrows the places to a span; if none is left they end at its nearer edge.
func (c Channel) within(s bands.Span) Channel {
	low, high := max(c.Centre.Low, s.Low), min(c.Centre.High, s.High)
	if low > high {
		low = min(max(c.Centre.Low, s.Low), c.Centre.High)
		high = low
	}
	return Channel{c.Width, bands.Span{Low: low, High: high}}
}

// Carrier is what a UE transmits and receives on one component carrier.
type Carrier struct {
	Band bands.ID
	// Downlink is what it receives, Uplink what it transmits.
	Downlink, Uplink Channel
	// Separation is the least and the greatest distance of the downlink centre above the
	// uplink centre. Where the carrier has no place it ties one direction to the other.
	Separation bands.Span
	// TDD is the spectrum of the band if its directions share it. A UE does not receive in
	// such a band while it transmits in spectrum of the same band, or of an overlapping
	// one: common practice, and no row of the standard's tables says otherwise.
	TDD bands.Span
}

// Of is a carrier of the widths that may lie anywhere in its band. An uplink of zero
// means that the UE does not transmit on it, a downlink of zero that it does not receive.
func Of(b *bands.Band, downlink, uplink bands.Frequency) Carrier {
	c := Carrier{Band: b.ID}
	if downlink > 0 && b.Has(bands.Downlink) {
		c.Downlink = anywhere(b.Downlink, downlink)
	}
	if uplink > 0 && b.Has(bands.Uplink) {
		c.Uplink = anywhere(b.Uplink, uplink)
	}
	c.tie(b)
	return c
}

// OfBand is a carrier of a width that is not known: the whole band stands for it.
func OfBand(b *bands.Band, transmits bool) Carrier {
	c := Carrier{Band: b.ID, Downlink: Channel{Centre: b.Downlink}}
	if transmits {
		c.Uplink.Centre = b.Uplink
	}
	c.tie(b)
	return c
}

// anywhere is a channel inside a band; in the middle of it if it is too wide for that.
func anywhere(band bands.Span, width bands.Frequency) Channel {
	low, high := band.Low+width/2, band.High-(width+1)/2
	if low > high {
		low = (band.Low + band.High) / 2
		high = low
	}
	return Channel{width, bands.Span{Low: low, High: high}}
}

// tie sets how the directions go together and leaves out the places of each for which
// the other has none.
func (c *Carrier) tie(b *bands.Band) {
	if b.Duplex == bands.TDD {
		c.TDD = b.Downlink
	}
	if c.Downlink.IsZero() || c.Uplink.IsZero() {
		return
	}
	c.Separation = separation(b, c)
	c.Uplink = c.Uplink.within(bands.Span{Low: c.Downlink.Centre.Low - c.Separation.High, High: c.Downlink.Centre.High - c.Separation.Low})
	c.Downlink = c.Downlink.within(bands.Span{Low: c.Uplink.Centre.Low + c.Separation.Low, High: c.Uplink.Centre.High + c.Separation.High})
}

// separation is how far the downlink centre lies above the uplink centre: the defaults
// of the band, else its range, else whatever the band has room for. Channels of different
// width need not be at it exactly, see [bands.Band.Pair].
func separation(b *bands.Band, c *Carrier) bands.Span {
	if b.Duplex == bands.TDD {
		return bands.Span{}
	}
	var s bands.Span
	found := false
	take := func(low, high bands.Frequency) {
		if !found || low < s.Low {
			s.Low = low
		}
		if !found || high > s.High {
			s.High = high
		}
		found = true
	}
	list := b.Separations()
	for i := range list {
		if list[i].HasDefault {
			take(list[i].Default, list[i].Default)
		}
	}
	for i := range list {
		if list[i].HasRange && !list[0].HasDefault {
			take(list[i].Min, list[i].Max)
		}
	}
	if !found {
		return bands.Span{Low: c.Downlink.Centre.Low - c.Uplink.Centre.High, High: c.Downlink.Centre.High - c.Uplink.Centre.Low}
	}
	if c.Downlink.Width > 0 && c.Uplink.Width > 0 {
		slack := max(c.Downlink.Width-c.Uplink.Width, c.Uplink.Width-c.Downlink.Width) / 2
		s.Low, s.High = s.Low-slack, s.High+slack
	}
	return s
}

// Receiving is the carrier with its downlink centre at f, and its uplink where the
// separation leaves it.
func (c Carrier) Receiving(f bands.Frequency) Carrier {
	c.Downlink = c.Downlink.at(f)
	if !c.Uplink.IsZero() {
		c.Uplink = c.Uplink.within(bands.Span{Low: f - c.Separation.High, High: f - c.Separation.Low})
	}
	return c
}

// Within is the carrier with the places of its centre, in the direction that leads, narrowed
// to a span, and those of the other direction to what goes with them.
func (c Carrier) Within(s bands.Span) Carrier {
	if c.Lead() == bands.Uplink {
		c.Uplink = c.Uplink.within(s)
		return c
	}
	c.Downlink = c.Downlink.within(s)
	if !c.Uplink.IsZero() {
		c.Uplink = c.Uplink.within(bands.Span{Low: s.Low - c.Separation.High, High: s.High - c.Separation.Low})
	}
	return c
}

// Transmitting is the carrier with its uplink centre at f, and its downlink where the
// separation leaves it.
func (c Carrier) Transmitting(f bands.Frequency) Carrier {
	c.Uplink = c.Uplink.at(f)
	if !c.Downlink.IsZero() {
		c.Downlink = c.Downlink.within(bands.Span{Low: f + c.Separation.Low, High: f + c.Separation.High})
	}
	return c
}
