package sitereport

import (
	"fmt"
	"strings"
	"testing"

	"spectally/cmd/internal/render"
	"spectally/cmd/internal/siteplan"
)

// FuzzAnswer: whatever plan can be read has an answer in every format, with a sound
// page, a link that is never below one peak, and a change that never loses what it is
// ranked for.
func FuzzAnswer(f *testing.F) {
	f.Add("n78:100@640000 + B3:20", "64T64R", uint8(0), uint8(3), uint16(700), uint16(0), "2 Gbit/s", "uma")
	f.Add("n78:20 + n78:20", "1T1R", uint8(1), uint8(1), uint16(1000), uint16(9000), "", "inh")
	f.Add("n75:20 + n80:20", "2T4R", uint8(2), uint8(100), uint16(1), uint16(1), "1 kbit/s", "rma")
	f.Add("n258:400,layers=2 + B46:20", "256T256R", uint8(2), uint8(2), uint16(30), uint16(65535), "10 Tbit/s", "free-space")
	f.Add("B41:20,pattern=2/7 + n41:100,pattern=DDDSU/10:2:2 + n41:40", "8T8R", uint8(1), uint8(6), uint16(450), uint16(310), "1 Gbit/s", "umi")
	f.Add("n38:40,ul=0 + B20:10/5 + n28:30,qam=1024", "3T7R", uint8(0), uint8(1), uint16(999), uint16(2), "0.5 Gbit/s", "umi")
	f.Fuzz(func(t *testing.T, carriers, ports string, environment, count uint8, load, measured uint16, link, model string) {
		if strings.ContainsAny(carriers+ports+link+model, "\"\\") || len(carriers) > 120 || strings.Count(carriers, "x") > 0 {
			return
		}
		var plan strings.Builder
		fmt.Fprintf(&plan, "name = \"Fuzz\"\nenvironment = %q\nload_percent = %d.%d\n", [...]string{"indoor-hotspot", "dense-urban", "rural"}[environment%3], load/10%100, load%10)
		fmt.Fprintf(&plan, "[traffic]\nrate_mbps = 3\nul_rate_mbps = 0.7\n[backhaul]\nlink = \"%s\"\n", link)
		fmt.Fprintf(&plan, "[coverage]\nmodel = \"%s\"\nextrapolate = true\nuser_power_dbm = 23\nuplink_blocks = 2\ndistance_m = 300\n", model)
		fmt.Fprintf(&plan, "[[sector]]\ncount = %d\n[[sector.radio]]\ncarriers = \"%s\"\nports = \"%s\"\npower_dbm = 46\ngain_dbi = 17\n", max(count, 1), carriers, ports)
		if measured > 0 {
			fmt.Fprintf(&plan, "measured = { dl_bps_hz = %d.%03d, origin = \"fuzz\" }\n", measured/1000, measured%1000)
		}
		p, err := siteplan.Read("fuzz.toml", []byte(plan.String()))
		if err != nil {
			return
		}
		a, err := Answer(p)
		if err != nil {
			t.Fatalf("%v\n%s", err, plan.String())
		}
		for _, format := range []render.Format{render.Text, render.Markdown, render.HTML, render.JSON, render.CSV} {
			if out := string(show(t, a, render.Options{Format: format, Explain: true})); strings.Contains(out, "NaN") || strings.Contains(out, "Inf ") || strings.Contains(out, "%!") {
				t.Errorf("%v has what is no number\n%s", format, plan.String())
			}
		}
		s, err := newStudy(p)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range directions {
			if l := s.capacity.Backhaul.In(d); l.Need.Cmp(l.Peak) < 0 || l.Need.Cmp(l.Means) < 0 || l.Delivered.Cmp(l.Means) > 0 {
				t.Errorf("%s: need %s, peak %s, means %s, delivered %s", d, l.Need, l.Peak, l.Means, l.Delivered)
			}
		}
		for i := 1; i < len(s.changes); i++ {
			if s.changes[i].Delivered.Cmp(s.changes[i-1].Delivered) > 0 {
				t.Errorf("change %d is better than the one before", i+1)
			}
		}
	})
}
