package ca

import (
	"strconv"

	"spectally/bands"
)

// checkOverlap looks for carriers whose resource blocks share spectrum.
func (k *checker) checkOverlap() {
	for i := range k.Carriers {
		a := &k.Carriers[i]
		if a.Info == nil {
			continue
		}
		for j := i + 1; j < len(k.Carriers); j++ {
			b := &k.Carriers[j]
			if b.Info == nil {
				continue
			}
			if s, t := a.blockSpan(bands.Downlink), b.blockSpan(bands.Downlink); s.Overlaps(t) {
				k.sayOverlap(i, j, bands.Downlink)
			} else if s, t := a.blockSpan(bands.Uplink), b.blockSpan(bands.Uplink); a.Transmits && b.Transmits && s.Overlaps(t) {
				k.sayOverlap(i, j, bands.Uplink)
			}
		}
	}
}

func (k *checker) sayOverlap(i, j int, d bands.Direction) {
	a, b := &k.Carriers[i], &k.Carriers[j]
	text := "Carriers " + strconv.Itoa(i+1) + " (" + a.Span(d).String() + ") and " + strconv.Itoa(j+1) + " (" + b.Span(d).String() + ") use the same " + d.String() + " spectrum"
	if a.Band.RAT != b.Band.RAT {
		k.say(Warning, RuleOverlap, j, bands.Source{}, text+"; LTE and NR share it only with spectrum sharing in time, so their widths do not add up.")
		return
	}
	k.say(Error, RuleOverlap, j, bands.Source{}, text+".")
}

// checkGroups looks at the carriers of each band together.
func (k *checker) checkGroups() {
	for i := range k.Groups {
		g := &k.Groups[i]
		k.checkRoom(g)
		for j := range g.Blocks {
			k.checkSpacing(g, j)
			k.checkClass(g, g.Blocks[j].Carriers)
		}
		if n := len(g.Unplaced); n > 0 && g.Count() > 1 {
			k.say(Note, RuleContiguity, -1, bands.Source{}, "Without channel numbers the "+strconv.Itoa(g.Count())+" carriers in "+g.Band.ID.String()+
				" may be contiguous or not: every configuration that they can form is named.")
		}
	}
}

// checkRoom compares the carriers of a band with its spectrum.
func (k *checker) checkRoom(g *Group) {
	d := lead(g.Band)
	var sum bands.Frequency
	last := -1
	add := func(list []int) {
		for _, i := range list {
			sum += k.Carriers[i].Width(d)
			last = max(last, i)
		}
	}
	for _, b := range g.Blocks {
		add(b.Carriers)
	}
	add(g.Unplaced)
	// Aggregated neighbours may overlap by their guard bands, which is far less
	// than a width.
	if room := g.Band.Span(d).Width(); g.Count() > 1 && sum > room+room/50 {
		k.report(Error, RuleExceedsBand, last, &bands.ValueError{
			Param: "sum of the widths in " + g.Band.ID.String(), Got: sum.String(), Allowed: "at most the " + room.String() + " of the band", Source: g.Band.Source})
	}
}

// checkSpacing looks at the spacing inside block j and to the block below it.
func (k *checker) checkSpacing(g *Group, j int) {
	d := lead(g.Band)
	list := g.Blocks[j].Carriers
	for n := 1; n < len(list); n++ {
		a, b := &k.Carriers[list[n-1]], &k.Carriers[list[n]]
		s, err := NominalSpacing(g.Band, a.Width(d), b.Width(d))
		got := b.CentreIn(d) - a.CentreIn(d)
		if err != nil || s.Tolerance != 0 || got == s.Nominal || (s.Nominal-got)%s.Grid == 0 {
			continue
		}
		k.report(Warning, RuleCarrierSpacing, list[n], &bands.ValueError{
			Param: "spacing of contiguous carriers", Got: got.String(), Allowed: s.Nominal.String() + " or less by a multiple of " + s.Grid.String(), Source: s.Source})
	}
	if j == 0 {
		return
	}
	below := g.Blocks[j-1].Carriers
	a, b := &k.Carriers[below[len(below)-1]], &k.Carriers[list[0]]
	s, err := NominalSpacing(g.Band, a.Width(d), b.Width(d))
	got := b.CentreIn(d) - a.CentreIn(d)
	if err == nil && got-s.Nominal < bands.MHz {
		k.say(Note, RuleCarrierSpacing, list[0], s.Source, "The carriers are "+got.String()+" apart, "+(got-s.Nominal).String()+
			" more than the nominal "+s.Nominal.String()+" of contiguous carriers, so they count as non-contiguous.")
	}
}

// checkClass looks for a bandwidth class that contiguous carriers form.
func (k *checker) checkClass(g *Group, list []int) {
	if len(list) < 2 {
		return
	}
	d := lead(g.Band)
	widths := make([]bands.Frequency, len(list))
	var sum bands.Frequency
	for n, i := range list {
		widths[n] = k.Carriers[i].Width(d)
		sum += widths[n]
	}
	if len(Classes(g.Band, widths)) > 0 {
		return
	}
	e := &bands.ValueError{
		Param:   strconv.Itoa(len(list)) + " contiguous carriers in " + g.Band.ID.String(),
		Got:     sum.String(),
		Allowed: classLimits(g.Band, len(list)),
	}
	if rows := ClassRows(g.Band); len(rows) > 0 {
		e.Source = rows[0].Source
	}
	k.report(Error, RuleBandwidthClass, list[len(list)-1], e)
}
