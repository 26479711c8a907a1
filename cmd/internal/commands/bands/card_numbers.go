package bands

import (
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/spectrum"
	"spectally/cmd/internal/words"
)

// numberTable has the runs of channel numbers.
func numberTable(b *bands.Band) *render.Table {
	t := &render.Table{
		Title:  "Channel numbers, " + spectrum.ChannelName(b.ID.RAT),
		Source: spectrum.RasterSource(b),
		Columns: []render.Column{
			{Header: "direction"},
			{Header: "raster", Unit: "kHz", Align: render.Number},
			{Header: "first", Align: render.Number},
			{Header: "step", Align: render.Number},
			{Header: "last", Align: render.Number},
			{Header: "note"},
		},
	}
	both := b.Duplex == bands.TDD
	for _, r := range append(b.Rasters(), b.EnhancedRasters()...) {
		if both && r.Direction == bands.Uplink {
			continue
		}
		direction := r.Direction.String()
		if both {
			direction = "both"
		}
		note := r.Note
		if r.Enhanced {
			note = "enhanced raster, for a UE that has it"
			if r.Mandatory {
				note = "enhanced raster, which every UE has"
			}
		}
		row := []string{direction, r.Spacing.KHz(), "", "", "", note}
		if r.Step != 0 {
			row[2], row[3], row[4] = strconv.Itoa(int(r.First)), strconv.Itoa(int(r.Step)), strconv.Itoa(int(r.Last))
		}
		t.Rows = append(t.Rows, row)
	}
	t.DropEmpty()
	return t
}

// listedTable has the channel numbers of a band that allows only some.
func listedTable(b *bands.Band) *render.Table {
	t := &render.Table{Title: "Listed channel numbers", Columns: []render.Column{
		{Header: "width", Unit: "MHz", Align: render.Number},
		{Header: "numbers"},
		{Header: "note"},
	}}
	for _, c := range b.ListedChannels() {
		t.Source = render.Source(c.Source)
		row := []string{c.Width.MHz(), strconv.Itoa(int(c.Number)), listedNote(&c)}
		if n := len(t.Rows); n > 0 && t.Rows[n-1][0] == row[0] && t.Rows[n-1][2] == row[2] {
			t.Rows[n-1][1] += " " + row[1]
			continue
		}
		t.Rows = append(t.Rows, row)
	}
	t.DropEmpty()
	return t
}

func listedNote(c *bands.ListedChannel) string {
	var direction, free, operation string
	switch {
	case !c.Uplink:
		direction = "downlink"
	case !c.Downlink:
		direction = "uplink"
	}
	if c.RestrictedToFree {
		free = "only where other technologies stay away for good"
	}
	if c.DownlinkOnlyTraffic {
		operation = "only for downlink operation"
	}
	return words.List(direction, free, operation)
}

// gscnTable has the synchronisation raster.
func gscnTable(b *bands.Band) *render.Table {
	t := &render.Table{Title: "Synchronisation raster, GSCN", Columns: []render.Column{
		{Header: "SCS", Unit: "kHz", Align: render.Number},
		{Header: "case"},
		{Header: "first", Align: render.Number},
		{Header: "step", Align: render.Number},
		{Header: "last", Align: render.Number},
		{Header: "note"},
	}}
	for _, s := range b.SyncRasters() {
		t.Source = render.Source(s.Source)
		note := s.Note
		if s.Narrow {
			note = words.List("3 MHz channels", note)
		}
		row := []string{s.SCS.KHz(), s.Pattern, "", "", "", note}
		if s.List == nil {
			row[2], row[3], row[4] = strconv.Itoa(int(s.First)), strconv.Itoa(int(s.Step)), strconv.Itoa(int(s.Last))
		} else {
			row[5] += ": " + gscnRuns(s.List)
		}
		t.Rows = append(t.Rows, row)
	}
	t.DropEmpty()
	return t
}

// gscnRuns writes a rising list with neighbours joined: "5032, 5043–5045".
func gscnRuns(list []bands.GSCN) string {
	var words []string
	for i := 0; i < len(list); {
		j := i
		for j+1 < len(list) && list[j+1] == list[j]+1 {
			j++
		}
		word := strconv.Itoa(int(list[i]))
		if j > i {
			word += "–" + strconv.Itoa(int(list[j]))
		}
		words = append(words, word)
		i = j + 1
	}
	return strings.Join(words, ", ")
}
