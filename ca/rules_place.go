package ca

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
)

// checkPlace looks at where a carrier lies in one direction: inside the band and on
// the channel raster. It returns false if the channel is not inside the band.
func (k *checker) checkPlace(i int, d bands.Direction) bool {
	p := &k.Carriers[i]
	b, centre, width := p.Info, p.CentreIn(d), p.Width(d)
	if centre == 0 || width == 0 {
		return true
	}
	span := b.Span(d)
	if !span.Contains(centre) {
		k.report(Error, RuleInBand, i, &bands.ValueError{
			Param: p.Band.String() + " carrier centre", Got: mhz(centre), Allowed: span.String() + " (" + d.String() + ")", Source: b.Source})
		return false
	}
	derived := d == bands.Downlink && p.UplinkCentre != 0 // from the uplink, which has been looked at
	n, on := p.Channel, true
	if !derived {
		if !p.HasChannel {
			var err error
			if n, on, err = b.ChannelNumber(d, centre); err != nil {
				k.report(Error, RuleChannelNumber, i, err)
				return false
			}
		}
		on = on && b.OnRaster(d, n, width)
	}
	channel := bands.Around(centre, width)
	inside := span.Covers(channel) || b.IsShared() // whose lists of channels pass its edges
	if !inside {
		e := &bands.ValueError{Param: p.Band.String() + " " + d.String() + " channel", Got: channel.String(), Allowed: "inside " + span.String(), Source: b.Source}
		switch low, high := span.Low+width/2, span.High-width/2; {
		case low < high:
			e.Allowed += ": centre from " + low.MHz() + " to " + mhz(high)
		case low == high:
			e.Allowed += ": centre " + mhz(low)
		}
		k.report(Error, RuleInBand, i, e)
	}
	if !derived {
		k.checkRaster(i, d, n, on)
	}
	if d == bands.Downlink || b.Duplex == bands.SUL {
		k.checkParts(i, d, channel)
	}
	if d == bands.Downlink && !derived {
		k.hintBlock(i, centre, inside && (on || b.OnEnhancedRaster(d, n)))
	}
	return inside
}

// checkPlacesOfWidths looks at what the notes on single widths say of places.
func (k *checker) checkPlacesOfWidths() {
	for i := range k.Carriers {
		p := &k.Carriers[i]
		for _, d := range [...]bands.Direction{bands.Downlink, bands.Uplink} {
			if p.Info != nil && p.CentreIn(d) != 0 && p.Width(d) != 0 {
				k.checkPlaceOfWidth(i, d, p.CentreIn(d), p.Width(d))
			}
		}
	}
}

// checkPlaceOfWidth looks at one direction. What the notes leave without requirements in
// the uplink matters where the UE transmits.
func (k *checker) checkPlaceOfWidth(i int, d bands.Direction, centre, width bands.Frequency) {
	p := &k.Carriers[i]
	fault, ok := p.Info.PlaceFault(d, centre, width)
	switch {
	case !ok:
	case fault.Forbidden:
		k.report(Error, RulePlaceOfWidth, i, fault.Err)
	case d == bands.Uplink && !p.Transmits:
	case fault.WiderUE:
		k.say(Note, RulePlaceOfWidth, i, fault.Err.Source, fault.Err.Text()+"; for UEs that support a wider channel in the band it has them here too.")
	default:
		k.report(Warning, RulePlaceOfWidth, i, fault.Err)
	}
}

// checkRaster reports a carrier off the channel raster, in the direction in which
// its place was given.
func (k *checker) checkRaster(i int, d bands.Direction, n int32, on bool) {
	p := &k.Carriers[i]
	b := p.Info
	if on {
		if b.ID.RAT == bands.NR && p.Spacing != 0 && !b.OnOwnRaster(d, n, p.Spacing) {
			k.say(Note, RuleOnRaster, i, rasterSource(b), "Channel number "+strconv.Itoa(int(n))+" is on the raster for the narrower subcarrier spacing of "+p.Band.String()+
				", not on the one for channels that use "+p.Spacing.KHz()+" kHz"+" alone.")
		}
		return
	}
	if b.OnEnhancedRaster(d, n) {
		k.say(Note, RuleOnRaster, i, rasterSource(b), "Channel number "+strconv.Itoa(int(n))+" is on the enhanced 10 kHz raster of "+p.Band.String()+", which not every UE knows.")
		return
	}
	var near []string
	for _, m := range b.NearestOnRaster(d, n, p.Width(d)) {
		near = append(near, strconv.Itoa(int(m)))
	}
	e := &bands.ValueError{
		Param:   p.Band.String() + " carrier centre",
		Got:     mhz(p.CentreIn(d)),
		Allowed: "a place on the channel raster of the band",
		Nearest: strings.Join(near, " or "),
		Source:  rasterSource(b),
	}
	if len(b.ListedChannels()) > 0 {
		e.Allowed = "a channel number that the band lists for " + mhz(p.Width(d))
	}
	k.report(Error, RuleOnRaster, i, e)
}

func rasterSource(b *bands.Band) bands.Source {
	r := b.Rasters()
	if len(r) == 0 {
		return b.Source
	}
	return r[0].Source
}

// checkParts compares a channel with the parts of the band that its notes allow,
// everywhere or in some region. Parts of a region that touch count as one.
func (k *checker) checkParts(i int, d bands.Direction, channel bands.Span) {
	p := &k.Carriers[i]
	parts := p.Info.Parts()
	for j := range parts {
		region := parts[j].Region
		if slices.ContainsFunc(parts[:j], func(q bands.Part) bool { return q.Region == region }) {
			continue // the first part of a region speaks for all
		}
		var allowed []bands.Span
		for _, q := range parts[j:] {
			if q.Region != region || d == bands.Downlink && !q.Downlink || d == bands.Uplink && !q.Uplink {
				continue
			}
			if last := len(allowed) - 1; last >= 0 && allowed[last].High == q.Span.Low {
				allowed[last].High = q.Span.High
				continue
			}
			allowed = append(allowed, q.Span)
		}
		if len(allowed) == 0 || slices.ContainsFunc(allowed, func(s bands.Span) bool { return s.Covers(channel) }) {
			continue
		}
		var text []string
		for _, s := range allowed {
			text = append(text, s.String())
		}
		if region == "all" {
			k.report(Error, RuleRegionalLimit, i, &bands.ValueError{
				Param: p.Band.String() + " " + d.String() + " channel", Got: channel.String(), Allowed: strings.Join(text, " or "), Source: parts[j].Source})
			continue
		}
		k.say(Note, RuleRegionalLimit, i, parts[j].Source, "The channel "+channel.String()+" lies outside the part of "+p.Band.String()+" for "+region+": "+strings.Join(text, " or ")+".")
	}
}
