package bands

import (
	"slices"
	"strings"

	"spectally/data"
)

// ListedChannel is a channel number of a band whose carriers stand only at
// listed places: n46, n96, n102, n263, and n106 with 3 MHz; LTE band 46.
type ListedChannel struct {
	Width               Frequency
	Number              int32
	Downlink, Uplink    bool
	RestrictedToFree    bool // only in regions free of other technologies in the long term
	DownlinkOnlyTraffic bool // for downlink-only operation
	Source              Source
}

var (
	nrListTables = data.Lazy("nr_arfcn_lists")
	nrListed     = lazy(loadNRLists)
	lteListed    = lazy(loadLTELists)
)

func loadNRLists() map[ID][]ListedChannel {
	m := make(map[ID][]ListedChannel)
	for _, t := range nrListTables() {
		for _, row := range t.Rows {
			id := must(ParseID(row[0]))
			c := ListedChannel{
				Width:               must(ParseMHz(row[2])),
				Downlink:            row[1] != "ul",
				Uplink:              row[1] != "dl",
				RestrictedToFree:    row[3] == "free",
				DownlinkOnlyTraffic: row[3] == "dl-only",
				Source:              t.Source,
			}
			for field := range strings.FieldsSeq(row[4]) {
				first, step, last := cutRun(field)
				for n := first; n <= last; n += step {
					c.Number = int32(n)
					m[id] = append(m[id], c)
				}
			}
		}
	}
	return m
}

// loadLTELists reads the carrier centres of band 46: besides each printed number
// its two neighbours on either side are allowed.
func loadLTELists() map[ID][]ListedChannel {
	t := data.Find(lteTables(), "band46")
	var list []ListedChannel
	for _, row := range t.Rows {
		for field := range strings.FieldsSeq(row[1]) {
			for d := -2; d <= 2; d++ {
				list = append(list, ListedChannel{
					Width:            must(ParseMHz(row[0])),
					Number:           int32(number(field) + d),
					Downlink:         true,
					Uplink:           true,
					RestrictedToFree: row[0] == "10",
					Source:           t.Source,
				})
			}
		}
	}
	return map[ID][]ListedChannel{{LTE, 46}: list}
}

// ListedChannels lists the channel numbers of a band that has a list; empty for
// all other bands.
func (b *Band) ListedChannels() []ListedChannel {
	return slices.Clone(b.listed())
}

func (b *Band) listed() []ListedChannel {
	if b.ID.RAT == LTE {
		return lteListed()[b.ID]
	}
	return nrListed()[b.ID]
}

// hasList tells whether channels of the width stand only at listed numbers.
func (b *Band) hasList(width Frequency) bool {
	switch b.ID {
	case ID{NR, 46}, ID{NR, 96}, ID{NR, 102}, ID{NR, 263}, ID{LTE, 46}:
		return true
	case ID{NR, 106}:
		return width == 3*MHz
	}
	return false
}
