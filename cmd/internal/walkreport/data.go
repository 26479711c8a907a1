package walkreport

import (
	"strconv"

	"spectally/cmd/internal/render"
	"spectally/cmd/internal/walk"
)

// data is the table of CSV: a row for each network, band and cell.
func data(r *walk.Report) *render.Table {
	t := &render.Table{Columns: []render.Column{
		{Key: "network", Typed: true}, {Key: "band"}, {Key: "channel"}, {Key: "pci"}, {Key: "samples"},
	}}
	for _, q := range quantities(&walk.Measured{}) {
		for _, p := range [...]string{"n", "p5", "p25", "p50", "p75", "p95"} {
			t.Columns = append(t.Columns, render.Column{Key: q.key + "_" + p})
		}
	}
	for _, key := range [...]string{"fit_n", "slope_db_per_decade", "slope_low", "slope_high", "intercept_dbm", "reference_m", "sigma_db"} {
		t.Columns = append(t.Columns, render.Column{Key: key})
	}
	for i := range r.Networks {
		n := &r.Networks[i]
		t.Rows = append(t.Rows, dataRow(n.Name, "", nil, nil, &n.Measured, nil))
		for j := range n.Bands {
			b := &n.Bands[j]
			t.Rows = append(t.Rows, dataRow(n.Name, b.Band, nil, nil, &b.Measured, b.Fit))
			for k := range b.Cells {
				c := &b.Cells[k]
				t.Rows = append(t.Rows, dataRow(n.Name, b.Band, c.Channel, c.PCI, &c.Measured, c.Fit))
			}
		}
	}
	return t
}

func dataRow(network, band string, channel, pci *int32, m *walk.Measured, f *walk.Fit) []string {
	whole := func(n *int32) string {
		if n == nil {
			return ""
		}
		return strconv.Itoa(int(*n))
	}
	row := []string{network, band, whole(channel), whole(pci), strconv.FormatInt(m.Samples, 10)}
	exact := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
	for _, q := range quantities(m) {
		if q.p == nil {
			row = append(row, "", "", "", "", "", "")
			continue
		}
		row = append(row, strconv.FormatInt(q.p.N, 10), exact(q.p.P5), exact(q.p.P25), exact(q.p.P50), exact(q.p.P75), exact(q.p.P95))
	}
	if f == nil {
		return append(row, "", "", "", "", "", "", "")
	}
	return append(row, strconv.FormatInt(f.N, 10), exact(f.Slope), exact(f.SlopeLow), exact(f.SlopeHigh), exact(f.Intercept), exact(f.Reference), exact(f.Sigma))
}
