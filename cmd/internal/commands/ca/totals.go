package ca

import (
	"slices"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/render"
)

// The four meanings of a total in words.
const (
	meaningDownlink   = "sum of the channel bandwidths: the usual “aggregated”"
	meaningUplink     = "uplinks the UE transmits on"
	meaningOccupied   = "FDD counts both directions, TDD once"
	meaningEquivalent = "downlink weighted by its share of time"
)

// totalFacts are the totals; how much of its time a carrier that is refused would give is
// of no use.
func (c *found) totalFacts() render.Facts {
	if len(c.Carriers) == 0 {
		return nil
	}
	t := &c.Totals
	f := render.Facts{
		{Name: "downlink", Value: t.Downlink.MHz(), Unit: "MHz", Remark: meaningDownlink},
		{Name: "uplink", Value: t.Uplink.MHz(), Unit: "MHz", Remark: meaningUplink},
		{Name: "on the air", Value: t.Occupied.MHz(), Unit: "MHz", Remark: meaningOccupied},
	}
	if c.Valid() {
		f = append(f, render.Fact{Name: "equivalent", Value: rounded(t.DownlinkEquivalent), Unit: "MHz", Remark: meaningEquivalent})
	}
	return f
}

// rounded writes a frequency to 10 kHz for people: shares of time have long tails.
func rounded(f bands.Frequency) string {
	const step = 10 * bands.KHz
	return ((f + step/2) / step * step).MHz()
}

// partTable divides the totals wherever there is more than one part.
func (c *found) partTable() *render.Table {
	t := &render.Table{Title: "Totals by part", Columns: []render.Column{
		{Header: "by"},
		{Header: "part"},
		{Header: "downlink", Unit: "MHz", Align: render.Number},
		{Header: "uplink", Unit: "MHz", Align: render.Number},
		{Header: "on the air", Unit: "MHz", Align: render.Number},
		{Header: "equivalent", Unit: "MHz", Align: render.Number},
	}}
	var shown [][]ca.Part
	add := func(by string, parts []ca.Part, least int) {
		if len(parts) < least || slices.ContainsFunc(shown, func(other []ca.Part) bool { return sameTotals(parts, other) }) {
			return // one part is the whole, and the same figures need not stand twice
		}
		shown = append(shown, parts)
		for i, p := range parts {
			if i > 0 {
				by = ""
			}
			t.Rows = append(t.Rows, []string{by, p.Key, p.Downlink.MHz(), p.Uplink.MHz(), p.Occupied.MHz(), rounded(p.DownlinkEquivalent)})
		}
	}
	add("technology", c.Totals.ByRAT, 2)
	add("band", c.Totals.ByBand, 2)
	add("range", c.Totals.ByRange, 2)
	add("duplex", c.Totals.ByDuplex, 2)
	add("site (PCI)", c.Totals.BySite, 1)
	return t
}

// sameTotals tells whether two divisions have the same figures in any order.
func sameTotals(a, b []ca.Part) bool {
	return len(a) == len(b) && !slices.ContainsFunc(a, func(p ca.Part) bool {
		return !slices.ContainsFunc(b, func(q ca.Part) bool { return p.Total == q.Total })
	})
}
