package cli

import (
	"slices"

	"github.com/spf13/cobra"

	"spectally/bands"
)

// mostChannel is the greatest channel number: NR-ARFCN reach further than EARFCN
// (TS 38.101-2 Table 5.4.2.1-1).
const mostChannel = 3279165

// bandFilter are the flags that narrow a list of bands. Every one that is set
// must hold.
type bandFilter struct {
	rat, duplex, ranges choice
	name                string
	width               widthFlag
	at                  frequencyFlag
	channel             wholeFlag
}

func newBandFilter() *bandFilter {
	return &bandFilter{
		rat:     choice{param: "radio access technology", names: []string{"LTE", "NR"}, index: -1},
		duplex:  choice{param: "duplex mode", names: []string{"FDD", "TDD", "SDL", "SUL", "SDO"}, index: -1},
		ranges:  choice{param: "frequency range", names: []string{"FR1", "FR2", "FR2-1", "FR2-2", "FR1-NTN", "FR2-NTN"}, index: -1},
		channel: wholeFlag{param: "channel number", most: mostChannel, value: -1},
	}
}

func (f *bandFilter) add(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.Var(&f.rat, "rat", "bands of one radio access technology")
	flags.Var(&f.duplex, "duplex", "bands of one duplex mode: SDL and SUL are supplementary, SDO is downlink broadcast")
	flags.Var(&f.ranges, "range", "NR bands of one frequency range; FR2 stands for FR2-1 and FR2-2, NTN for satellite")
	flags.StringVar(&f.name, "name", "", "bands that the trade calls by a `NAME`, such as AWS")
	flags.Var(&f.width, "width", "bands with a channel bandwidth")
	flags.Var(&f.at, "at", "bands that contain a frequency, in either direction")
	flags.Var(&f.channel, "channel", "bands that have a channel number (NR-ARFCN or EARFCN), in either direction")
	complete(cmd, "rat", f.rat.names)
	complete(cmd, "duplex", f.duplex.names)
	complete(cmd, "range", f.ranges.names)
}

func (f *bandFilter) apply(found []foundBand) ([]foundBand, error) {
	named, err := f.named()
	if err != nil {
		return nil, at("--name", err)
	}
	kept := found[:0]
	for _, b := range found {
		if f.at.set {
			downlink, uplink := b.Downlink.Contains(f.at.value), b.Uplink.Contains(f.at.value)
			if !downlink && !uplink {
				continue
			}
			b.downlink, b.uplink = downlink, uplink
		}
		if f.channel.given() {
			downlink, uplink := b.Directions(int32(f.channel.value))
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
	if f.rat.given() && f.rat.String() != b.ID.RAT.String() {
		return false
	}
	if f.duplex.given() && f.duplex.String() != b.Duplex.String() {
		return false
	}
	if f.ranges.given() && f.ranges.String() != b.Range.String() &&
		(f.ranges.String() != "FR2" || !b.Range.IsFR2() || b.Range.IsNTN()) {
		return false
	}
	return !f.width.set || b.HasWidth(bands.Downlink, f.width.value) || b.HasWidth(bands.Uplink, f.width.value)
}
