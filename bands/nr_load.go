package bands

import (
	"fmt"
	"strconv"
	"strings"
	"sync"

	"spectally/data"
)

var (
	nrBandTables   = data.Lazy("nr_bands")
	nrWidthTables  = data.Lazy("nr_widths")
	nrBlockTables  = data.Lazy("nr_blocks")
	nrRasterTables = data.Lazy("nr_arfcn")
)

// nrGroups are the groups of NR bands: each has a band table, a width table and a
// raster table of its own in the specifications.
var nrGroups = [...]string{"fr1", "fr2", "fr1-ntn", "fr2-ntn"}

// loadNR reads the NR bands. Like all loaders of this package it panics on a
// fault of the embedded tables, which no input can cause.
func loadNR() *registry {
	data.Together(nrBandTables, nrWidthTables, nrBlockTables, nrRasterTables)
	var all []*Band
	byID := make(map[ID]*Band)
	for _, group := range nrGroups {
		t := data.Find(nrBandTables(), group)
		for _, row := range t.Rows {
			b := &Band{
				ID:       must(ParseID(row[0])),
				Range:    must(ParseRange(row[1])),
				Uplink:   must(parseSpan(row[2])),
				Downlink: must(parseSpan(row[3])),
				Duplex:   must(ParseDuplex(row[4])),
				Note:     row[5],
				Source:   t.Source,
			}
			byID[b.ID] = b
			all = append(all, b)
		}
	}
	addParts(nrBandTables(), []string{"limits", "limits-fr1-ntn", "limits-fr2-ntn"}, func(s string) *Band { return byID[must(ParseID(s))] })
	details := make(map[string]*nrDetails, len(all))
	for _, b := range all {
		d := &nrDetails{band: b}
		details[b.ID.String()] = d
		b.complete = sync.OnceFunc(d.read)
	}
	for _, group := range nrGroups {
		t := data.Find(nrWidthTables(), group)
		for _, row := range t.Rows {
			d := details[row[0]]
			d.widths, d.widthSource = append(d.widths, row), t.Source
		}
		t = data.Find(nrRasterTables(), group)
		for _, row := range t.Rows {
			d := details[row[0]]
			d.rasters, d.rasterSource = append(d.rasters, row), t.Source
		}
	}
	for _, group := range []string{"fr1-notes", "fr2-notes"} {
		for _, row := range data.Find(nrWidthTables(), group).Rows {
			d := details[row[0]]
			d.notes = append(d.notes, row)
		}
	}
	return newRegistry(all)
}

// nrDetails are the rows of a band that are read when it is first asked for: most
// questions are about a few bands, and the start of the program waits for this.
type nrDetails struct {
	band                      *Band
	widths, rasters, notes    []data.Row
	widthSource, rasterSource Source
}

func (d *nrDetails) read() {
	b, blocks := d.band, nrBlocks()
	b.widthSource = d.widthSource
	for _, row := range d.widths {
		b.addWidths(kilohertz(row[1]), row[2], blocks)
	}
	for _, row := range d.rasters {
		b.addRasters(row, d.rasterSource)
	}
	for _, row := range d.notes {
		scs := kilohertz(row[1])
		for w := range strings.SplitSeq(row[2], ",") {
			b.widthAt(scs, must(ParseMHz(w))).Note = row[3]
		}
	}
}

// must unwraps a value read from an embedded table.
func must[T any](v T, err error) T {
	if err != nil {
		panic(fmt.Sprintf("bands: embedded table: %v", err))
	}
	return v
}

func number(field string) int {
	return must(strconv.Atoi(field))
}

func kilohertz(field string) Frequency {
	f, ok := parseDecimal(field, KHz, 3)
	if !ok {
		panic(fmt.Sprintf("bands: embedded table: %q kHz", field))
	}
	return f
}

// signedMHz reads a number of megahertz that may be negative.
func signedMHz(field string) Frequency {
	if rest, ok := strings.CutPrefix(field, "-"); ok {
		return -must(ParseMHz(rest))
	}
	return must(ParseMHz(field))
}
