package throughput

import (
	"strconv"

	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
)

// dataOfPeak is the table for CSV: a row for each carrier and direction, and one for
// the sum of each direction, whose carrier is "all".
func dataOfPeak(v *peakValue) *render.Table {
	t := &render.Table{}
	for _, key := range []string{"carrier", "band", "direction", "width_mhz", "scs_khz", "n_rb", "layers", "qam", "frame", "share",
		"max_rate_mbps", "scheduled_mbps", "expected_mbps", "max_bps_hz", "scheduled_bps_hz", "expected_bps_hz", "ip_mbps", "tcp_mbps", "counted", "sinr_db", "cqi", "mcs"} {
		t.Columns = append(t.Columns, render.Column{Key: key, Header: key})
	}
	rates := func(r *rateValue) []string {
		return []string{string(r.Max), string(r.Scheduled), figures.Optional(r.Expected), figures.Optional(r.MaxEfficiency), figures.Optional(r.ScheduledEfficiency), figures.Optional(r.ExpectedEfficiency), figures.Optional(r.IP), figures.Optional(r.TCP)}
	}
	for i := range v.Carriers {
		c := &v.Carriers[i]
		for _, link := range []struct {
			direction string
			value     *linkValue
			share     figures.Figure
		}{{"dl", c.Downlink, c.DLShare}, {"ul", c.Uplink, c.ULShare}} {
			l := link.value
			if l == nil {
				continue
			}
			row := append([]string{strconv.Itoa(c.Number), c.Band, link.direction, string(l.Width), string(l.SCS), strconv.Itoa(l.Blocks), strconv.Itoa(l.Layers), strconv.Itoa(l.QAM), c.Frame, string(link.share)},
				rates(&l.rateValue)...)
			row = append(row, strconv.FormatBool(l.Counted))
			if q := c.Quality; q != nil && link.direction == "dl" {
				row = append(row, string(q.SINR), figures.Optional(q.CQI), figures.Optional(q.MCS))
			} else {
				row = append(row, "", "", "")
			}
			t.Rows = append(t.Rows, row)
		}
	}
	for _, sum := range []struct {
		direction string
		width     figures.Figure
		value     *sumValue
	}{{"dl", v.Totals.Downlink, &v.Downlink}, {"ul", v.Totals.Uplink, &v.Uplink}} {
		row := append([]string{"all", "", sum.direction, string(sum.width), "", "", "", "", "", ""}, rates(&sum.value.rateValue)...)
		t.Rows = append(t.Rows, append(row, "", "", "", ""))
	}
	return t
}
