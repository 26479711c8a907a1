package ca

import (
	"slices"

	"spectally/bands"
)

// placeWidths settles the subcarrier spacing and looks the widths up.
func (k *checker) placeWidths(i int) {
	p := &k.Carriers[i]
	lead, width := bands.Downlink, p.DownlinkWidth
	if width == 0 {
		lead, width = bands.Uplink, p.UplinkWidth
	}
	if width == 0 {
		return
	}
	p.Spacing = p.SCS
	if p.Spacing == 0 {
		p.Spacing = p.Info.DefaultSpacing(width)
	}
	w, ok := p.Info.Width(p.Spacing, width)
	if !ok || !w.Allows(lead) {
		k.reportWidth(i, lead, width)
	}
	p.marks = w.Marks
	if lead == bands.Downlink {
		p.DownlinkBlocks = w.ResourceBlocks
	}
	if p.UplinkWidth != 0 {
		if p.UplinkWidth != width {
			w, ok = p.Info.Width(p.Spacing, p.UplinkWidth)
		}
		p.UplinkBlocks, p.ulMarks, p.hasULRow = w.ResourceBlocks, w.Marks, ok
	}
	if p.marks&bands.Optional != 0 {
		k.say(Note, RuleOptionalWidth, i, p.Info.WidthSource(), "The width "+mhz(width)+" is optional for UEs in "+p.Band.String()+": not every phone has it.")
	}
}

// allowsUplink tells whether the band has the uplink width at the subcarrier
// spacing, and in the uplink.
func (p *Placed) allowsUplink() bool { return p.hasULRow && p.ulMarks&bands.DownlinkOnly == 0 }

// reportWidth says why the band does not have a width: at no subcarrier spacing,
// or only at others.
func (k *checker) reportWidth(i int, d bands.Direction, width bands.Frequency) {
	p := &k.Carriers[i]
	if p.Info.HasWidth(d, width) {
		k.report(Error, RuleSpacingAllowed, i, p.Info.CheckWidth(d, width, p.Spacing))
		return
	}
	k.report(Error, RuleWidthAllowed, i, p.Info.CheckWidth(d, width, 0))
}

// checkUplinkWidth looks at the uplink of a carrier once it is known whether the
// UE transmits on it. An uplink that is not used is dropped where the band does
// not allow it.
func (k *checker) checkUplinkWidth(i int) {
	p := &k.Carriers[i]
	if p.DownlinkWidth == 0 || p.Spacing == 0 {
		return // placeWidths has looked at it
	}
	if p.allowsUplink() {
		if p.Transmits && p.ulMarks&bands.UplinkOptional != 0 {
			k.say(Note, RuleOptionalWidth, i, p.Info.WidthSource(), "The width "+mhz(p.UplinkWidth)+" is optional for UEs in the uplink of "+p.Band.String()+".")
		}
		return
	}
	same := p.UplinkWidth == p.DownlinkWidth
	switch {
	case same && !p.hasULRow: // reported for the downlink
	case same && p.Transmits:
		k.report(Error, RuleWidthAllowed, i, k.downlinkOnlyError(p))
	case same:
		k.say(Note, RuleWidthAllowed, i, p.Info.WidthSource(), "The width "+mhz(p.DownlinkWidth)+" of "+p.Band.String()+
			" is for the downlink alone: without an uplink width of its own the carrier counts as downlink only.")
		p.UplinkWidth, p.UplinkBlocks, p.UplinkCentre = 0, 0, 0
	case p.Transmits || !p.Info.HasWidth(bands.Uplink, p.UplinkWidth):
		k.reportWidth(i, bands.Uplink, p.UplinkWidth)
	}
}

// downlinkOnlyError explains that a width is for the downlink alone and names the
// widest uplink that goes with it.
func (k *checker) downlinkOnlyError(p *Placed) error {
	e := &bands.ValueError{
		Param:   p.Band.String() + " uplink width",
		Got:     mhz(p.UplinkWidth),
		Allowed: bands.ListMHz(p.Info.WidthsIn(bands.Uplink, p.Spacing)),
		Source:  p.Info.WidthSource(),
	}
	var widest bands.Frequency
	for _, pair := range p.Info.WidthPairs() {
		if pair.Downlink == p.DownlinkWidth {
			widest = max(widest, pair.Uplink)
		}
	}
	if widest != 0 {
		e.Nearest = p.Band.String() + ":" + p.DownlinkWidth.MHz() + "/" + widest.MHz()
	}
	return e
}

// checkPairs looks at carriers whose two directions differ in width.
func (k *checker) checkPairs() {
	for i := range k.Carriers {
		p := &k.Carriers[i]
		if p.Info == nil || p.Transmit == No || p.UplinkWidth == 0 || p.DownlinkWidth == 0 || p.UplinkWidth == p.DownlinkWidth {
			continue
		}
		if p.Band.RAT == bands.LTE {
			if p.Band.Number != 66 && p.Band.Number != 70 { // which have pairs of their own (TS 36.101, from memory)
				k.say(Warning, RuleWidthPair, i, bands.Source{Spec: "TS 36.101", Version: "19.6.0", Table: "clause 5.6"},
					"LTE has equal widths in both directions in "+p.Band.String()+", not "+p.DownlinkWidth.MHz()+"/"+mhz(p.UplinkWidth)+".")
			}
			continue
		}
		if _, ok := p.Info.AllowsPair(p.DownlinkWidth, p.UplinkWidth); ok {
			continue
		}
		if p.allowsUplink() && p.Info.HasWidth(bands.Downlink, p.DownlinkWidth) {
			k.report(Error, RuleWidthPair, i, pairError(p))
		}
	}
}

// pairError says which uplink widths go with the downlink width of a carrier.
func pairError(p *Placed) error {
	e := &bands.ValueError{
		Param:  p.Band.String() + " uplink width beside a downlink of " + mhz(p.DownlinkWidth),
		Got:    mhz(p.UplinkWidth),
		Source: p.Info.WidthSource(),
	}
	var list []bands.Frequency
	if p.Info.HasWidth(bands.Uplink, p.DownlinkWidth) {
		list = append(list, p.DownlinkWidth)
	}
	for _, pair := range p.Info.WidthPairs() {
		if e.Source = pair.Source; pair.Downlink == p.DownlinkWidth {
			list = append(list, pair.Uplink)
		}
	}
	slices.Sort(list)
	e.Allowed = bands.ListMHz(slices.Compact(list))
	return e
}
