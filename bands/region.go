package bands

import (
	"slices"

	"spectally/data"
)

// Part is a part of a band that the notes of the band table single out: all that a
// region, or everybody, may use.
type Part struct {
	Region           string // "all" where the limit holds everywhere
	Downlink, Uplink bool
	Span             Span
	Source           Source
}

// addParts reads the parts of bands from tables of their notes; find finds a band as
// it stands there.
func addParts(tables []*data.Table, ids []string, find func(string) *Band) {
	for _, id := range ids {
		t := data.Find(tables, id)
		for _, row := range t.Rows {
			b := find(row[0])
			b.parts = append(b.parts, Part{
				Region:   row[3],
				Downlink: row[1] != "ul",
				Uplink:   row[1] != "dl",
				Span:     must(parseSpan(row[2])),
				Source:   t.Source,
			})
		}
	}
}

// Parts lists the parts of a band that its notes single out by region; empty for
// most bands. A region that is not listed is not limited by the table.
func (b *Band) Parts() []Part { return slices.Clone(b.parts) }
