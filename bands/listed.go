package bands

import (
	"fmt"
	"slices"
	"strings"

	"spectally/data"
)

// ListedChannel is a channel number of a band whose carriers stand only at
// listed places: n46, n96, n102, n263, and n106 with 3 MHz; LTE band 46, and LTE
// band 106 with 3 MHz.
type ListedChannel struct {
	Width               Frequency
	Number              int32
	Downlink, Uplink    bool
	RestrictedToFree    bool // only in regions free of other technologies in the long term
	DownlinkOnlyTraffic bool // for downlink-only operation
	// Note says what is special about the entry, such as that it was expanded
	// from a formula or that its channel passes the band edge; usually empty.
	Note   string
	Source Source
}

var (
	nrListTables = data.Lazy("nr_arfcn_lists")
	nrListed     = lazy(loadNRLists)
	lteListed    = lazy(loadLTELists)
)

// listNotes are the notes on the marks of the lists.
var listNotes = map[string]string{
	"":        "",
	"free":    "only in regions free of other technologies in the long term",
	"dl-only": "downlink-only operation",
	"only":    "the only number for 3 MHz",
	"formula": "expanded from the formula ",
	"extra":   "beside the formula",
}

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
				c.Note = listNotes[row[3]]
				if row[3] == "formula" {
					c.Note += fmt.Sprintf("%d + %d N, N = 0..%d", first, step, (last-first)/step)
				}
				for n := first; n <= last; n += step {
					c.Number = int32(n)
					m[id] = append(m[id], c)
				}
			}
		}
	}
	for id, list := range m {
		b := must(Lookup(id))
		for i := range list {
			list[i].noteOverhang(b, must(ARFCN(list[i].Number).Frequency()))
		}
	}
	return m
}

// loadLTELists reads the carrier centres of band 46, where besides each printed
// number its two neighbours on either side are allowed, and those of band 106.
func loadLTELists() map[ID][]ListedChannel {
	m := make(map[ID][]ListedChannel)
	b46 := must(Lookup(ID{LTE, 46}))
	t := data.Find(lteTables(), "band46")
	for _, row := range t.Rows {
		c := ListedChannel{Width: must(ParseMHz(row[0])), Downlink: true, Uplink: true, Source: t.Source}
		if row[0] == "10" {
			c.RestrictedToFree, c.Note = true, listNotes["free"]
		}
		for field := range strings.FieldsSeq(row[1]) {
			for d := -2; d <= 2; d++ {
				entry := c
				entry.Number = int32(number(field) + d)
				f, _ := b46.earfcnFrequency(entry.Number)
				entry.noteOverhang(b46, f)
				m[b46.ID] = append(m[b46.ID], entry)
			}
		}
	}
	t = data.Find(lteTables(), "listed")
	for _, row := range t.Rows {
		id := must(ParseID(row[0]))
		m[id] = append(m[id], ListedChannel{
			Width:    must(ParseMHz(row[2])),
			Number:   int32(number(row[3])),
			Downlink: row[1] != "ul",
			Uplink:   row[1] != "dl",
			Note:     listNotes["only"],
			Source:   t.Source,
		})
	}
	return m
}

// noteOverhang notes that the channel passes the edge of its band: the lists of
// the standard have such channels, and an edge test must not reject them.
func (c *ListedChannel) noteOverhang(b *Band, centre Frequency) {
	d := Downlink
	if !c.Downlink {
		d = Uplink
	}
	span, channel := b.Span(d), Around(centre, c.Width)
	if over := max(span.Low-channel.Low, channel.High-span.High); over > 0 {
		if c.Note != "" {
			c.Note += "; "
		}
		c.Note += "the channel passes the band edge by " + over.String()
	}
}

// listedAt is a place in a list.
type listedAt struct {
	band   ID
	number int32
	width  Frequency // 0 stands for any
}

var (
	ltePlaces = lazy(func() map[listedAt]directions { return listPlaces(lteListed()) })
	nrPlaces  = lazy(func() map[listedAt]directions { return listPlaces(nrListed()) })
)

func listPlaces(lists map[ID][]ListedChannel) map[listedAt]directions {
	m := make(map[listedAt]directions)
	for id, list := range lists {
		for i := range list {
			c := &list[i]
			for _, at := range []listedAt{{id, c.Number, c.Width}, {id, c.Number, 0}} {
				m[at] = m[at].or(directions{c.Downlink, c.Uplink})
			}
		}
	}
	return m
}

// isListed tells whether the list of the band has the number for the width; a zero
// width stands for any.
func (b *Band) isListed(d Direction, n int32, width Frequency) bool {
	places := nrPlaces
	if b.ID.RAT == LTE {
		places = ltePlaces
	}
	return places()[listedAt{b.ID, n, width}].has(d)
}

// ListedChannels lists the channel numbers of a band that has a list; empty for
// all other bands.
func (b *Band) ListedChannels() []ListedChannel {
	return slices.Clone(b.listed())
}

func (b *Band) listed() []ListedChannel {
	if !b.hasList(3 * MHz) {
		return nil // without reading the lists
	}
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
	case ID{NR, 106}, ID{LTE, 106}:
		return width == 3*MHz
	}
	return false
}
