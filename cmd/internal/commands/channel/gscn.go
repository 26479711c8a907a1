package channel

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/spectrum"
)

// syncEntry is an entry of the synchronisation raster of a band.
type syncEntry struct {
	number bands.GSCN
	at     bands.Frequency
	raster *bands.SyncRaster
}

// isGSCN tells whether a number is no channel number of the band but a GSCN.
// Those end at 41638, where NR-ARFCN of the lowest band begin far above.
func isGSCN(b *bands.Band, n int32) bool {
	if b.ID.RAT != bands.NR {
		return false
	}
	if down, up := b.Directions(n); down || up {
		return false
	}
	_, err := bands.GSCN(n).Frequency()
	return err == nil
}

// placeBlock finds the SS/PBCH block at a GSCN. Without --gscn it only says how to
// ask for it.
func (c *channel) placeBlock(g bands.GSCN, place string, f *channelFlags) (*channel, error) {
	centre, err := g.Frequency()
	if err != nil {
		return nil, command.At(place, err)
	}
	inside := c.band.Downlink.Contains(centre)
	if !f.gscn {
		_, err := c.band.ChannelFrequency(int32(g))
		near := spectrum.InMegahertz(c.band, int32(g))
		if inside && near == "" {
			near = fmt.Sprintf("GSCN %d, which --gscn takes", g)
		}
		return nil, command.At(place, command.WithNearest(err, near))
	}
	rasters := c.band.SyncRasters()
	if !inside || len(rasters) == 0 {
		return nil, command.At(place, &bands.ValueError{Param: "GSCN of " + c.band.ID.String(), Got: strconv.Itoa(int(g)), Allowed: gscnRanges(rasters), Source: g.Source()})
	}
	if f.width.IsSet {
		return nil, command.At("--width", errors.New("a GSCN places a block and no carrier: give the channel number or frequency of the carrier"))
	}
	c.asked, c.block = bands.Downlink, g
	c.centre[bands.Downlink] = centre
	if n, exact, err := bands.ARFCNNear(centre); err == nil && exact {
		c.number[bands.Downlink] = int32(n)
	}
	for i := range rasters {
		if rasters[i].Has(g) {
			c.onRaster = true
			c.entries = append(c.entries, syncEntry{g, centre, &rasters[i]})
		}
	}
	if !c.onRaster {
		c.nearEntries(centre)
	}
	return c, nil
}

// gscnRanges writes the GSCN of a band: "7711 to 8051 (30 kHz)".
func gscnRanges(rasters []bands.SyncRaster) string {
	if len(rasters) == 0 {
		return "none: the band has no synchronisation raster"
	}
	var parts []string
	for i := range rasters {
		list := rasters[i].Entries()
		if len(list) > 0 {
			parts = append(parts, fmt.Sprintf("%d to %d (%s)", list[0], list[len(list)-1], rasters[i].SCS))
		}
	}
	return strings.Join(parts, ", ")
}

// findEntries lists the entries whose block has room in the carrier, or those next
// to its centre where its width is not known.
func (c *channel) findEntries() {
	centre, ok := c.centre[bands.Downlink]
	if !ok {
		return
	}
	if c.width == 0 {
		c.nearEntries(centre)
		return
	}
	for _, run := range syncRuns(c.band) {
		for _, e := range run {
			if e.raster.Narrow == (c.width == 3*bands.MHz) && c.blockRoom(centre, e.raster.SCS).Covers(bands.SSBSpan(e.at, e.raster.SCS)) {
				c.entries = append(c.entries, e)
			}
		}
	}
}

// blockRoom is the carrier less the minimum guard bands for the subcarrier spacing
// of the block (TS 38.101-1 clause 5.3.3), or all of it where the band has no
// channel of its width at that spacing.
func (c *channel) blockRoom(centre, scs bands.Frequency) bands.Span {
	room := bands.Around(centre, c.width)
	if w, ok := c.band.Width(scs, c.width); ok {
		room.Low += w.GuardBand
		room.High -= w.GuardBand
	}
	return room
}

// nearEntries lists the nearest entry below and above a frequency, or at it, of
// each run of the synchronisation raster.
func (c *channel) nearEntries(f bands.Frequency) {
	for _, run := range syncRuns(c.band) {
		i, exact := slices.BinarySearchFunc(run, f, func(e syncEntry, f bands.Frequency) int { return cmp.Compare(e.at, f) })
		first, last := i-1, i // below and above
		if exact {
			first = i
		}
		c.entries = append(c.entries, run[max(first, 0):min(last+1, len(run))]...)
	}
}

// syncRuns lists the entries of the synchronisation raster of a band, run by run
// in rising order of frequency.
func syncRuns(b *bands.Band) [][]syncEntry {
	rasters := b.SyncRasters()
	runs := make([][]syncEntry, len(rasters))
	for i := range rasters {
		for _, g := range rasters[i].Entries() {
			if f, err := g.Frequency(); err == nil {
				runs[i] = append(runs[i], syncEntry{g, f, &rasters[i]})
			}
		}
		slices.SortFunc(runs[i], func(a, b syncEntry) int { return cmp.Compare(a.at, b.at) })
	}
	return runs
}
