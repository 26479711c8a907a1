package ca

import (
	"strconv"
	"strings"

	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
)

// data is the table of carriers for CSV.
func (c *found) data() *render.Table {
	t := &render.Table{}
	for _, key := range []string{"carrier", "band", "rat", "duplex", "dl_width_mhz", "dl_channel", "dl_centre_mhz", "dl_low_mhz", "dl_high_mhz", "dl_scs_khz", "dl_n_rb",
		"ul_width_mhz", "ul_channel", "ul_centre_mhz", "ul_low_mhz", "ul_high_mhz", "ul_scs_khz", "ul_n_rb", "transmits", "dl_share", "ul_share", "role", "pci", "rsrp_dbm", "sinr_db", "findings"} {
		t.Columns = append(t.Columns, render.Column{Key: key, Header: key})
	}
	for i := range c.Carriers {
		v := c.Carrier(i)
		row := []string{strconv.Itoa(v.Number), v.Band, v.RAT, v.Duplex}
		for _, l := range [...]*combination.Link{v.Downlink, v.Uplink} {
			if l == nil {
				row = append(row, "", "", "", "", "", "", "")
				continue
			}
			row = append(row, string(l.Width), figures.Optional(l.Channel), figures.Optional(l.Centre), figures.Optional(l.Low), figures.Optional(l.High), figures.Optional(l.SCS), figures.Optional(l.Blocks))
		}
		var found []string
		for _, f := range c.Findings() {
			if f.Carrier == i+1 {
				found = append(found, f.Severity.String()+" "+string(f.Rule)+": "+f.Error())
			}
		}
		t.Rows = append(t.Rows, append(row, strconv.FormatBool(v.Transmits), figures.Optional(v.DLShare), figures.Optional(v.ULShare), figures.Optional(v.Role), figures.Optional(v.PCI),
			figures.Optional(v.RSRP), figures.Optional(v.SINR), strings.Join(found, " ")))
	}
	return t
}
