package ca

import (
	"strconv"
	"strings"

	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
)

// data is the table of carriers for CSV.
func (c *found) data() *render.Table {
	t := &render.Table{}
	for _, key := range []string{"no", "band", "rat", "duplex", "dl_mhz", "ul_mhz", "scs_khz", "n_rb", "channel", "dl_centre_mhz", "dl_low_mhz", "dl_high_mhz",
		"ul_channel", "ul_centre_mhz", "ul_low_mhz", "ul_high_mhz", "transmits", "dl_share", "role", "pci", "rsrp_dbm", "sinr_db", "findings"} {
		t.Columns = append(t.Columns, render.Column{Key: key, Header: key})
	}
	for i := range c.Carriers {
		v := c.componentValue(i)
		var found []string
		for _, f := range c.Findings() {
			if f.Carrier == i+1 {
				found = append(found, f.Severity.String()+" "+string(f.Rule)+": "+f.Message)
			}
		}
		t.Rows = append(t.Rows, []string{strconv.Itoa(i + 1), v.Band, v.RAT, v.Duplex, string(v.DL), string(v.UL), figures.Optional(v.SCS), figures.Optional(v.RB), figures.Optional(v.Channel),
			figures.Optional(v.DLCentre), figures.Optional(v.DLLow), figures.Optional(v.DLHigh), figures.Optional(v.ULChannel), figures.Optional(v.ULCentre), figures.Optional(v.ULLow), figures.Optional(v.ULHigh),
			strconv.FormatBool(v.Transmits), figures.Optional(v.DLShare), figures.Optional(v.Role), figures.Optional(v.PCI), figures.Optional(v.RSRP), figures.Optional(v.SINR), strings.Join(found, " ")})
	}
	return t
}
