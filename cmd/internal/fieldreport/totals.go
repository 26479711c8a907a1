package fieldreport

import (
	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
)

// totalTable has the four meanings of a total.
func totalTable(n *fieldlog.NetworkReport) *render.Table {
	t := &n.Totals.Total
	return &render.Table{Title: "Total bandwidth, by meaning", Columns: []render.Column{
		{Header: "total"},
		{Header: "bandwidth", Unit: "MHz", Align: render.Number},
		{Header: "meaning"},
	}, Rows: [][]string{
		{"downlink", string(t.Downlink), "sum of the downlink channel bandwidths, the usual “aggregated bandwidth”"},
		{"uplink", string(t.Uplink), "sum of the uplinks the device transmits on"},
		{"occupied", string(t.Occupied), "spectrum on the air: FDD counts both directions, TDD once"},
		{"downlink equivalent", weighted(t.Equivalent), "downlink weighted by its share of time"},
	}}
}

func weighted(mhz figures.Figure) string { return roundedFigure(mhz, mhzPlaces) }

// partTable divides the totals wherever there is more than one part.
func partTable(n *fieldlog.NetworkReport) *render.Table {
	table := &render.Table{Title: "Totals by part", Detail: true, Columns: []render.Column{
		{Header: "part"},
		{Header: "by"},
		{Header: "downlink", Unit: "MHz", Align: render.Number},
		{Header: "uplink", Unit: "MHz", Align: render.Number},
		{Header: "occupied", Unit: "MHz", Align: render.Number},
		{Header: "downlink equivalent", Unit: "MHz", Align: render.Number},
	}}
	t := &n.Totals
	for _, p := range [...]struct {
		by    string
		parts combination.Parts
		least int
	}{{"technology", t.ByRAT, 2}, {"band", t.ByBand, 2}, {"range", t.ByRange, 2}, {"duplex", t.ByDuplex, 2}, {"cell group (PCI)", t.BySite, 1}} {
		if len(p.parts) < p.least {
			continue
		}
		for i := range p.parts {
			part := combination.TotalOf(&p.parts[i].Total)
			table.Rows = append(table.Rows, []string{p.parts[i].Key, p.by, string(part.Downlink), string(part.Uplink), string(part.Occupied), weighted(part.Equivalent)})
		}
	}
	return table
}
