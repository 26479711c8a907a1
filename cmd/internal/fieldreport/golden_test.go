package fieldreport

import (
	"testing"

	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/golden"
	"spectally/cmd/internal/htmlcheck"
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/render"
)

// read reads a log that has to be good, and analyses it.
func read(t testing.TB, log string) *fieldlog.Report {
	t.Helper()
	l, err := fieldlog.Read("log.toml", []byte(log))
	if err != nil {
		t.Fatal(err)
	}
	return fieldlog.Analyse(l)
}

// show renders an answer; a page has to be sound.
func show(t testing.TB, a *render.Answer, o render.Options) []byte {
	t.Helper()
	if o.Width == 0 {
		o.Width = 100
	}
	out, err := render.Render(a, o)
	if err != nil {
		t.Fatal(err)
	}
	if o.Format == render.HTML {
		for _, problem := range htmlcheck.Page(out) {
			t.Error(problem)
		}
	}
	return out
}

func TestGolden(t *testing.T) {
	demo := Answer(read(t, fieldlog.Demo()))
	odd := Answer(read(t, odd))
	for name, test := range map[string]struct {
		answer *render.Answer
		render.Options
	}{
		"demo.txt":         {demo, render.Options{Format: render.Text}},
		"demo-explain.txt": {demo, render.Options{Format: render.Text, Explain: true}},
		"demo-phone.txt":   {demo, render.Options{Format: render.Text, Width: 44}},
		"demo.md":          {demo, render.Options{Format: render.Markdown}},
		"demo.html":        {demo, render.Options{Format: render.HTML}},
		"demo.json":        {demo, render.Options{Format: render.JSON}},
		"demo.csv":         {demo, render.Options{Format: render.CSV}},
		"odd.txt":          {odd, render.Options{Format: render.Text, Explain: true}},
		"odd.html":         {odd, render.Options{Format: render.HTML, Explain: true}},
		"claim.txt":        {ClaimAnswer(judged(t)), render.Options{Format: render.Text, Explain: true}},
		"claim.md":         {ClaimAnswer(judged(t)), render.Options{Format: render.Markdown}},
		"claim.html":       {ClaimAnswer(judged(t)), render.Options{Format: render.HTML}},
		"claim.json":       {ClaimAnswer(judged(t)), render.Options{Format: render.JSON}},
		"claim.csv":        {ClaimAnswer(judged(t)), render.Options{Format: render.CSV}},
	} {
		t.Run(name, func(t *testing.T) { golden.Check(t, name, show(t, test.answer, test.Options)) })
	}
}

// judged is the judgement of a claim with two readings and a sentence on each. A file
// of 10^9 bytes at 600 Mbit/s takes 8·10^9 / 600·10^6 s, which is 13.3 s.
func judged(t testing.TB) *claim.Judgement {
	t.Helper()
	size, err := quantity.ParseSize("1 GB")
	if err != nil {
		t.Fatal(err)
	}
	j, err := claim.Judge(claim.Claim{
		Text: "A gigabyte in thirteen seconds & a bit", Transfer: size, Seconds: quantity.NewDecimal(133, 1), Rate: quantity.NewDecimal(600, 0),
	}, claim.Evidence{})
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// odd is a log with what the demo lacks: carriers that touch, carriers without a place,
// a downlink and an uplink by themselves, a device that is silent on a carrier, a width
// that no band has for both directions, one run, a rate that cannot be, and claims of
// every other kind.
const odd = `
title = "Odds and ends"
date = 2031-05-15

[[network]]
name = "Contiguous"
carriers = "B3:20 + n78:100@630000,pci=5 + n78:60@635320,pci=5,layers=2"
notes = ["First.", "Second."]

[[network.run]]
down = 9000
up = 12.5
notes = "Too fast to be true."

[[network.transfer]]
size = "100 MB"
seconds = 4
direction = "up"
notes = "Slow."

[[network]]
name = "Supplementary"
carriers = "n78:100@640000 + n80:20@1750MHz"

[[network]]
name = "Refused"
carriers = "n78:100@640000 + n78:80@640002"

[[network]]
name = "Alone"
carriers = "n75:20@1480MHz"

[[network.radio]]
ports = "2T2R"
connected = 0

[[claim]]
network = "Contiguous"
carriers = 3

[[claim]]
network = "Contiguous"
share_percent = 27
rate_mbps = 612
about = true

[[claim]]
network = "Contiguous"
measured_mbps = 5000

[[claim]]
network = "Alone"
loaded_ms = 70
round_trips_per_minute = 857

[[claim]]
text = "One carrier"
network = "Alone"
same_site = true
`
