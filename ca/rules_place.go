package ca

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
)

// checkPlace looks at where a carrier lies in one direction: inside the band and on
// the channel raster.
func (k *checker) checkPlace(i int, d bands.Direction) {
	p := &k.Carriers[i]
	b, centre, width := p.Info, p.CentreIn(d), p.Width(d)
	if centre == 0 || width == 0 {
		return
	}
	if !b.Span(d).Contains(centre) {
		if d == bands.Uplink {
			// The downlink has no partner here, such as the part of band 66 that is
			// for carrier aggregation alone.
			p.UplinkWidth, p.UplinkBlocks, p.UplinkCentre = 0, 0, 0
			return
		}
		k.report(Error, RuleInBand, i, &bands.ValueError{
			Param: p.Band.String() + " carrier centre", Got: centre.MHz() + " MHz", Allowed: b.Span(d).String() + " (" + d.String() + ")", Source: b.Source})
		return
	}
	n, exact, err := b.ChannelNumber(d, centre)
	if err != nil {
		k.report(Error, RuleChannelNumber, i, err)
		return
	}
	listed := exact && b.OnRaster(d, n, width)
	channel := bands.Around(centre, width)
	if !b.Span(d).Covers(channel) && !(listed && b.IsShared()) {
		half := width / 2
		k.report(Error, RuleInBand, i, &bands.ValueError{
			Param:   p.Band.String() + " " + d.String() + " channel",
			Got:     channel.String(),
			Allowed: "inside " + b.Span(d).String() + ": centre from " + (b.Span(d).Low + half).MHz() + " to " + (b.Span(d).High - half).MHz() + " MHz",
			Source:  b.Source,
		})
	}
	k.checkRaster(i, d, n, exact && listed)
	if d == bands.Downlink || b.Duplex == bands.SUL {
		k.checkParts(i, d, channel)
	}
}

// checkRaster reports a carrier off the channel raster. The uplink follows the
// downlink, so it is looked at only where it stands alone.
func (k *checker) checkRaster(i int, d bands.Direction, n int32, on bool) {
	p := &k.Carriers[i]
	b := p.Info
	if d == bands.Uplink && p.DownlinkWidth != 0 {
		return
	}
	if on {
		if b.ID.RAT == bands.NR && !b.OnOwnRaster(d, n, p.Spacing) {
			k.say(Note, RuleOnRaster, i, rasterSource(b), "Channel number "+strconv.Itoa(int(n))+" is on the raster for the narrower subcarrier spacing of "+p.Band.String()+
				", not on the one for channels that use "+p.Spacing.String()+" alone.")
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
		Got:     p.CentreIn(d).MHz() + " MHz",
		Allowed: "a place on the channel raster of the band",
		Nearest: strings.Join(near, " or "),
		Source:  rasterSource(b),
	}
	if len(b.ListedChannels()) > 0 {
		e.Allowed = "a channel number that the band lists for " + p.Width(d).String()
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
// everywhere or in some region.
func (k *checker) checkParts(i int, d bands.Direction, channel bands.Span) {
	p := &k.Carriers[i]
	parts := p.Info.Parts()
	for j := range parts {
		region := parts[j].Region
		if slices.ContainsFunc(parts[:j], func(q bands.Part) bool { return q.Region == region }) {
			continue // the first part of a region speaks for all
		}
		var allowed []string
		inside := false
		for _, q := range parts {
			if q.Region != region || d == bands.Downlink && !q.Downlink || d == bands.Uplink && !q.Uplink {
				continue
			}
			allowed = append(allowed, q.Span.String())
			inside = inside || q.Span.Covers(channel)
		}
		if inside || len(allowed) == 0 {
			continue
		}
		if region == "all" {
			k.report(Error, RuleRegionalLimit, i, &bands.ValueError{
				Param: p.Band.String() + " " + d.String() + " channel", Got: channel.String(), Allowed: strings.Join(allowed, ", "), Source: parts[j].Source})
			continue
		}
		k.say(Note, RuleRegionalLimit, i, parts[j].Source, "The channel "+channel.String()+" lies outside the part of "+p.Band.String()+" for "+region+": "+strings.Join(allowed, ", ")+".")
	}
}
