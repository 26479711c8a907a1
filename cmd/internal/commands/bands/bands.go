// Package bands is the command that looks up, lists and filters operating bands.
package bands

import (
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/spectrum"
)

// Command describes the command.
func Command() *command.Command {
	return &command.Command{
		Name:  "bands",
		Usage: "[BAND|NAME|FREQUENCY ...]",
		Short: "look up, list and filter operating bands",
		Long: "Looks up bands of LTE (B3, or 3) and NR (n78), by what the trade calls them (C-band), or by a frequency that they contain (3540 MHz). " +
			"Letter case, blanks and hyphens do not matter. Without arguments all bands are listed; flags narrow the list, and all that are given must hold.\n\n" +
			"One band is shown in full, several as a table. If no band matches, the exit status is 1.",
		Examples: "spectally bands n78   # one band in full\n" +
			"spectally bands 3540 MHz   # every band that contains a frequency\n" +
			"spectally bands C-band   # by a name of the trade\n" +
			"spectally bands --rat nr --duplex tdd --width 100   # NR bands with TDD and 100 MHz channels\n" +
			"spectally bands B3 n3 --format csv   # two bands, for a spreadsheet",
		Answers: []any{[]bandValue{}},
		New: func(set *pflag.FlagSet) command.Answer {
			f := newBandFilter()
			f.add(set)
			return func(env *command.Env, args []string) (*render.Answer, error) {
				if len(args) > 0 {
					readAhead(args[0])
				}
				found, err := findBands(args, f)
				if err != nil {
					return nil, err
				}
				return bandsAnswer(found), nil
			}
		},
		Offers: command.Bands,
	}
}

// readAhead reads the tables that the card of an NR band needs beside its row in
// the band table, while that is looked up: the start of the program is mostly
// reading tables.
func readAhead(arg string) {
	id, err := bands.ParseID(spectrum.BandText(arg))
	if err != nil || id.RAT != bands.NR {
		return
	}
	go func() {
		b := &bands.Band{ID: id}
		b.SyncRasters()
		b.Separations()
		b.WidthPairs()
		b.Names()
	}()
}

// foundBand is a band in an answer, with the directions in which a frequency that
// was asked for lies in it.
type foundBand struct {
	*bands.Band
	downlink, uplink bool
}

// foundIn names the directions in words; empty if no frequency was asked for.
func (f *foundBand) foundIn() string {
	switch {
	case f.downlink && f.uplink:
		return "both"
	case f.downlink:
		return "downlink"
	case f.uplink:
		return "uplink"
	}
	return ""
}

// findBands looks up the arguments and applies the filter. A band that is found
// twice is listed once.
func findBands(args []string, f *bandFilter) ([]foundBand, error) {
	queries, err := parseQueries(args)
	if err != nil {
		return nil, err
	}
	var found []foundBand
	if len(queries) == 0 {
		found = allBands()
	}
	for _, q := range queries {
		if q.Bands == nil {
			found = append(found, bandsAt(q.At)...)
		}
		for _, b := range q.Bands {
			found = append(found, foundBand{Band: b})
		}
	}
	found = withoutRepeats(found)
	return f.apply(found)
}

func allBands() []foundBand {
	all := bands.All(0)
	found := make([]foundBand, len(all))
	for i, b := range all {
		found[i].Band = b
	}
	return found
}

func bandsAt(f bands.Frequency) []foundBand {
	var found []foundBand
	for _, m := range bands.At(f) {
		found = append(found, foundBand{m.Band, m.Downlink, m.Uplink})
	}
	return found
}

func withoutRepeats(found []foundBand) []foundBand {
	seen := map[bands.ID]bool{}
	return slices.DeleteFunc(found, func(f foundBand) bool {
		again := seen[f.ID]
		seen[f.ID] = true
		return again
	})
}

func bandsAnswer(found []foundBand) *render.Answer {
	a := &render.Answer{
		Value:   func() any { return bandValues(found) },
		Data:    bandData(found),
		Refuted: len(found) == 0,
	}
	switch len(found) {
	case 0:
		a.Document = []render.Block{render.Paragraph("No band matches.")}
	case 1:
		a.Document = bandCard(&found[0])
	default:
		a.Document = bandList(found)
	}
	return a
}

// noteTexts lists the notes of the band table, one by one.
func noteTexts(b *bands.Band) []string {
	if b.Note == "" {
		return nil
	}
	return strings.Split(b.Note, "; ")
}

// usualSeparation is the default transmit-receive separation of a band.
func usualSeparation(b *bands.Band) (bands.Frequency, bool) {
	list := b.Separations()
	if len(list) == 0 || !list[0].HasDefault {
		return 0, false
	}
	return list[0].Default, true
}

// bandData is the table of bands for CSV.
func bandData(found []foundBand) *render.Table {
	t := &render.Table{}
	for _, key := range []string{"id", "rat", "number", "duplex", "range", "ul_low_mhz", "ul_high_mhz", "dl_low_mhz", "dl_high_mhz",
		"tx_rx_separation_mhz", "channel_bandwidths_mhz", "names", "found_in", "notes", "spec", "version", "table"} {
		t.Columns = append(t.Columns, render.Column{Key: key, Header: key})
	}
	for i := range found {
		b := &found[i]
		ulLow, ulHigh := figures.EdgesText(b.Uplink)
		dlLow, dlHigh := figures.EdgesText(b.Downlink)
		separation := ""
		if s, ok := usualSeparation(b.Band); ok {
			separation = s.MHz()
		}
		t.Rows = append(t.Rows, []string{
			b.ID.String(), b.ID.RAT.String(), strconv.Itoa(int(b.ID.Number)), b.Duplex.String(), b.Range.String(),
			ulLow, ulHigh, dlLow, dlHigh, separation, widthList(b.Band, " "),
			strings.Join(spectrum.NameTexts(b.Band), "; "), b.foundIn(), b.Note, b.Source.Spec, b.Source.Version, b.Source.Table,
		})
	}
	return t
}

// widthList writes the widths that a band has in either direction at any
// subcarrier spacing.
func widthList(b *bands.Band, between string) string {
	var widths []bands.Frequency
	for _, w := range b.Widths() {
		widths = append(widths, w.Width)
	}
	slices.Sort(widths)
	widths = slices.Compact(widths)
	words := make([]string, len(widths))
	for i, w := range widths {
		words[i] = w.MHz()
	}
	return strings.Join(words, between)
}
