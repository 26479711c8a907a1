package sitereport

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"spectally/cmd/internal/render"
	"spectally/cmd/internal/siteplan"
)

// The cautions that no answer may lack.
var cautionWords = []string{"planning estimate", "no licence to transmit", "no assessment of safety", "exposure", "national rules", "licensed practice", "Keep clear of antennas", "ceilings, not promises"}

func TestCautionsArePresent(t *testing.T) {
	for name, plan := range map[string]string{"demo": siteplan.Demo(), "odd": odd, "far": far} {
		a := answer(t, plan)
		for _, o := range []render.Options{
			{Format: render.Text, Full: true, Quiet: true, Width: 500}, {Format: render.Markdown, Quiet: true}, {Format: render.HTML, Quiet: true}, {Format: render.JSON},
		} {
			out := strings.Join(strings.Fields(string(show(t, a, o))), " ")
			for _, words := range cautionWords {
				if !strings.Contains(out, words) {
					t.Errorf("%s as %v does not say %q", name, o.Format, words)
				}
			}
		}
	}
}

// Every part that an answer has stands in it, in its order.
func TestParts(t *testing.T) {
	parts := func(plan string) []string {
		var names []string
		for _, b := range answer(t, plan).Whole {
			if p, ok := b.(render.Part); ok {
				names = append(names, p.Text)
			}
		}
		return names
	}
	if got, want := parts(siteplan.Demo()), []string{"The site", "Sector “town”", "Sector “marsh road”", "What the planner thinks of", "What would add most", "Builds side by side", "Coverage", "Sources and assumptions"}; !slices.Equal(got, want) {
		t.Errorf("parts %q, want %q", got, want)
	}
	if got, want := parts("name = 'T'\nenvironment = 'rural'\n[[sector]]\n[[sector.radio]]\ncarriers = 'n78:100'\nports = '2T2R'\n"), []string{"The site", "Sector 1", "What would add most", "Builds side by side", "Sources and assumptions"}; !slices.Equal(got, want) {
		t.Errorf("parts %q, want %q", got, want)
	}
}

// The verdict on a link: 100 MHz of n78 with four layers peak at 1348 Mbit/s and carry
// less on average; a tenth goes on top.
func TestVerdict(t *testing.T) {
	for link, want := range map[string]string{
		"":                  "no link given",
		"link = '2 Gbit/s'": "link enough",
		"link = '1 Gbit/s'": "link short",
		"link = '2 Gbit/s'\nul_link = '50 Mbit/s'":  "link short",
		"link = '100 Mbit/s'":                       "link too small",
		"link = '2 Gbit/s'\nul_link = '0.1 Mbit/s'": "link too small",
		"ul_link = '1 Gbit/s'":                      "no link given",
	} {
		plan := "name = 'T'\nenvironment = 'rural'\n[backhaul]\n" + link + "\n[[sector]]\n[[sector.radio]]\ncarriers = 'n78:100'\nports = '8T8R'\n"
		i := slices.IndexFunc(answer(t, plan).Document, func(b render.Block) bool { _, ok := b.(render.Verdict); return ok })
		if got := answer(t, plan).Document[i].(render.Verdict).Word; got != want {
			t.Errorf("%s: %q, want %q", link, got, want)
		}
		enough, err := Enough(read(t, plan))
		if err != nil || enough != (want == "link enough" || want == "no link given") {
			t.Errorf("%s: enough %v, %v", link, enough, err)
		}
		if answer(t, plan).Refuted {
			t.Error("an answer is refuted")
		}
	}
}

// What was typed reaches a page and a spreadsheet as text.
func TestHostile(t *testing.T) {
	a := answer(t, odd)
	page := show(t, a, render.Options{Format: render.HTML, Explain: true})
	if bytes.Contains(page, []byte("<b>ends")) || !bytes.Contains(page, []byte("&lt;b&gt;ends")) {
		t.Error("a name is markup")
	}
	if sheet := string(show(t, a, render.Options{Format: render.CSV})); strings.Contains(sheet, ",=1+1,") || !strings.Contains(sheet, ",'=1+1,") {
		t.Error("a name is a formula")
	}
}

// What is outside a model is marked wherever its figure stands.
func TestMarks(t *testing.T) {
	root := parsed(t, odd)
	for _, path := range []string{"coverage.carriers.0.extrapolated.0", "coverage.carriers.2.extrapolated.0"} {
		if text, ok := field(t, root, path).(string); !ok || !strings.Contains(text, "1 to 150 m") { // Report ITU-R M.2412-0 Table A1-4: InH holds up to 150 m
			t.Errorf("%s is %q", path, text)
		}
	}
	root = parsed(t, far)
	if field(t, root, "coverage.carriers.0.rsrp_dbm") != nil || !strings.Contains(field(t, root, "coverage.carriers.0.rsrp_error").(string), "10 to 5000 m") { // Table A1-2: UMa up to 5 km
		t.Error("a level beyond the model")
	}
	out := string(show(t, answer(t, odd), render.Options{Format: render.Text, Full: true, Width: 300}))
	if n := strings.Count(out, "extrapolated"); n < 6 {
		t.Errorf("%d marks", n)
	}
}

func TestRounded(t *testing.T) {
	for v, want := range map[float64]string{0: "", 0.4: "0", 7: "7", 54.6: "55", 999.7: "1000", 1234: "1230", 99951: "100000"} {
		if got := metresText(v); got != want {
			t.Errorf("metresText(%v) = %q, want %q", v, got, want)
		}
	}
	for v, want := range map[float64]string{-0.04: "0.0", 0.05: "0.1", -84.26: "-84.3", 135: "135.0"} {
		if got := levelText(v); got != want {
			t.Errorf("levelText(%v) = %q, want %q", v, got, want)
		}
	}
}

func BenchmarkAnswer(b *testing.B) {
	p := read(b, siteplan.Demo())
	b.ReportAllocs()
	for b.Loop() {
		a, err := Answer(p)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := render.Render(a, render.Options{Format: render.HTML}); err != nil {
			b.Fatal(err)
		}
	}
}
