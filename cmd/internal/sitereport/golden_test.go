package sitereport

import (
	"testing"

	"spectally/cmd/internal/golden"
	"spectally/cmd/internal/htmlcheck"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/siteplan"
)

// read reads a plan that has to be good.
func read(tb testing.TB, text string) *siteplan.Plan {
	tb.Helper()
	p, err := siteplan.Read("plan.toml", []byte(text))
	if err != nil {
		tb.Fatal(err)
	}
	return p
}

// answer is the answer to a plan that has to be good.
func answer(tb testing.TB, text string) *render.Answer {
	tb.Helper()
	a, err := Answer(read(tb, text))
	if err != nil {
		tb.Fatal(err)
	}
	return a
}

// show renders an answer; a page has to be sound.
func show(tb testing.TB, a *render.Answer, o render.Options) []byte {
	tb.Helper()
	if o.Width == 0 {
		o.Width = 100
	}
	out, err := render.Render(a, o)
	if err != nil {
		tb.Fatal(err)
	}
	if o.Format == render.HTML {
		for _, problem := range htmlcheck.Page(out) {
			tb.Error(problem)
		}
	}
	return out
}

func TestGolden(t *testing.T) {
	demo, odd, far := answer(t, siteplan.Demo()), answer(t, odd), answer(t, far)
	for name, test := range map[string]struct {
		answer *render.Answer
		render.Options
	}{
		"demo.txt":         {demo, render.Options{Format: render.Text}},
		"demo-explain.txt": {demo, render.Options{Format: render.Text, Explain: true}},
		"demo-phone.txt":   {demo, render.Options{Format: render.Text, Width: 44, Quiet: true}},
		"demo.md":          {demo, render.Options{Format: render.Markdown}},
		"demo.html":        {demo, render.Options{Format: render.HTML}},
		"demo.json":        {demo, render.Options{Format: render.JSON}},
		"demo.csv":         {demo, render.Options{Format: render.CSV}},
		"odd.txt":          {odd, render.Options{Format: render.Text, Explain: true}},
		"odd.html":         {odd, render.Options{Format: render.HTML, Explain: true}},
		"odd.json":         {odd, render.Options{Format: render.JSON}},
		"odd.csv":          {odd, render.Options{Format: render.CSV}},
		"far.txt":          {far, render.Options{Format: render.Text}},
	} {
		t.Run(name, func(t *testing.T) { golden.Check(t, name, show(t, test.answer, test.Options)) })
	}
}

// odd is a plan with what the demo lacks: no traffic and no link, sectors without a
// name or with one that spreadsheets and pages could misread, carriers that overlap, a
// downlink and an uplink by themselves, a mean that the layers hold down, and places
// beyond what the model allows.
const odd = `
name = "Odds & <b>ends</b>"
environment = "indoor-hotspot"

[coverage]
model = "inh"
sight = "los"
distance_m = 400
extrapolate = true
sinr_db = 10
sensitivity = "refsens"
bs_class = "local-area"

[[sector]]
[[sector.radio]]
carriers = "n78:20@640000 + n78:20@641334"
ports = "1T1R"
power_dbm = 24
gain_dbi = 5
measured = { dl_bps_hz = 9, origin = "a guess" }

[[sector]]
name = "=1+1"
environment = "rural"
[[sector.radio]]
carriers = "n75:20"
ports = "2T2R"
power_dbm = 30
gain_dbi = 5
[[sector.radio]]
carriers = "n80:20"
ports = "2T4R"
measured = { ul_bps_hz = 0.9, origin = "counters of another place", ports = "2T2R" }
power_dbm = 30
gain_dbi = 5
`

// far is a plan with a link that is too small, users whose uplink is not told, and
// coverage that no model tells.
const far = `
name = "Far"
environment = "rural"
[traffic]
rate_mbps = 5
[backhaul]
link = "200 Mbit/s"
size_by = "cell"
[coverage]
model = "uma"
distance_m = 9000
[[sector]]
count = 3
[[sector.radio]]
carriers = "n258:100"
ports = "64T64R"
measured = { dl_bps_hz = 3, ul_bps_hz = 2, dl_edge_bps_hz = 0.1, ul_edge_bps_hz = 0.05, origin = "drive tests" }
power_dbm = 30
gain_dbi = 20
`
