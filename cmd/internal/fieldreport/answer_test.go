package fieldreport

import (
	"math"
	"slices"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/render"
)

// The cautions that no report may lack.
var cautionWords = []string{"ceiling", "not a promise", "no licence to transmit", "national rules", "licensed practice", "Keep clear of antennas", "barriers", "never read a phone while driving"}

func TestCautionsArePresent(t *testing.T) {
	for name, log := range map[string]string{"demo": fieldlog.Demo(), "odd": odd, "template": fieldlog.Template()} {
		a := Answer(read(t, log))
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
	var j []string
	for _, l := range ClaimAnswer(judgement200(t)).Document {
		if list, ok := l.(render.List); ok && list.Kind == render.Cautions {
			j = append(j, list.Items...)
		}
	}
	if len(j) == 0 {
		t.Error("the judgement of a peak rate has no caution")
	}
}

func judgement200(t *testing.T) *claim.Judgement {
	t.Helper()
	r := read(t, "title = 'T'\n[[network]]\nname = 'N'\ncarriers = 'n78:100'\n[[claim]]\npeak_mbps = 200\n")
	return r.Claims[0].Judgement
}

// Every part that a report has stands in it, in its order.
func TestParts(t *testing.T) {
	parts := func(log string) []string {
		var names []string
		for _, b := range Answer(read(t, log)).Whole {
			if p, ok := b.(render.Part); ok {
				names = append(names, p.Text)
			}
		}
		return names
	}
	if got, want := parts(fieldlog.Demo()), []string{"Side by side", "Brindlewave", "Oskelund", "Marrowfen", "Claims", "Cautions and sources"}; !slices.Equal(got, want) {
		t.Errorf("parts %q, want %q", got, want)
	}
	if got, want := parts("title = 'T'\n[[network]]\nname = 'N'\ncarriers = 'n78:100'\n"), []string{"N", "Cautions and sources"}; !slices.Equal(got, want) {
		t.Errorf("parts %q, want %q", got, want)
	}
}

func TestHolds(t *testing.T) {
	const network = "title = 'T'\n[[network]]\nname = 'N'\n"
	for log, want := range map[string]bool{
		network + "carriers = 'n78:100'\n":                                                  true,
		network + "carriers = 'n78:100@640000 + n78:100@640002'\n":                          false, // they overlap
		network + "carriers = 'n78:100'\n[[claim]]\ntotal_mhz = 100\n":                      true,
		network + "carriers = 'n78:100'\n[[claim]]\ntotal_mhz = 101\n":                      false,
		network + "carriers = 'n78:100'\n[[claim]]\nloaded_ms = 70\n":                       true, // not decided
		network + "carriers = 'n78:100 + B3:20'\n[[claim]]\nsame_site = true\n":             true,
		network + "carriers = 'n78:100'\n[[claim]]\ntotal_mhz = 1\n[[claim]]\ncarriers=1\n": false,
	} {
		r := read(t, log)
		if got := Holds(r); got != want {
			t.Errorf("%s holds: %v", log, got)
		}
		if Answer(r).Refuted {
			t.Error("a report is refuted")
		}
	}
}

func TestClaimAnswerIsRefuted(t *testing.T) {
	for v, want := range map[claim.Verdict]bool{claim.Holds: false, claim.Fails: true, claim.Undecided: false} {
		j := *judgement200(t)
		j.Verdict = v
		if got := ClaimAnswer(&j).Refuted; got != want {
			t.Errorf("%s is refuted: %v", v, got)
		}
	}
}

func TestVerdictWords(t *testing.T) {
	for carriers, want := range map[string]string{
		"n78:100":                         "allowed One carrier needs no configuration.",
		"B3:20 + n78:80":                  "allowed as DC_3A_n78A, listed. Also listed as DC_n78A_3A.",
		"B3:20 + B7:20 + B20:10":          "allowed as CA_3A-7A-20A, listed, with these widths in bandwidth combination sets 0, 1.",
		"2xn78:100 + n28:10":              "allowed as CA_n28A-n78C, listed, with these widths in bandwidth combination set 0. Of 3 configurations that they can form, 3 are listed with these widths.",
		"n78:100@640000 + n78:100@640002": "not allowed Carriers 1 (3550-3650 MHz) and 2 (3550.03-3650.03 MHz) use the same downlink spectrum.",
		"3xn78:20":                        "not allowed Not listed, not even as a fallback: CA_n78(A-B), CA_n78(3A). Closest: CA_n78D, with n78D instead of n78(A-B).",
	} {
		r := read(t, "title = 'T'\n[[network]]\nname = 'N'\ncarriers = '"+carriers+"'\n")
		v := verdict(&r.Networks[0])
		if got := v.Word + " " + v.Text; got != want {
			t.Errorf("%s: %q, want %q", carriers, got, want)
		}
		if (v.Tone == render.Bad) != (v.Word == "not allowed") || r.Networks[0].Valid == (v.Tone == render.Bad) {
			t.Errorf("%s: valid %v, verdict %+v", carriers, r.Networks[0].Valid, v)
		}
	}
}

// A lane has the channels of the log: paired carriers in both directions, TDD once,
// contiguous ones in one block (n78: 100 and 60 MHz at the nominal spacing of 79.8 MHz,
// TS 38.101-1 clause 5.4A.1), those without a place apart.
func TestLanes(t *testing.T) {
	lane := laneOf(&read(t, odd).Networks[0])
	type seen struct {
		band     string
		use      render.Use
		carriers int
		placed   bool
	}
	var got []seen
	for _, b := range lane {
		got = append(got, seen{b.Band, b.Use, len(b.Channels), !b.Edges.IsZero()})
		for _, c := range b.Channels {
			if want := b.Use != render.DownlinkUse && c.Carrier == 3; c.Silent != want {
				t.Errorf("carrier %d of %s is silent: %v", c.Carrier, b.Band, c.Silent)
			}
		}
		if b.Within.IsZero() {
			t.Errorf("%s has no band", b.Band)
		}
	}
	want := []seen{{"B3", render.DownlinkUse, 1, false}, {"B3", render.UplinkUse, 1, false}, {"n78", render.BothUse, 2, true}}
	if !slices.Equal(got, want) {
		t.Errorf("blocks %+v, want %+v", got, want)
	}
	if e := lane[2].Edges; e.Low != 3400*bands.MHz || e.High != 3559800*bands.KHz {
		t.Errorf("the block lies at %v", e)
	}
	if b := laneOf(&read(t, odd).Networks[3]); len(b) != 1 || b[0].Use != render.DownlinkUse {
		t.Errorf("a band without uplink is %+v", b)
	}
}

func TestRounded(t *testing.T) {
	for _, test := range []struct {
		x      float64
		places int
		want   string
	}{
		{266.65, 1, "266.7"}, {0.05, 1, "0.1"}, {-0.04, 1, "0"}, {-84.25, 1, "-84.3"}, {600, 1, "600"}, {100, 0, "100"}, {811.5, 0, "812"}, {1e21, 1, "1000000000000000000000"}, {0.1 + 0.2, 2, "0.3"}, {79.428571, 2, "79.43"},
	} {
		if got := rounded(&test.x, test.places); got != test.want {
			t.Errorf("rounded(%v, %d) = %q, want %q", test.x, test.places, got, test.want)
		}
	}
	if rounded(nil, 1) != "" || percent(nil) != "" {
		t.Error("none is shown")
	}
	for share, want := range map[float64]string{0.2720910017425028: "27.2", 0.13: "13", 0.0005: "0.1", 1: "100", 2.8292: "282.9"} {
		if got := percent(&share); got != want {
			t.Errorf("percent(%v) = %q, want %q", share, got, want)
		}
	}
	if nan := math.NaN(); rounded(&nan, 1) != "" {
		t.Error("what is no number is shown")
	}
}

func BenchmarkReport(b *testing.B) {
	l, err := fieldlog.Read("demo", []byte(fieldlog.Demo()))
	if err != nil {
		b.Fatal(err)
	}
	r := fieldlog.Analyse(l)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := render.Render(Answer(r), render.Options{Format: render.HTML}); err != nil {
			b.Fatal(err)
		}
	}
}

// A report says no point twice.
func TestPointsOnce(t *testing.T) {
	said := map[string]bool{}
	for _, b := range Answer(read(t, fieldlog.Demo())).Whole {
		points, _ := b.(render.Points)
		for _, p := range points {
			if said[p] {
				t.Errorf("twice: %s", p)
			}
			said[p] = true
		}
	}
	if len(said) < 5 {
		t.Errorf("only %d points", len(said))
	}
}

// TestAboveExpected: 0.6 log2(1 + 10) of TR 36.942 Annex A.2 in 20 MHz on two layers are 83.0
// Mbit/s at 10 dB; a run of 99 has 119.2 % of it, which is no bound.
func TestAboveExpected(t *testing.T) {
	a := Answer(read(t, "title = 'T'\n[[network]]\nname = 'N'\ncarriers = 'B3:20,layers=2,qam=64,sinr=10'\n[[network.run]]\ndown = 99\n[[network.run]]\ndown = 70\n"))
	out := string(show(t, a, render.Options{Format: render.Text, Full: true, Width: 500}))
	if !strings.Contains(out, "Run 1 (119.2 %) had more than expected") || strings.Contains(out, "at most, ") {
		t.Errorf("a run above the estimate: %s", out)
	}
}
