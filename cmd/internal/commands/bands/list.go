package bands

import (
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/spectrum"
)

// bandList shows several bands as a table.
func bandList(found []foundBand) []render.Block {
	t := &render.Table{Columns: []render.Column{
		{Header: "band"},
		{Header: "duplex"},
		{Header: "range"},
		{Header: "uplink", Unit: "MHz"},
		{Header: "downlink", Unit: "MHz"},
		{Header: "found in"},
		{Header: "channel bandwidths", Unit: "MHz"},
		{Header: "called"},
		{Header: "source", Detail: true},
	}}
	var sources render.Sources
	for i := range found {
		b := &found[i]
		source := render.Source(b.Source)
		t.Rows = append(t.Rows, []string{
			b.ID.String(), b.Duplex.String(), b.Range.String(), spanText(b.Uplink), spanText(b.Downlink), b.foundIn(),
			widthList(b.Band, " "), strings.Join(spectrum.NameTexts(b.Band), ", "), source.String(),
		})
		sources = append(sources, source, render.Source(b.WidthSource()))
	}
	t.DropEmpty()
	return []render.Block{
		render.Title{Text: strconv.Itoa(len(found)) + " bands"},
		t,
		sources,
	}
}

// spanText writes a span without its unit; empty for none.
func spanText(s bands.Span) string {
	if s.IsZero() {
		return ""
	}
	return s.Low.MHz() + "–" + s.High.MHz()
}
