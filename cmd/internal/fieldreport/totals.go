package fieldreport

import (
	"cmp"
	"maps"
	"slices"
	"strconv"
	"strings"

	"spectally/cmd/internal/fieldlog"
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
		{"downlink", exact(t.Downlink), "downlink channel bandwidths added: what is mostly meant by aggregated bandwidth"},
		{"uplink", exact(t.Uplink), "uplink channel bandwidths added, where the device transmits"},
		{"occupied", exact(t.Occupied), "spectrum in use: both directions of a paired carrier, a TDD carrier once"},
		{"downlink equivalent", weighted(t.DownlinkEquivalent), "downlink, each carrier weighted by its downlink share of time"},
	}}
}

func weighted(mhz float64) string { return rounded(&mhz, mhzPlaces) }

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
		parts map[string]fieldlog.Total
		least int
	}{{"technology", t.ByRAT, 2}, {"band", t.ByBand, 2}, {"range", t.ByRange, 2}, {"duplex", t.ByDuplex, 2}, {"cell group (PCI)", t.BySite, 1}} {
		if len(p.parts) < p.least {
			continue
		}
		for _, key := range slices.SortedFunc(maps.Keys(p.parts), byNumber) {
			part := p.parts[key]
			table.Rows = append(table.Rows, []string{key, p.by, exact(part.Downlink), exact(part.Uplink), exact(part.Occupied), weighted(part.DownlinkEquivalent)})
		}
	}
	return table
}

// byNumber orders names by their words and then by the number they end in: B3 before
// B20.
func byNumber(a, b string) int {
	wordA, wordB := strings.TrimRight(a, "0123456789"), strings.TrimRight(b, "0123456789")
	numberA, _ := strconv.Atoi(a[len(wordA):]) // no number counts as 0
	numberB, _ := strconv.Atoi(b[len(wordB):])
	return cmp.Or(cmp.Compare(wordA, wordB), cmp.Compare(numberA, numberB))
}
