package bands

import (
	"strings"

	"spectally/data"
)

var lteTables = data.Lazy("lte_bands")

// loadLTE reads the LTE bands.
func loadLTE() *registry {
	var all []*Band
	byNumber := make(map[string]*Band)
	for _, id := range []string{"bands", "broadcast"} {
		t := data.Find(lteTables(), id)
		for _, row := range t.Rows {
			b := &Band{
				ID:       ID{LTE, uint16(number(row[0]))},
				Uplink:   must(parseSpan(row[1])),
				Downlink: must(parseSpan(row[2])),
				Duplex:   must(ParseDuplex(row[3])),
				Note:     row[4],
				Source:   t.Source,
			}
			byNumber[row[0]] = b
			all = append(all, b)
		}
	}
	addParts(lteTables(), []string{"limits"}, func(s string) *Band { return byNumber[s] })
	for _, b := range all {
		b.widthSource = data.Find(lteTables(), "widths").Source
	}
	blocks := loadLTEBlocks()
	for _, id := range []string{"widths", "widths-ca-only"} {
		t := data.Find(lteTables(), id)
		for _, row := range t.Rows {
			b := byNumber[row[0]]
			b.widthSource = t.Source
			for w := range strings.FieldsSeq(row[1]) {
				cw := ChannelWidth{SCS: 15 * KHz, Width: must(ParseMHz(w))}
				cw.ResourceBlocks = blocks[cw.Width]
				if id == "widths-ca-only" {
					cw.Marks, cw.Note = DownlinkOnly|SCellOnly, t.Note
				}
				b.widths = append(b.widths, cw)
			}
		}
	}
	for _, row := range data.Find(lteTables(), "widths-notes").Rows {
		b := byNumber[row[0]]
		for w := range strings.SplitSeq(row[1], ",") {
			cw := b.widthAt(15*KHz, must(ParseMHz(w)))
			cw.Note = row[2]
			if strings.HasPrefix(cw.Note, "only in carrier aggregation") {
				cw.Marks |= SCellOnly
			}
			if cw.Width > b.Uplink.Width() { // band 70 with 20 MHz
				cw.Marks |= DownlinkOnly
			}
		}
	}
	pmch := data.Find(lteTables(), "n_rb-pmch")
	for _, row := range data.Find(lteTables(), "broadcast").Rows {
		b := byNumber[row[0]]
		b.widthSource = pmch.Source
		for _, r := range pmch.Rows {
			w := must(ParseMHz(r[0]))
			b.widths = append(b.widths, ChannelWidth{SCS: 15 * KHz, Width: w, Marks: DownlinkOnly, ResourceBlocks: blocks[w], Note: pmch.Note})
		}
	}
	for _, id := range []string{"earfcn", "earfcn-broadcast"} {
		t := data.Find(lteTables(), id)
		for _, row := range t.Rows {
			byNumber[row[0]].addEARFCN(row, t.Source)
		}
	}
	return newRegistry(all)
}

// loadLTEBlocks reads the resource blocks of each channel bandwidth, PMCH
// included.
func loadLTEBlocks() map[Frequency]int {
	blocks := make(map[Frequency]int)
	for _, id := range []string{"n_rb", "n_rb-pmch"} {
		for _, row := range data.Find(lteTables(), id).Rows {
			blocks[must(ParseMHz(row[0]))] = number(row[1])
		}
	}
	return blocks
}
