package ca

import (
	"slices"
	"strconv"

	"spectally/bands"
)

// checkOverlap looks for carriers whose resource blocks share spectrum.
func (k *checker) checkOverlap() {
	for i := range k.Carriers {
		a := &k.Carriers[i]
		for j := i + 1; j < len(k.Carriers); j++ {
			switch b := &k.Carriers[j]; {
			case a.overlaps(b, bands.Downlink):
				k.sayOverlap(i, j, bands.Downlink)
			case a.Transmits && b.Transmits && a.overlaps(b, bands.Uplink):
				k.sayOverlap(i, j, bands.Uplink)
			}
		}
	}
}

// overlaps tells whether the resource blocks of two carriers share spectrum.
func (p *Placed) overlaps(q *Placed, d bands.Direction) bool {
	if x, y := p.Centres, q.Centres; d == bands.Downlink && !(x.IsZero() && y.IsZero()) {
		return p.overlapsAnywhere(q)
	}
	apart := p.CentreIn(d) - q.CentreIn(d)
	if 2*max(apart, -apart) >= p.Width(d)+q.Width(d) {
		return false // not even the channels do
	}
	return p.blockSpan(d).Overlaps(q.blockSpan(d))
}

// overlapsAnywhere tells whether the downlink resource blocks of two carriers, of one of
// which only the range is known, share spectrum wherever they lie.
func (p *Placed) overlapsAnywhere(q *Placed) bool {
	x, y := p.reach(), q.reach()
	if x.IsZero() || y.IsZero() {
		return false
	}
	at := func(c, e bands.Frequency) bool {
		a, b := *p, *q
		a.DownlinkCentre, b.DownlinkCentre = c, e
		return a.blockSpan(bands.Downlink).Overlaps(b.blockSpan(bands.Downlink))
	}
	return at(x.Low, y.High) && at(x.High, y.Low)
}

func (k *checker) sayOverlap(i, j int, d bands.Direction) {
	a, b := &k.Carriers[i], &k.Carriers[j]
	text := "Carriers " + strconv.Itoa(i+1) + " (" + where(a, d) + ") and " + strconv.Itoa(j+1) + " (" + where(b, d) + ") use the same " + d.String() + " spectrum"
	if a.Band.RAT != b.Band.RAT {
		k.say(Warning, RuleOverlap, j, bands.Source{}, text+"; LTE and NR share it only with spectrum sharing in time, so their widths do not add up.")
		return
	}
	k.say(Error, RuleOverlap, j, bands.Source{}, text+".")
}

// where writes the channel, or the spectrum that it lies in.
func where(p *Placed, d bands.Direction) string {
	if all, _ := p.Possible(); d == bands.Downlink && !p.Centres.IsZero() {
		return "in " + all.String()
	}
	return p.Span(d).String()
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
		k.checkSeparation(g)
		if len(g.Unplaced) > 0 && g.Count() > 1 && k.isOpen(g) {
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
	// Aggregated neighbours may overlap by some of their guard bands, which is far
	// less than a width.
	n := g.Count()
	if room := g.Band.Span(d).Width(); n > 1 && sum > room+max(room/50, bands.Frequency(n-1)*300*bands.KHz) {
		k.report(Error, RuleExceedsBand, last, &bands.ValueError{
			Param: "sum of the widths in " + g.Band.ID.String(), Got: mhz(sum), Allowed: "at most the " + mhz(room) + " of the band", Source: g.Band.Source})
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
		if err != nil || s.Tolerance != 0 {
			continue
		}
		if grid := s.GridAt(max(a.Spacing, b.Spacing)); (s.Nominal-got)%grid != 0 {
			k.report(Warning, RuleCarrierSpacing, list[n], &bands.ValueError{
				Param: "spacing of contiguous carriers", Got: mhz(got), Allowed: mhz(s.Nominal) + " or less by a multiple of " + grid.String(), Source: s.Source})
		}
	}
	if j == 0 {
		return
	}
	below := g.Blocks[j-1].Carriers
	a, b := &k.Carriers[below[len(below)-1]], &k.Carriers[list[0]]
	s, err := NominalSpacing(g.Band, a.Width(d), b.Width(d))
	got := b.CentreIn(d) - a.CentreIn(d)
	meet := (a.Width(d) + b.Width(d)) / 2 // the channel edges do
	if err == nil && got-max(s.Nominal, meet) < bands.MHz {
		k.say(Note, RuleCarrierSpacing, list[0], s.Source, "The carriers are "+mhz(got)+" apart, "+(got-s.Nominal).String()+
			" more than the nominal "+mhz(s.Nominal)+" of contiguous carriers, so they count as non-contiguous.")
	}
}

// checkClass looks for a bandwidth class that contiguous carriers form.
func (k *checker) checkClass(g *Group, list []int) {
	if len(list) < 2 {
		return
	}
	d := lead(g.Band)
	var room [usual]bands.Frequency
	widths := room[:0]
	var sum bands.Frequency
	for _, i := range list {
		widths = append(widths, k.Carriers[i].Width(d))
		sum += widths[len(widths)-1]
	}
	rows := classesOf(g.Band)
	if slices.ContainsFunc(rows, func(c ClassRow) bool { return c.admits(g.Band, widths) }) {
		return
	}
	k.report(Error, RuleBandwidthClass, list[len(list)-1], &bands.ValueError{
		Param:   strconv.Itoa(len(list)) + " contiguous carriers in " + g.Band.ID.String(),
		Got:     mhz(sum),
		Allowed: classLimits(g.Band, len(list)),
		Source:  rows[0].Source,
	})
}
