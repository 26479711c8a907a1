package bands

import (
	"fmt"
	"slices"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/spectrum"
	"spectally/cmd/internal/words"
)

// bandCard shows one band in full.
func bandCard(f *foundBand) []render.Block {
	b := f.Band
	radio := radioOf(b)
	card := []render.Block{
		render.Title{Text: b.ID.String(), Detail: words.List(b.ID.RAT.String(), duplexWords[b.Duplex], b.Range.String())},
		append(cardFacts(f), radio.facts()...),
		widthTable(b),
		render.Detail(
			radio.sensitivityTable(),
			radio.radiatedTable(),
			blockTable(b),
			pairTable(b),
			numberTable(b),
			listedTable(b),
			gscnTable(b),
			partTable(b),
			render.List{Kind: render.Notes, Items: append(noteTexts(b), radio.notes()...)},
		),
	}
	return append(card, cardSources(b, radio))
}

var duplexWords = map[bands.Duplex]string{
	bands.FDD: "FDD",
	bands.TDD: "TDD",
	bands.SDL: "SDL (supplementary downlink)",
	bands.SUL: "SUL (supplementary uplink)",
	bands.SDO: "SDO (standalone downlink broadcast)",
}

func cardFacts(f *foundBand) render.Facts {
	b := f.Band
	var facts render.Facts
	source := render.Source(b.Source)
	add := func(name string, s bands.Span) {
		if !s.IsZero() {
			facts = append(facts, render.Fact{Name: name, Value: spanText(s) + " MHz", Remark: s.Width().String() + " wide", Source: source})
		}
	}
	if b.Duplex == bands.TDD {
		add("uplink and downlink", b.Downlink)
	} else {
		add("downlink", b.Downlink)
		add("uplink", b.Uplink)
	}
	for _, s := range b.Separations() {
		facts = append(facts, separationFact(s))
	}
	if names := spectrum.NameTexts(b); len(names) > 0 {
		origin := b.Names()[0].Origin
		facts = append(facts, render.Fact{Name: "called", Value: strings.Join(names, ", ") + " (" + origin + ")"})
	}
	if where := f.foundIn(); where != "" {
		facts = append(facts, render.Fact{Name: "frequency asked for", Value: "lies in " + map[string]string{"both": "uplink and downlink", "downlink": "the downlink", "uplink": "the uplink"}[where]})
	}
	if shift := b.UplinkShift(); shift != "" {
		facts = append(facts, render.Fact{Name: "uplink shift", Value: "+7.5 kHz where the network says so", Remark: shift})
	}
	for _, s := range b.SubBands() {
		facts = append(facts, render.Fact{Name: "sub-band " + s.Name, Value: spanText(s.Span) + " MHz", Source: render.Source(s.Source)})
	}
	return facts
}

func separationFact(s bands.Separation) render.Fact {
	f := render.Fact{Name: "downlink − uplink", Source: render.Source(s.Source), Remark: s.Note}
	switch {
	case s.HasDefault && s.HasRange:
		f.Value = fmt.Sprintf("%s MHz, or %s to %s MHz", s.Default.MHz(), s.Min.MHz(), s.Max.MHz())
	case s.HasDefault:
		f.Value = s.Default.MHz() + " MHz"
	default:
		f.Value = fmt.Sprintf("%s to %s MHz", s.Min.MHz(), s.Max.MHz())
	}
	if s.Numerology >= 0 {
		f.Remark = words.List(f.Remark, fmt.Sprintf("numerology %d", s.Numerology))
	}
	return f
}

// partTable has the parts of the band that a region may use.
func partTable(b *bands.Band) *render.Table {
	t := &render.Table{Title: "Limits by region", Columns: []render.Column{
		{Header: "region"},
		{Header: "direction"},
		{Header: "only", Unit: "MHz"},
	}}
	for _, part := range b.Parts() {
		t.Source = render.Source(part.Source)
		direction := "both"
		switch {
		case !part.Uplink:
			direction = "downlink"
		case !part.Downlink:
			direction = "uplink"
		}
		region := part.Region
		if region == "all" {
			region = "everywhere"
		}
		t.Rows = append(t.Rows, []string{region, direction, spanText(part.Span)})
	}
	return t
}

// cardSources lists every table that the card is read from.
func cardSources(b *bands.Band, r *radio) render.Sources {
	sources := render.Sources{render.Source(b.Source), render.Source(b.WidthSource())}
	add := func(s bands.Source) {
		if !slices.Contains(sources, render.Source(s)) {
			sources = append(sources, render.Source(s))
		}
	}
	for _, r := range append(b.Rasters(), b.EnhancedRasters()...) {
		add(r.Source)
	}
	for _, c := range b.ListedChannels() {
		add(c.Source)
	}
	for _, s := range b.SyncRasters() {
		add(s.Source)
	}
	for _, s := range b.Separations() {
		add(s.Source)
	}
	for _, p := range b.WidthPairs() {
		add(p.Source)
	}
	for _, s := range r.sources() {
		add(s)
	}
	return sources
}
