package sitereport

import (
	"spectally/bands"
	"spectally/cmd/internal/render"
	"spectally/throughput/site"
)

// data is the table for CSV: a row for each carrier, each sector and the site, with the
// figures of JSON under its names, those of a direction with it in front. Columns that
// do not apply to a row are empty.
func (s *study) data() *render.Table {
	keys := []string{"level", "sector", "count", "environment", "carrier", "ports"}
	for _, d := range directions {
		for _, key := range [...]string{"width_mhz", "effective_mhz", "max_rate_mbps", "schedulable_mbps", "scheduled_mbps", "cell_max_rate_mbps", "cell_schedulable_mbps", "cell_scheduled_mbps", "full_load_mbps", "busy_hour_mbps", "edge_mbps",
			"bps_hz", "basis", "source", "edge_bps_hz", "limited_by", "backhaul_need_mbps", "day_gb", "month_gb"} {
			keys = append(keys, shortNames[d]+"_"+key)
		}
	}
	keys = append(keys, "users_active", "users_served")
	t := &render.Table{}
	for _, key := range keys {
		t.Columns = append(t.Columns, render.Column{Key: key, Header: key, Typed: key == "sector" || key == "dl_source" || key == "ul_source"})
	}
	for i := range s.capacity.Sectors {
		c := &s.capacity.Sectors[i]
		head := []string{"carrier", s.SectorName(i), itoa(c.Count), c.Environment.String()}
		for k := range c.Carriers {
			one := &c.Carriers[k]
			row := append(head[:4:4], one.Carrier.String(), portsText(s.radioOf(i, one)))
			for _, d := range directions {
				l := one.Link(d)
				row = append(row, capacityCells(&l.Capacity)...)
				if l.IsZero() {
					row = append(row, "", "", "", "", "", "", "", "")
					continue
				}
				row = append(row, string(decimals(l.Average.Value, 1, 6)), l.Average.Basis.String(), efficiencySource(&l.Average), string(decimals(l.AtEdge.Value, 1, 6)), l.Bound.String(), "", "", "")
			}
			t.Rows = append(t.Rows, append(row, "", ""))
		}
		row := []string{"sector", s.SectorName(i), itoa(c.Count), c.Environment.String(), "", ""}
		for _, d := range directions {
			row = append(row, capacityCells(c.In(d))...)
			row = append(row, "", "", "", "", "", string(mbps(c.Backhaul.In(d).Need)), "", "")
		}
		t.Rows = append(t.Rows, append(row, userCells(&c.Users)...))
	}
	c := s.capacity
	row := []string{"site", "", itoa(c.SectorCount()), "", "", ""}
	for _, d := range directions {
		row = append(row, capacityCells(c.In(d))...)
		row = append(row, "", "", "", "", "", string(mbps(c.Backhaul.In(d).Need)), string(gigabytes(*c.Volume.Day.In(d))), string(gigabytes(*c.Volume.Month.In(d))))
	}
	t.Rows = append(t.Rows, append(row, userCells(&c.Users)...))
	return t
}

func capacityCells(c *site.Capacity) []string {
	if c.Width == 0 {
		return make([]string, 11)
	}
	return []string{
		c.Width.MHz(), c.Effective.MHz(), string(mbps(c.User.Max)), string(mbps(c.User.Schedulable)), string(mbps(c.User.Scheduled)),
		string(mbps(c.Cell.Max)), string(mbps(c.Cell.Schedulable)), string(mbps(c.Cell.Scheduled)),
		string(mbps(c.Full)), string(mbps(c.Mean)), string(mbps(c.Edge)),
	}
}

func userCells(u *site.Users) []string {
	if !u.Given {
		return []string{"", ""}
	}
	return []string{itoa(int(u.Active)), itoa(int(u.Served))}
}

// efficiencySource is the table that an efficiency is from, or what the planner says of
// the own figure.
func efficiencySource(e *site.Efficiency) string {
	if e.Origin != "" || e.Source == (bands.Source{}) {
		return e.Origin
	}
	return e.Source.String()
}
