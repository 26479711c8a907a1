package ca

import (
	"strconv"

	"spectally/bands"
)

// placeBlock looks at the SS/PBCH block of a carrier: whether it lies inside a carrier
// whose centre is known, and else where the centre can lie.
func (k *checker) placeBlock(i int) {
	p := &k.Carriers[i]
	f, err := p.SSB.Frequency()
	switch {
	case err != nil: // the notation has refused it
		return
	case !p.Info.Has(bands.Downlink):
		k.report(Error, RuleBlock, i, &bands.ValueError{Param: "SS/PBCH block of " + p.Band.String(), Got: mhz(f), Allowed: "none: the band has no downlink", Source: p.Info.Source})
		return
	case p.DownlinkBlocks == 0 || p.IsPlaced() && p.DownlinkCentre == 0:
		return // something else is wrong
	}
	places, err := p.Info.CentresAround(f, p.DownlinkWidth, p.Spacing, bands.Span{})
	if err != nil {
		k.report(Error, RuleBlock, i, err)
		return
	}
	if _, on := p.Info.BlockRaster(f, p.DownlinkWidth); !on {
		k.say(Note, RuleBlock, i, syncSource(p.Info), mhz(f)+" is off the synchronisation raster of "+p.Band.String()+": only the SS/PBCH block of a secondary cell or of the NR part of EN-DC stands there.")
	}
	switch {
	case p.IsPlaced():
		if !places.Contains(p.DownlinkCentre) {
			k.report(Error, RuleBlock, i, &bands.ValueError{Param: "carrier centre of " + p.Band.String() + " around an SS/PBCH block at " + mhz(f), Got: mhz(p.DownlinkCentre),
				Allowed: places.String() + ", so that the block lies inside the carrier", Source: p.Info.Source})
		}
	case places.Low == places.High:
		k.placeAt(i, bands.Downlink, places.Low)
	default:
		p.Centres = places
		k.say(Note, RuleBlock, i, p.Info.Source, "The SS/PBCH block at "+mhz(f)+" leaves the carrier centre open: "+places.String()+".")
	}
}

func syncSource(b *bands.Band) bands.Source {
	if r := b.SyncRasters(); len(r) > 0 {
		return r[0].Source
	}
	return b.Source
}

// hintBlock points out that a number or frequency given as the carrier centre can be
// that of the SS/PBCH block, which is what phones tend to show: always where it cannot
// be the centre, else only if it is on the synchronisation raster.
func (k *checker) hintBlock(i int, f bands.Frequency, possible bool) {
	p := &k.Carriers[i]
	if p.Band.RAT != bands.NR || p.SSB != 0 || p.DownlinkBlocks == 0 {
		return
	}
	g, on := p.Info.BlockRaster(f, p.DownlinkWidth)
	n, exact, err := bands.ARFCNNear(f)
	if err != nil || !exact || possible && !on {
		return
	}
	if _, err := p.Info.CentresAround(f, p.DownlinkWidth, p.Spacing, bands.Span{}); err != nil {
		return
	}
	where, source := "off the synchronisation raster, so not of a PCell", syncSource(p.Info)
	if on {
		where, source = "GSCN "+strconv.Itoa(int(g)), g.Source()
	}
	text := mhz(f) + " cannot be the centre of this carrier but can be its SS/PBCH block (" + where + "): write "
	if possible {
		text = mhz(f) + " is also " + where + ": if a phone shows it, it may be the SS/PBCH block, not the carrier centre; then write "
	}
	k.say(Note, RuleBlock, i, source, text+"ssb="+strconv.Itoa(int(n))+" in place of @.")
}
