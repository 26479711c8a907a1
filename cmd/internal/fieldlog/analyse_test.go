package fieldlog

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/figures"
)

// analysed is the first network of a log with the lines given.
func analysed(tb testing.TB, network string) *NetworkReport {
	tb.Helper()
	r := Analyse(mustRead(tb, "title = 't'\n[[network]]\nname = 'n'\n"+network))
	checkReport(tb, r)
	return &r.Networks[0]
}

// checkReport checks what holds for every report.
func checkReport(tb testing.TB, r *Report) {
	tb.Helper()
	data, err := json.Marshal(r) // fails on what is no number
	if err != nil {
		tb.Fatal(err)
	}
	if strings.Contains(string(data), ":null") {
		var whole map[string]any
		if err := json.Unmarshal(data, &whole); err != nil {
			tb.Fatal(err)
		}
		for _, list := range []string{"notes", "networks", "comparison", "shared_cells", "claims", "cautions", "sources"} {
			if whole[list] == nil {
				tb.Errorf("%s is null in place of an empty list", list)
			}
		}
	}
	if len(r.Comparison) != len(r.Networks) || len(r.Cautions) == 0 {
		tb.Errorf("%d networks, %d rows, %d cautions", len(r.Networks), len(r.Comparison), len(r.Cautions))
	}
	for i := range r.Networks {
		n := &r.Networks[i]
		if n.Downlink.Max == nil && n.PeakError == "" {
			tb.Errorf("%s: neither peak nor a reason", n.Name)
		}
		for j := range n.Runs {
			for _, m := range []*Reached{n.Runs[j].Down, n.Runs[j].Up} {
				if m != nil {
					checkReached(tb, m)
				}
			}
		}
	}
}

func checkReached(tb testing.TB, m *Reached) {
	tb.Helper()
	above := func(share *float64) bool { return share != nil && *share > 1 }
	wants := []string{""}
	switch {
	case above(m.OfMax) && above(m.OfScheduled):
		wants = []string{"maximum"}
	case above(m.OfMax):
		wants = []string{"maximum", "schedulable"}
	case above(m.OfScheduled):
		wants = []string{"schedulable", "scheduled"}
	}
	if !slices.Contains(wants, m.Exceeds) || (m.Exceeds == "") != (m.Flag == "") {
		tb.Errorf("%v Mbit/s: exceeds %q (%q), want %q", m.Rate, m.Exceeds, m.Flag, wants)
	}
	if m.Implied == nil {
		return
	}
	for _, o := range m.Implied.Options {
		if o.Bits < *m.ActiveEfficiency*(1-1e-12) {
			tb.Errorf("%v bit/s/Hz implies %+v, which does not reach it", *m.ActiveEfficiency, o)
		}
		if o.Bits < m.Implied.Lowest.Bits {
			tb.Errorf("%+v lies below the lowest %+v", o, *m.Implied.Lowest)
		}
	}
}

func near(got *float64, want, tolerance float64) bool {
	return got != nil && math.Abs(*got-want) <= tolerance
}

func text(f *float64) string {
	if f == nil {
		return "null"
	}
	return fmt.Sprint(*f)
}

// TestTrade holds the analysis against what the trade takes for granted: common
// practice, no source.
func TestTrade(t *testing.T) {
	// LTE 20 MHz + NR 80 MHz + NR 80 MHz + LTE 20 MHz is 200 MHz downlink in total.
	n := analysed(t, "carriers = 'B3:20 + n78:80 + n78:80 + B7:20'\n")
	if n.Totals.Downlink != "200" || n.Totals.ByRAT[0].Downlink.MHz() != "40" || n.Totals.ByRAT[1].Downlink.MHz() != "160" {
		t.Errorf("totals %+v", n.Totals)
	}

	// A 1 GB file at 600 Mbit/s takes 13.3 s; 30 s means 267 Mbit/s on average.
	n = analysed(t, "carriers = 'n78:100'\n[[network.run]]\ndown = 600\n[[network.transfer]]\nsize = '1 GB'\nseconds = 30\n")
	x := &n.Transfers[0]
	if !near(x.Expected, 13.3, 0.05) || math.Abs(x.Mean-267) > 0.5 || x.Statement != "1 GB in 30 s is 266.7 Mbit/s on average. At the median of the runs at the same place, 600 Mbit/s, it takes 13.3 s." {
		t.Errorf("transfer %+v, expected %s s", x, text(x.Expected))
	}

	// Round trips a minute are 60 000 ms divided by the latency.
	n = analysed(t, "carriers = 'n78:100'\n[[network.run]]\nidle_ms = 20\nloaded_down_ms = 60\nloaded_up_ms = 120\n")
	l := &n.Latency
	if !near(l.RoundTrips.Down, 1000, 0) || !near(l.RoundTrips.Up, 500, 0) || !near(l.IdleRoundTrips, 3000, 0) || !near(l.Added.Down, 40, 0) || !near(l.Added.Up, 100, 0) {
		t.Errorf("latency %+v", l)
	}

	// An 8T8R radio can't give one phone more layers than it has receive antennas, but
	// can serve several phones at once.
	n = analysed(t, "carriers = 'n78:100'\ndevice = { receive_antennas = 4 }\n[[network.radio]]\nports = '8T8R'\n")
	if r := &n.Radios[0]; r.PhoneLayers != 4 || r.Phones != 2 || len(r.Statements) != 2 || !strings.Contains(r.Statements[1], "up to 2 such phones at once") {
		t.Errorf("radio %+v", r)
	}
	if n.Carriers[0].Downlink.Layers != 4 {
		t.Errorf("%d layers", n.Carriers[0].Downlink.Layers)
	}

	// One PCI on several carriers is consistent with one site; different PCI are
	// different cells.
	n = analysed(t, "carriers = 'n1:20,pci=5 + n78:100,pci=5 + n28:10,pci=6'\n")
	if s := n.Cells.Groups[0].Statement; len(n.Cells.Groups) != 2 || !strings.Contains(s, "consistent with one site") || !strings.Contains(strings.Join(n.Cells.Remarks, " "), "different cells") {
		t.Errorf("cells %+v", n.Cells)
	}
}

func TestCarriers(t *testing.T) {
	n := analysed(t, "carriers = 'B3:20@1300,role=pcell,pci=7,rsrp=-85.5,sinr=3 + n78:40@3500.04MHz + n78:40@3540MHz + n78:20@3700.02MHz + n78:20'\n")
	c := &n.Carriers[0]
	if c.Text != "B3:20@1300,role=pcell,pci=7,rsrp=-85.5,sinr=3" || c.RAT != "LTE" || c.Duplex != "FDD" || *c.Role != "pcell" || *c.Downlink.Channel != 1300 || *c.Uplink.Channel != 19300 || *c.PCI != 7 || *c.RSRP != "-85.5" || *c.SINR != "3" || !c.Transmits {
		t.Errorf("%+v", c)
	}
	// EARFCN 1300 is 1805 + 0.1 (1300 - 1200) = 1815 MHz, and 95 MHz below in the uplink
	// (TS 36.101 Tables 5.7.3-1 and 5.7.4-1).
	if d := c.Downlink; *d.Low != "1805" || *d.Centre != "1815" || *d.High != "1825" || *d.Blocks != 100 || d.Rated == nil {
		t.Errorf("%+v", d)
	}
	if u := c.Uplink; u.Width != "20" || *u.Low != "1710" || *u.Centre != "1720" || *u.High != "1730" {
		t.Errorf("%+v", u)
	}
	if c := &n.Carriers[1]; *c.Downlink.Channel != 633336 || c.PCI != nil || c.RSRP != nil || *c.Pattern != "DDDSU/10:2:2" || !c.PatternAssumed || *c.Downlink.SCS != "30" || c.Range != "FR1" {
		t.Errorf("%+v", c)
	}
	if c := &n.Carriers[4]; c.Downlink.Low != nil || c.Downlink.Centre != nil || c.Uplink.Rated != nil {
		t.Errorf("%+v", c)
	}
	var blocks []string
	for _, b := range n.Blocks {
		blocks = append(blocks, fmt.Sprintf("%s %v placed %v gap %v", b.Band, b.Carriers, b.Low != nil, b.Gap != nil))
	}
	want := []string{"B3 [1] placed true gap false", "n78 [2 3] placed true gap true", "n78 [4] placed true gap false", "n78 [5] placed false gap false"}
	if diff := cmp.Diff(want, blocks); diff != "" {
		t.Errorf("blocks (-want +got)\n%s", diff)
	}
	if g := n.Blocks[1].Gap; g == nil || *g != "130.08" {
		t.Errorf("gap %s MHz", figures.Optional(g))
	}
}

func TestConfigurations(t *testing.T) {
	n := analysed(t, "carriers = 'B3:20 + n78:100'\n")
	if len(n.Configurations) == 0 || n.Configurations[0].ID != "DC_3A_n78A" || !n.Configurations[0].Listed || !n.Configurations[0].Holds || !n.Valid || !n.Complete {
		t.Errorf("%+v", n.Configurations)
	}
	n = analysed(t, "carriers = 'B3:20@1300 + B3:20@1350'\n")
	if n.Valid || len(findings(n, "overlap")) != 1 || n.Downlink.Max == nil {
		t.Errorf("carriers that overlap: valid %v, %+v", n.Valid, n.Findings)
	}
}

// TestWithoutRates: a log made by a program, with carriers that Read would refuse, is
// analysed as far as it goes.
func TestWithoutRates(t *testing.T) {
	l := mustRead(t, "title = 't'\n[[network]]\nname = 'n'\ncarriers = 'n78:100,pci=5,rsrp=-90'\ndevice = { receive_antennas = 2, qam = 64 }\n[[network.run]]\ndown = 5\nup = 5\n[[network.transfer]]\nsize = '1 MB'\nseconds = 1\n[[claim]]\npeak_mbps = 5\n")
	l.Networks[0].Carriers[0].Band.Number = 200
	l.Claims = append(l.Claims, Claim{Claim: claim.Claim{}, Network: 7})
	r := Analyse(l)
	checkReport(t, r)
	n := &r.Networks[0]
	if n.Downlink.Max != nil || n.PeakError == "" || n.Valid || n.Runs[0].Down.OfMax != nil || n.Runs[0].Down.ActiveEfficiency != nil || len(r.Claims) != 1 || r.Claims[0].Verdict != claim.Undecided {
		t.Errorf("%+v\n%+v", n, r.Claims)
	}
	if e := n.Runs[0].Down.Efficiency; e != nil {
		t.Errorf("%s bit/s/Hz over a bandwidth that is not known", text(e))
	}
	l.Networks[0].Carriers = nil
	l.Networks[0].Neighbours = []Neighbour{{}}
	r = Analyse(l)
	checkReport(t, r)
	if r.Claims[0].Verdict != claim.Undecided {
		t.Errorf("%+v", r.Claims[0])
	}
}
