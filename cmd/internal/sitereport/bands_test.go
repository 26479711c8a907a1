package sitereport

import (
	"fmt"
	"testing"

	"spectally/bands"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/siteplan"
)

// TestEveryBand: a site on any band, with its narrowest channel and one port or its
// widest channel and many ports, is refused where it is read or has an answer.
func TestEveryBand(t *testing.T) {
	answered, refused := 0, 0
	for _, rat := range []bands.RAT{bands.LTE, bands.NR} {
		for _, b := range bands.All(rat) {
			widths := b.Widths()
			if len(widths) == 0 {
				continue
			}
			narrow, wide := widths[0].Width, widths[0].Width
			for _, w := range widths {
				narrow, wide = min(narrow, w.Width), max(wide, w.Width)
			}
			for ports, width := range map[string]bands.Frequency{"1T1R": narrow, "64T64R": wide} {
				plan := fmt.Sprintf("name = 'T'\nenvironment = 'dense-urban'\n[traffic]\nrate_mbps = 5\n[coverage]\nmodel = 'uma'\nentry = 'low-loss'\nplaces_percent = 90\ndistance_m = 200\nuser_power_dbm = 23\nuplink_blocks = 1\nextrapolate = true\n"+
					"[[sector]]\ncount = 3\n[[sector.radio]]\ncarriers = '%s:%s'\nports = '%s'\npower_dbm = 46\ngain_dbi = 15\n", b.ID, width.MHz(), ports)
				if b.Range.IsFR2() { // for which nothing is published
					plan += "measured = { dl_bps_hz = 2, ul_bps_hz = 1, dl_edge_bps_hz = 0.1, ul_edge_bps_hz = 0.05, origin = 'T' }\n"
				}
				p, err := siteplan.Read("plan.toml", []byte(plan))
				if err != nil {
					refused++
					continue
				}
				a, err := Answer(p)
				if err != nil {
					t.Errorf("%s: %v", plan, err)
					continue
				}
				answered++
				for _, f := range []render.Format{render.Text, render.JSON, render.CSV} {
					show(t, a, render.Options{Format: f, Explain: true})
				}
			}
		}
	}
	if answered < 200 || refused > answered/10 {
		t.Errorf("%d answered, %d refused", answered, refused)
	}
}
