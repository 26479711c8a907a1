package deploy

import (
	"slices"

	"spectally/bands"
)

// raster is where centres of channels of one width may stand in a direction of a band:
// runs of equally spaced frequencies, or a list.
type raster struct {
	runs []run
	list []bands.Frequency // in rising order
}

type run struct{ first, step, last bands.Frequency }

// from is the lowest place at f or above; false if there is none.
func (r *raster) from(f bands.Frequency) (bands.Frequency, bool) {
	best, found := bands.Frequency(0), false
	for _, x := range r.runs {
		at := x.first
		if f > x.first {
			at += (f - x.first + x.step - 1) / x.step * x.step
		}
		if at <= x.last && (!found || at < best) {
			best, found = at, true
		}
	}
	if i, _ := slices.BinarySearch(r.list, f); i < len(r.list) {
		return r.list[i], true
	}
	return best, found
}

// below is the highest place under f; false if there is none.
func (r *raster) below(f bands.Frequency) (bands.Frequency, bool) {
	best, found := bands.Frequency(0), false
	for _, x := range r.runs {
		if f <= x.first {
			continue
		}
		at := min(x.first+(f-1-x.first)/x.step*x.step, x.last)
		if !found || at > best {
			best, found = at, true
		}
	}
	if i, _ := slices.BinarySearch(r.list, f); i > 0 {
		return r.list[i-1], true
	}
	return best, found
}

func (r *raster) has(f bands.Frequency) bool {
	at, ok := r.from(f)
	return ok && at == f
}

// rasterOf is the raster of channels of a width at a subcarrier spacing. Of a 15 and a
// 30 kHz raster, or a 60 and a 120 kHz one, it is the widest not above the spacing
// (TS 38.101-1 and -2 clause 5.4.2.3).
func rasterOf(b *bands.Band, d bands.Direction, w bands.ChannelWidth) raster {
	if list := b.ListedChannels(); slices.ContainsFunc(list, func(c bands.ListedChannel) bool { return c.Width == w.Width }) {
		return listRaster(b, d, w.Width, list)
	}
	var r raster
	var own *run
	widest := bands.Frequency(0)
	for _, x := range b.Rasters() {
		if x.Direction != d || x.Step == 0 || x.Listed {
			continue
		}
		first, err := b.ChannelFrequency(x.First)
		second, err2 := b.ChannelFrequency(x.First + x.Step)
		last, err3 := b.ChannelFrequency(x.Last)
		if err != nil || err2 != nil || err3 != nil {
			continue
		}
		n := run{first, second - first, last}
		switch {
		case b.ID.RAT == bands.LTE || x.Spacing == 100*bands.KHz:
			r.runs = append(r.runs, n)
		case x.Spacing <= w.SCS && x.Spacing > widest:
			own, widest = &n, x.Spacing
		}
	}
	if own != nil {
		r.runs = append(r.runs, *own)
	}
	return r
}

func listRaster(b *bands.Band, d bands.Direction, width bands.Frequency, list []bands.ListedChannel) raster {
	var r raster
	for _, c := range list {
		if c.Width != width || d == bands.Downlink && !c.Downlink || d == bands.Uplink && !c.Uplink {
			continue
		}
		if f, err := b.ChannelFrequency(c.Number); err == nil {
			r.list = append(r.list, f)
		}
	}
	slices.Sort(r.list)
	r.list = slices.Compact(r.list)
	return r
}
