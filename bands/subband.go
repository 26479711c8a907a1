package bands

import (
	"slices"

	"spectally/data"
)

// SubBand is a named part of a band.
type SubBand struct {
	Name   string // "46a"
	Span   Span
	Source Source
}

var subBands46 = lazy(func() []SubBand {
	t := data.Find(lteTables(), "subbands46")
	list := make([]SubBand, len(t.Rows))
	for i, row := range t.Rows {
		list[i] = SubBand{Name: row[0], Span: must(parseSpan(row[1])), Source: t.Source}
	}
	return list
})

// SubBands lists the parts into which the standard divides a band, in rising
// order: those of LTE band 46 (TS 36.104 Table 5.5-1A); empty for all others.
func (b *Band) SubBands() []SubBand {
	if b.ID != (ID{LTE, 46}) {
		return nil
	}
	return slices.Clone(subBands46())
}
