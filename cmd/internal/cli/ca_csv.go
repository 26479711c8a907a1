package cli

import (
	"strconv"
	"strings"

	"spectally/cmd/internal/render"
)

// data is the table of carriers for CSV.
func (c *combination) data() *render.Table {
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
		t.Rows = append(t.Rows, []string{strconv.Itoa(i + 1), v.Band, v.RAT, v.Duplex, string(v.DL), string(v.UL), optional(v.SCS), optional(v.RB), optional(v.Channel),
			optional(v.DLCentre), optional(v.DLLow), optional(v.DLHigh), optional(v.ULChannel), optional(v.ULCentre), optional(v.ULLow), optional(v.ULHigh),
			strconv.FormatBool(v.Transmits), optional(v.DLShare), optional(v.Role), optional(v.PCI), optional(v.RSRP), optional(v.SINR), strings.Join(found, " ")})
	}
	return t
}
