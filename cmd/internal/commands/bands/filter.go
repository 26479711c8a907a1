package bands

import (
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/flags"
	"spectally/cmd/internal/spectrum"
)

// mostChannel is the greatest channel number: NR-ARFCN reach further than EARFCN
// (TS 38.101-2 Table 5.4.2.1-1).
const mostChannel = 3279165

// bandFilter are the flags that narrow a list of bands. Every one that is set
// must hold.
type bandFilter struct {
	rat, duplex, ranges flags.Choice
	name                string
	width               flags.Width
	at                  flags.Frequency
	channel             flags.Whole
}

func newBandFilter() *bandFilter {
	return &bandFilter{
		rat:     flags.Choice{Param: "radio access technology", Names: []string{"LTE", "NR"}, Index: -1},
		duplex:  flags.Choice{Param: "duplex mode", Names: []string{"FDD", "TDD", "SDL", "SUL", "SDO"}, Index: -1},
		ranges:  flags.Choice{Param: "frequency range", Names: []string{"FR1", "FR2", "FR2-1", "FR2-2", "FR1-NTN", "FR2-NTN"}, Index: -1},
		channel: flags.Whole{Param: "channel number", Most: mostChannel, Value: -1},
	}
}

func (f *bandFilter) add(set *pflag.FlagSet) {
	set.Var(&f.rat, "rat", "bands of one radio access technology")
	set.Var(&f.duplex, "duplex", "bands of one duplex mode: SDL and SUL are supplementary, SDO is downlink broadcast")
	set.Var(&f.ranges, "range", "NR bands of one frequency range; FR2 stands for FR2-1 and FR2-2, NTN for satellite")
	set.StringVar(&f.name, "name", "", "bands that the trade calls by a `NAME`, such as AWS")
	set.Var(&f.width, "width", "bands with a channel bandwidth")
	set.Var(&f.at, "at", "bands that contain a frequency, in either direction")
	set.Var(&f.channel, "channel", "bands that have a channel number (NR-ARFCN or EARFCN), in either direction")
}

func (f *bandFilter) apply(found []foundBand) ([]foundBand, error) {
	named, err := f.named()
	if err != nil {
		return nil, command.At("--name", err)
	}
	kept := found[:0]
	for _, b := range found {
		if f.at.IsSet {
			downlink, uplink := b.Downlink.Contains(f.at.Value), b.Uplink.Contains(f.at.Value)
			if !downlink && !uplink {
				continue
			}
			b.downlink, b.uplink = downlink, uplink
		}
		if f.channel.Given() {
			downlink, uplink := b.Directions(int32(f.channel.Value))
			if !downlink && !uplink {
				continue
			}
			b.downlink, b.uplink = downlink, uplink
		}
		if f.keeps(b.Band) && (f.name == "" || slices.Contains(named, b.Band)) {
			kept = append(kept, b)
		}
	}
	return kept, nil
}

func (f *bandFilter) named() ([]*bands.Band, error) {
	if f.name == "" {
		return nil, nil
	}
	return bands.ByName(f.name)
}

func (f *bandFilter) keeps(b *bands.Band) bool {
	if f.rat.Given() && f.rat.String() != b.ID.RAT.String() {
		return false
	}
	if f.duplex.Given() && f.duplex.String() != b.Duplex.String() {
		return false
	}
	if f.ranges.Given() && f.ranges.String() != b.Range.String() &&
		(f.ranges.String() != "FR2" || !b.Range.IsFR2() || b.Range.IsNTN()) {
		return false
	}
	return !f.width.IsSet || b.HasWidth(bands.Downlink, f.width.Value) || b.HasWidth(bands.Uplink, f.width.Value)
}

// parseQueries reads arguments as queries. Words that belong together need no
// quotes: the longest run of arguments that means something is one query.
func parseQueries(args []string) ([]spectrum.Query, error) {
	var list []spectrum.Query
next:
	for i := 0; i < len(args); {
		for n := min(spectrum.LongestQuery, len(args)-i); n > 0; n-- {
			if q, err := spectrum.ParseQuery(strings.Join(args[i:i+n], " ")); err == nil {
				list = append(list, q)
				i += n
				continue next
			}
		}
		if i > 0 && spectrum.NearestUnit(args[i]) != "" {
			i-- // the number before it was not a band
		}
		text := args[i]
		if i+1 < len(args) && spectrum.NearestUnit(args[i+1]) != "" {
			text += " " + args[i+1]
		}
		_, err := spectrum.ParseQuery(text)
		return nil, command.At(command.Argument(i), err)
	}
	return list, nil
}
