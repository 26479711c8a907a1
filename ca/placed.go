package ca

import "spectally/bands"

// Placed is a carrier with what the tables say of it: the band, the width it has
// in each direction, where it lies, and what it uses by default.
type Placed struct {
	Carrier
	// Info is the band; nil if the tables have no such band.
	Info *bands.Band
	// DownlinkWidth and UplinkWidth are the channel bandwidths that the carrier
	// has in each direction; zero where it has none.
	DownlinkWidth, UplinkWidth bands.Frequency
	// DownlinkCentre and UplinkCentre are the carrier centres; zero where they
	// are not known or there is no such direction.
	DownlinkCentre, UplinkCentre bands.Frequency
	// Centres is where the centre of the downlink can lie, from the lowest to the
	// highest place, if only its SS/PBCH block is known; zero if the centre itself is
	// known, or nothing is.
	Centres bands.Span
	// Spacing is the subcarrier spacing: the one given, else the default of
	// bands.Band.DefaultSpacing.
	Spacing bands.Frequency
	// DownlinkBlocks and UplinkBlocks are the maximum resource blocks N_RB of the
	// widths; zero if the band has no such width at the spacing.
	DownlinkBlocks, UplinkBlocks int
	// Transmits tells whether the UE transmits on the carrier.
	Transmits bool

	marks    bands.Mark // of the width that leads: the downlink's if there is one
	ulMarks  bands.Mark
	hasULRow bool // the band has the uplink width at the subcarrier spacing
	unpaired bool // the downlink has no uplink beside it at its place
}

// Width is the width of the carrier in the direction.
func (p *Placed) Width(d bands.Direction) bands.Frequency {
	if d == bands.Uplink {
		return p.UplinkWidth
	}
	return p.DownlinkWidth
}

// CentreIn is the centre of the carrier in the direction; zero if it is not known.
func (p *Placed) CentreIn(d bands.Direction) bands.Frequency {
	if d == bands.Uplink {
		return p.UplinkCentre
	}
	return p.DownlinkCentre
}

// Blocks is the maximum number of resource blocks of the carrier in the direction.
func (p *Placed) Blocks(d bands.Direction) int {
	if d == bands.Uplink {
		return p.UplinkBlocks
	}
	return p.DownlinkBlocks
}

// UsedBlocks is the number of resource blocks that carry data in the direction: all of
// the carrier, or as many as it says at most.
func (p *Placed) UsedBlocks(d bands.Direction) int {
	if n := int(p.RB); n != 0 {
		return min(n, p.Blocks(d))
	}
	return p.Blocks(d)
}

// Possible is the spectrum in which the downlink channel lies: the channel itself, or
// that of all its places if only its SS/PBCH block is known. Certain is the part of it
// that the channel fills at every place; none if there is no such part.
func (p *Placed) Possible() (all, certain bands.Span) {
	if p.Centres.IsZero() {
		return p.Span(bands.Downlink), p.Span(bands.Downlink)
	}
	low, high := bands.Around(p.Centres.Low, p.DownlinkWidth), bands.Around(p.Centres.High, p.DownlinkWidth)
	all = bands.Span{Low: low.Low, High: high.High}
	if high.Low < low.High {
		certain = bands.Span{Low: high.Low, High: low.High}
	}
	return all, certain
}

// Span is the channel in the direction; none if its place is not known.
func (p *Placed) Span(d bands.Direction) bands.Span {
	c, w := p.CentreIn(d), p.Width(d)
	if c == 0 || w == 0 {
		return bands.Span{}
	}
	return bands.Around(c, w)
}

// blockSpan is the spectrum that the resource blocks of the carrier fill in the
// direction; none if it is not known. The centre is subcarrier 6 N_RB counted
// from 0 (TS 38.101-1 clause 5.4.2.2); LTE leaves one subcarrier free at it.
func (p *Placed) blockSpan(d bands.Direction) bands.Span {
	c, n := p.CentreIn(d), bands.Frequency(p.Blocks(d))
	if c == 0 || n == 0 {
		return bands.Span{}
	}
	half := 6 * n * p.Spacing
	if p.Band.RAT == bands.LTE {
		return bands.Span{Low: c - half - p.Spacing/2, High: c + half + p.Spacing/2}
	}
	return bands.Span{Low: c - half - p.Spacing/2, High: c + half - p.Spacing/2}
}

// place fills in what the tables say of a carrier. It reports what does not fit
// through the checker.
func (k *checker) place(i int) {
	p := &k.Carriers[i]
	info, err := bands.Lookup(p.Band)
	if err != nil {
		k.report(Error, RuleBandExists, i, err)
		return
	}
	p.Info = info
	k.checkUse(i)
	k.placeDirections(i)
	k.placeWidths(i)
	if p.IsPlaced() {
		k.placeFrequency(i)
	}
	if p.SSB != 0 {
		k.placeBlock(i)
	}
}

// placeDirections decides which widths the carrier has in which direction.
func (k *checker) placeDirections(i int) {
	p := &k.Carriers[i]
	p.DownlinkWidth, p.UplinkWidth = p.Downlink, p.Uplink
	switch {
	case !p.Info.Has(bands.Uplink):
		if p.Uplink != 0 && p.Uplink != p.Downlink || p.Transmit == Yes || p.Downlink == 0 {
			k.report(Error, RuleDirection, i, directionError(p, bands.Uplink))
		}
		p.UplinkWidth = 0
	case !p.Info.Has(bands.Downlink):
		if p.Downlink != 0 && p.Uplink != p.Downlink {
			k.report(Error, RuleDirection, i, directionError(p, bands.Downlink))
		}
		p.DownlinkWidth = 0
	case p.Downlink == 0:
		k.report(Error, RuleDirection, i, &bands.ValueError{
			Param: p.Band.String() + " downlink width", Got: "0", Allowed: "a width above zero: only a supplementary uplink stands without a downlink", Source: p.Info.Source})
	case p.Uplink == 0 && p.Transmit == Yes:
		k.report(Error, RuleDirection, i, &bands.ValueError{
			Param: p.Band.String() + " uplink width", Got: "0", Allowed: "a width above zero where the UE transmits (ul=1)"})
	}
}

func directionError(p *Placed, d bands.Direction) error {
	return &bands.ValueError{
		Param:   p.Band.String() + " " + d.String(),
		Got:     p.Carrier.String(),
		Allowed: "none: the band is " + p.Info.Duplex.String() + " and has no " + d.String(),
		Source:  p.Info.Source,
	}
}

// placeFrequency finds the centres of the carrier from its channel number or
// frequency.
func (k *checker) placeFrequency(i int) {
	p := &k.Carriers[i]
	f := p.Carrier.Centre
	d := lead(p.Info)
	if p.HasChannel {
		var err error
		if f, err = p.Info.ChannelFrequency(p.Channel); err != nil {
			k.report(Error, RuleChannelNumber, i, err)
			return
		}
		if !p.Info.Span(d).Contains(f) {
			d = bands.Uplink
		}
	}
	k.placeAt(i, d, f)
}

// placeAt places the carrier by its centre in a direction.
func (k *checker) placeAt(i int, d bands.Direction, f bands.Frequency) {
	p := &k.Carriers[i]
	if d == bands.Uplink {
		k.placeByUplink(i, f)
		return
	}
	p.DownlinkCentre = f
	if !k.checkPlace(i, d) || p.UplinkWidth == 0 {
		return
	}
	pairing := p.Info.Pair(d, f, p.DownlinkWidth, p.UplinkWidth)
	if !pairing.Possible {
		k.dropUplink(i)
		return
	}
	p.UplinkCentre = pairing.Centre
}

// placeByUplink finds the centre of the downlink of a carrier whose uplink centre
// is given.
func (k *checker) placeByUplink(i int, f bands.Frequency) {
	p := &k.Carriers[i]
	p.UplinkCentre = f
	if !k.checkPlace(i, bands.Uplink) || p.DownlinkWidth == 0 {
		return
	}
	own := p.UplinkWidth
	if own == 0 { // downlink only, placed by the uplink that it would have
		own = p.DownlinkWidth
	}
	pairing := p.Info.Pair(bands.Uplink, f, own, p.DownlinkWidth)
	if !pairing.Possible {
		k.say(Error, RuleInBand, i, p.Info.Source, "The downlink band "+p.Info.Downlink.String()+" of "+p.Band.String()+" has no place for the "+
			mhz(p.DownlinkWidth)+" that go with an uplink at "+mhz(f)+".")
		return
	}
	p.DownlinkCentre = pairing.Centre
	k.checkPlace(i, bands.Downlink)
}

// dropUplink takes the uplink from a carrier that has none beside its downlink, such
// as one in the part of band 66 that is for carrier aggregation alone.
func (k *checker) dropUplink(i int) {
	p := &k.Carriers[i]
	message := "The uplink band " + p.Info.Uplink.String() + " of " + p.Band.String() + " has no place for the " + mhz(p.UplinkWidth) + " that go with this downlink"
	if p.Transmit == Yes {
		k.say(Error, RuleUnpaired, i, p.Info.Source, message+", so the UE cannot transmit on the carrier.")
	} else {
		k.say(Note, RuleUnpaired, i, p.Info.Source, message+": it counts as downlink only.")
	}
	p.unpaired = true
	p.UplinkWidth, p.UplinkBlocks, p.UplinkCentre = 0, 0, 0
}
