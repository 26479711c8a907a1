package channel

import (
	"fmt"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/spectrum"
)

// placeRules are the rules for a carrier that ask where it lies and how wide it
// is. Those that ask for other carriers beside it say nothing about a channel.
var placeRules = map[ca.Rule]bool{
	ca.RuleOptionalWidth:  true,
	ca.RuleChannelNumber:  true,
	ca.RuleInBand:         true,
	ca.RuleOnRaster:       true,
	ca.RuleBlock:          true,
	ca.RuleRegionalLimit:  true,
	ca.RuleSharedSpectrum: true,
}

// findings checks the place. With a width the carrier is checked as any carrier of
// a combination is.
func (c *channel) findings() render.Findings {
	if c.block != 0 {
		return c.blockFindings()
	}
	if c.width != 0 {
		return c.carrierFindings()
	}
	if c.onRaster {
		return nil
	}
	f := render.Finding{
		Severity: render.Error,
		Rule:     string(ca.RuleOnRaster),
		Carrier:  c.String(),
		Message:  c.centre[c.asked].MHz() + " MHz lies off the channel raster.",
		Source:   spectrum.RasterSource(c.band),
	}
	if c.onEnhanced() {
		f.Severity = render.Note
		f.Message = "The place is on the enhanced 10 kHz raster of the band, which not every UE knows."
		f.Source = render.Source(c.band.EnhancedRasters()[0].Source)
	}
	return render.Findings{f}
}

// onEnhanced tells whether the place is on the enhanced raster alone.
func (c *channel) onEnhanced() bool {
	n, ok := c.number[c.asked]
	return ok && c.block == 0 && !c.onRaster && c.band.OnEnhancedRaster(c.asked, n)
}

func (c *channel) carrierFindings() render.Findings {
	carrier := ca.Carrier{Band: c.band.ID, Downlink: c.width, Uplink: c.width, SCS: c.scs}
	if c.asked == bands.Downlink && !c.band.HasWidth(bands.Uplink, c.width) {
		carrier.Uplink = 0 // the width is for the downlink alone
	}
	if n, ok := c.number[c.asked]; ok {
		carrier.Channel, carrier.HasChannel = n, true
	} else {
		carrier.Centre = c.centre[c.asked]
		if f, ok := c.centre[bands.Downlink]; ok {
			carrier.Centre = f
		}
	}
	var list render.Findings
	for _, f := range ca.CheckRules(ca.Combination{carrier}) {
		if placeRules[f.Rule] {
			list = append(list, render.Finding{
				Severity: render.Severity(f.Severity.String()),
				Rule:     string(f.Rule),
				Carrier:  c.String(),
				Message:  f.Message,
				Source:   render.Source(f.Source),
			})
		}
	}
	return list
}

func (c *channel) blockFindings() render.Findings {
	if c.onRaster {
		return nil
	}
	near := make([]string, len(c.entries))
	for i, e := range c.entries {
		near[i] = strconv.Itoa(int(e.number))
	}
	return render.Findings{{
		Severity: render.Error,
		Rule:     "on-sync-raster",
		Carrier:  c.String(),
		Message:  fmt.Sprintf("GSCN %d is no entry of the synchronisation raster of %s; closest is %s.", c.block, c.band.ID, strings.Join(near, " or ")),
		Source:   render.Source(c.band.SyncRasters()[0].Source),
	}}
}

// String names the place: "n78@640000", "B3@1842.55 MHz", "n78 GSCN 7811".
func (c *channel) String() string {
	if c.block != 0 {
		return fmt.Sprintf("%s GSCN %d", c.band.ID, c.block)
	}
	if n, ok := c.number[c.asked]; ok {
		return fmt.Sprintf("%s@%d", c.band.ID, n)
	}
	return fmt.Sprintf("%s@%s MHz", c.band.ID, c.centre[c.asked].MHz())
}
