package fieldlog

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"spectally/cmd/internal/claim"
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/render"
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
		if n.Peak == nil && n.PeakError == "" {
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
	want := ""
	switch {
	case above(m.OfMax):
		want = "maximum"
	case above(m.OfScheduled):
		want = "scheduled"
	}
	if m.Exceeds != want || (want == "") != (m.Flag == "") {
		tb.Errorf("%v Mbit/s: exceeds %q (%q), want %q", m.Rate, m.Exceeds, m.Flag, want)
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
	if n.Totals.Downlink != 200 || n.Totals.ByRAT["LTE"].Downlink != 40 || n.Totals.ByRAT["NR"].Downlink != 160 {
		t.Errorf("totals %+v", n.Totals)
	}

	// A 1 GB file at 600 Mbit/s takes 13.3 s; 30 s means 267 Mbit/s on average.
	n = analysed(t, "carriers = 'n78:100'\n[[network.run]]\ndown = 600\n[[network.transfer]]\nsize = '1 GB'\nseconds = 30\n")
	x := &n.Transfers[0]
	if !near(x.Expected, 13.3, 0.05) || math.Abs(x.Mean-267) > 0.5 || x.Statement != "1 GB in 30 s is 266.7 Mbit/s on average. At the median of the runs, 600 Mbit/s, it takes 13.3 s." {
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

// TestShares: n78 with 100 MHz, 30 kHz, 4 layers and 256QAM has a maximum of 2337.0
// Mbit/s (TS 38.306 clause 4.1.2); the pattern DDDSU/10:2:2 leaves 52 of 70 symbols to
// the downlink.
func TestShares(t *testing.T) {
	n := analysed(t, "carriers = 'n78:100,layers=4,qam=256,pattern=DDDSU/10:2:2'\n[[network.run]]\ndown = 2340\n[[network.run]]\ndown = 1168.5\n[[network.run]]\ndown = 1700\n")
	if !near(n.Peak.Downlink.Max, 2337, 0.05) {
		t.Fatalf("maximum %s Mbit/s", text(n.Peak.Downlink.Max))
	}
	over, half, sent := n.Runs[0].Down, n.Runs[1].Down, n.Runs[2].Down
	if over.Exceeds != "maximum" || !strings.HasPrefix(over.Flag, "2340 Mbit/s is more than these carriers can yield in the downlink, 2337 Mbit/s at most.") {
		t.Errorf("%+v", over)
	}
	if half.Exceeds != "" || !near(half.OfMax, 0.5, 0.0001) {
		t.Errorf("%+v", half)
	}
	if sent.Exceeds != "scheduled" || !strings.Contains(sent.Flag, "more than a scheduler can send over these carriers in the downlink") {
		t.Errorf("%+v", sent)
	}
	if !near(half.Efficiency, 11.685, 1e-12) || !near(half.ActiveEfficiency, 11.685*70/52, 1e-12) {
		t.Errorf("%s and %s bit/s/Hz", text(half.Efficiency), text(half.ActiveEfficiency))
	}
	var rules []string
	for _, f := range n.Findings {
		rules = append(rules, f.Rule+" "+string(f.Severity))
	}
	for _, want := range []string{"measured-above-maximum warning", "measured-above-scheduled warning"} {
		if !strings.Contains(strings.Join(rules, "\n"), want) {
			t.Errorf("findings %q have no %q", rules, want)
		}
	}
	if m := n.Measured.Down; m.Count != 3 || m.Median != 1700 || m.Min != 1168.5 || m.Max != 2340 || m.AtMedian.Rate != 1700 || m.AtBest.Exceeds != "maximum" || m.LowerQuartile != nil {
		t.Errorf("%+v", m)
	}
	if n.Measured.Up != nil {
		t.Error("an uplink that nobody measured")
	}
}

func TestUplinkShares(t *testing.T) {
	n := analysed(t, "carriers = 'B3:20,ulqam=64 + B7:20'\n[[network.run]]\nup = 37.688\n")
	up := n.Runs[0].Up
	// 20 MHz of LTE with one layer of 64QAM have 75.376 Mbit/s (TS 36.213 Table
	// 7.1.7.2.1-1, I_TBS 26); B7 does not transmit.
	if !near(up.OfMax, 0.5, 1e-12) || !near(up.Efficiency, 37.688/20, 1e-12) || !near(up.ActiveEfficiency, 37.688/20, 1e-12) {
		t.Errorf("%+v", up)
	}
	if up.Implied.Source.Spec != "TS 36.213" || up.Implied.Layers != 1 {
		t.Errorf("%+v", up.Implied)
	}
	n = analysed(t, "carriers = 'n75:20'\n[[network.run]]\nup = 5\n")
	if up := n.Runs[0].Up; up.Efficiency != nil || up.OfMax != nil || up.Implied != nil || up.Exceeds != "" {
		t.Errorf("an uplink without carriers: %+v", up)
	}
}

// TestImplied holds the lowest rows against ones read off the tables by hand. Table
// 5.1.3.1-2 of TS 38.214: MCS 20 is 256QAM at 682.5/1024, 5.3320; MCS 11 is 64QAM at
// 466/1024, 2.7305; MCS 27 is 256QAM at 948/1024, 7.4063.
func TestImplied(t *testing.T) {
	for _, test := range []struct {
		rate string
		want Implied
	}{
		// 100 MHz of a paired band would be simplest, but has no such width: 50 MHz of n1.
		{"266.6", Implied{Layers: 1, Options: []Scheme{{1, 256, 682.5 / 1024, 20, 5.33203125}, {2, 64, 466.0 / 1024, 11, 5.4609375}}, Statement: "5.33 bit/s/Hz needs 1 layer at least on average, with 256QAM at code rate 0.67; spread over 2 layers, 64QAM at code rate 0.46."}},
		{"740.6", Implied{Layers: 2, Options: []Scheme{{2, 256, 948.0 / 1024, 27, 14.8125}}, Statement: "14.81 bit/s/Hz needs 2 layers at least on average, with 256QAM at code rate 0.93."}},
		{"740.7", Implied{Statement: "14.81 bit/s/Hz is more than 2 layers of 256QAM carry at the highest code rate."}},
		{"0", Implied{Layers: 1, Options: []Scheme{{1, 4, 120.0 / 1024, 0, 0.234375}, {2, 4, 120.0 / 1024, 0, 0.46875}}, Statement: "0.00 bit/s/Hz needs 1 layer at least on average, with QPSK at code rate 0.12; spread over 2 layers, QPSK at code rate 0.12."}},
	} {
		n := analysed(t, "carriers = 'n1:50,layers=2,qam=256'\n[[network.run]]\ndown = "+test.rate+"\n")
		got := *n.Runs[0].Down.Implied
		if got.Source != (render.Source{Spec: "TS 38.214", Version: "19.3.0", Table: "5.1.3.1-2"}) {
			t.Errorf("source %v", got.Source)
		}
		if len(test.want.Options) > 0 {
			test.want.Lowest = &test.want.Options[0]
		} else {
			test.want.Options = []Scheme{}
		}
		test.want.Source = got.Source
		if diff := cmp.Diff(test.want, got); diff != "" {
			t.Errorf("%s Mbit/s (-want +got)\n%s", test.rate, diff)
		}
	}
	// The lowest product need not be the one with the fewest layers: 5.4 bit/s/Hz are
	// 5.5547 with one layer (MCS 21, 711/1024 of 256QAM) and 5.4609 with two.
	n := analysed(t, "carriers = 'n1:50,layers=2,qam=256'\n[[network.run]]\ndown = 270\n")
	if i := n.Runs[0].Down.Implied; i.Lowest.Layers != 2 || i.Lowest.Bits != 5.4609375 || i.Layers != 1 {
		t.Errorf("%+v", i)
	}
	// LTE alone is held against its CQI table (TS 36.213 Table 7.2.3-2): CQI 15 is
	// 256QAM at 948/1024.
	n = analysed(t, "carriers = 'B3:20,layers=2,qam=256'\n[[network.run]]\ndown = 290\n")
	if i := n.Runs[0].Down.Implied; i.Layers != 2 || i.Lowest.Index != 15 || i.Lowest.CodeRate != 948.0/1024 || i.Source.Table != "7.2.3-2" {
		t.Errorf("%+v", i)
	}
}

// TestQuartiles: the medians of the lower and the upper half, without the middle.
func TestQuartiles(t *testing.T) {
	for _, test := range []struct {
		values                            string
		median, low, high, lower, quarter float64
		quartiles                         bool
	}{
		{"5", 5, 5, 5, 0, 0, false},
		{"7 5 6", 6, 5, 7, 0, 0, false},
		{"4 1 3 2", 2.5, 1, 4, 1.5, 3.5, true},
		{"1 2 3 4 5", 3, 1, 5, 1.5, 4.5, true},
		{"10 20 30 40 50 60", 35, 10, 60, 20, 50, true},
		{"2 2 2 2 90", 2, 2, 90, 2, 46, true},
	} {
		var list []quantity.Decimal
		for _, s := range strings.Fields(test.values) {
			list = append(list, decimal(t, s))
		}
		s := spreadOf(list)
		if s.Count != len(list) || s.Median != test.median || s.Min != test.low || s.Max != test.high || (s.LowerQuartile != nil) != test.quartiles ||
			test.quartiles && (*s.LowerQuartile != test.lower || *s.UpperQuartile != test.quarter) {
			t.Errorf("%s: %+v, quartiles %s, %s", test.values, *s, text(s.LowerQuartile), text(s.UpperQuartile))
		}
		if s.Min > s.Median || s.Median > s.Max {
			t.Errorf("%s out of order: %+v", test.values, s)
		}
	}
	if spreadOf(nil) != nil {
		t.Error("a spread of nothing")
	}
}

func TestTransfers(t *testing.T) {
	n := analysed(t, `carriers = 'B3:20,qam=64,layers=2,ulqam=64'
[[network.run]]
down = 80
up = 40
[[network.transfer]]
size = "1 GiB"
seconds = 107.4
[[network.transfer]]
size = "50 MB"
seconds = 10
direction = "up"
[[network.transfer]]
size = "1 GB"
seconds = 30
`)
	gib, up, fast := &n.Transfers[0], &n.Transfers[1], &n.Transfers[2]
	if gib.Bits != 8589934592 || !near(gib.Expected, 107.374, 0.001) || !near(gib.OfMedian, 1, 0.001) || gib.Direction != "down" {
		t.Errorf("%+v", gib)
	}
	if up.Mean != 40 || !near(up.Median, 40, 0) || !near(up.Expected, 10, 0) || !near(up.OfMedian, 1, 0) || up.Direction != "up" {
		t.Errorf("%+v", up)
	}
	// 266.7 Mbit/s are more than the 150.752 of 20 MHz with two layers of 64QAM.
	if fast.Exceeds != "maximum" || !strings.Contains(fast.Statement, "more than these carriers can yield in the downlink, 150.8 Mbit/s at most") {
		t.Errorf("%+v", fast)
	}
	n = analysed(t, "carriers = 'B3:20'\n[[network.run]]\ndown = 0\n[[network.transfer]]\nsize = '1 MB'\nseconds = 1\n")
	if x := n.Transfers[0]; x.Expected != nil || x.Median != nil || x.Statement != "1 MB in 1 s is 8 Mbit/s on average." {
		t.Errorf("%+v", x)
	}
}

func TestRadios(t *testing.T) {
	for _, test := range []struct {
		network         string
		layers, phones  int
		assumed         bool
		statements      int
		words           string
		carrierLayers   int
		layersOfCarrier string // what the rates say they rest on
	}{
		{"device = { receive_antennas = 4 }\n[[network.radio]]\nports = '64T64R'\n", 4, 16, false, 2, "up to 16 such phones", 4, "the device has 4 receive antennas"},
		{"[[network.radio]]\nports = '8T8R'\n", 4, 2, true, 2, "(as the standard asks for; the log does not say)", 4, "four receive antenna ports in this band"},
		{"device = { receive_antennas = 4 }\n[[network.radio]]\nports = '2T2R'\n", 2, 1, false, 1, "as many as there are transmit ports; it has 4 receive antennas", 2, "the radio has 2 transmit ports connected"},
		{"device = { receive_antennas = 4 }\n[[network.radio]]\nports = '8T8R'\nconnected = [1, 2]\nantenna = 'omni'\n", 2, 1, false, 2, "2 of 8 transmit ports are connected", 2, "the radio has 2 transmit ports connected"},
		{"device = { receive_antennas = 4 }\n[[network.radio]]\nports = '8T8R'\nconnected = 0\n", 0, 0, false, 2, "serves nobody", 4, "the device has 4 receive antennas"},
		{"device = { receive_antennas = 1 }\n[[network.radio]]\nports = '8T8R'\nconnected = 6\n", 1, 6, false, 3, "it has 1 receive antenna.", 1, "the device has 1 receive antenna"},
		{"device = { receive_antennas = 2 }\n[[network.radio]]\nports = '3T4R'\n", 2, 1, false, 2, "add power and diversity", 2, "the device has 2 receive antennas"},
		{"device = { receive_antennas = 16 }\n[[network.radio]]\nports = '32T32R'\n", 8, 4, false, 2, "at most 8 layers", 8, "the device has 16 receive antennas"},
		{"device = { receive_antennas = 4 }\n[[network.radio]]\nports = '8T8R'\nantenna = 'omni'\n", 4, 2, false, 3, "An omni antenna seldom gives more than two ports", 4, "the device has 4 receive antennas"},
		{"device = { receive_antennas = 4 }\n[[network.radio]]\nports = '2T2R'\nbands = ['B3']\n", 2, 1, false, 1, "", 4, "the device has 4 receive antennas"},
		{"[[network.radio]]\nports = '2T2R'\nbands = ['B3']\n", 2, 1, true, 1, "2 receive antennas (as", 4, "four receive antenna ports in this band"},
	} {
		n := analysed(t, "carriers = 'n78:100'\n"+test.network)
		r := &n.Radios[0]
		if r.PhoneLayers != test.layers || r.Phones != test.phones || r.Assumed != test.assumed || len(r.Statements) != test.statements || !strings.Contains(strings.Join(r.Statements, "\n"), test.words) {
			t.Errorf("%s%+v", test.network, r)
		}
		if got := n.Carriers[0].Downlink.Layers; got != test.carrierLayers {
			t.Errorf("%s%d layers, want %d", test.network, got, test.carrierLayers)
		}
		said := ""
		for _, a := range n.Assumptions {
			said += a.Text + "\n"
		}
		if !strings.Contains(said, test.layersOfCarrier) {
			t.Errorf("%s%q not said among\n%s", test.network, test.layersOfCarrier, said)
		}
	}
}

func TestDevice(t *testing.T) {
	n := analysed(t, "carriers = 'B3:20 + n78:100 + n258:100 + n75:20'\ndevice = { receive_antennas = 4, transmit_antennas = 1, qam = 1024, ulqam = 256 }\n")
	for i, want := range []int{1024, 1024, 256, 1024} { // FR2 has no 1024QAM
		if got := n.Carriers[i].Downlink.QAM; got != want {
			t.Errorf("%s: %dQAM, want %d", n.Carriers[i].Band, got, want)
		}
	}
	if n.Carriers[0].Uplink.QAM != 256 || n.Carriers[3].Uplink != nil {
		t.Errorf("uplinks %+v, %+v", n.Carriers[0].Uplink, n.Carriers[3].Uplink)
	}
	// What the carriers say goes before what the device can.
	n = analysed(t, "carriers = 'n78:100,layers=2,qam=64,ulqam=16,ullayers=2'\ndevice = { receive_antennas = 4, transmit_antennas = 1, qam = 256, ulqam = 64 }\n")
	if c := n.Carriers[0]; c.Downlink.Layers != 2 || c.Downlink.QAM != 64 || c.Uplink.QAM != 16 || c.Downlink.LayersAssumed {
		t.Errorf("%+v, %+v", c.Downlink, c.Uplink)
	}
	if f := findings(n, "device-layers"); len(f) != 1 || !strings.Contains(f[0].Message, "2 layers in the uplink are written down, but the device has 1 transmit antenna.") || f[0].Carrier != "carrier 1 (n78)" {
		t.Errorf("findings %+v", f)
	}
	n = analysed(t, "carriers = 'n78:100,layers=4'\ndevice = { receive_antennas = 2 }\n[[network.radio]]\nports = '2T2R'\n")
	if f := append(findings(n, "device-layers"), findings(n, "radio-layers")...); len(f) != 2 || !strings.Contains(f[0].Message, "no more layers than it has receive antennas") || !strings.Contains(f[1].Message, "the radio has 2 transmit ports") {
		t.Errorf("findings %+v", f)
	}
}

func findings(n *NetworkReport, rule string) []render.Finding {
	var list []render.Finding
	for _, f := range n.Findings {
		if f.Rule == rule {
			list = append(list, f)
		}
	}
	return list
}

func TestCarriers(t *testing.T) {
	n := analysed(t, "carriers = 'B3:20@1300,role=pcell,pci=7,rsrp=-85.5,sinr=3 + n78:40@3500.04MHz + n78:40@3540MHz + n78:20@3700.02MHz + n78:20'\n")
	c := &n.Carriers[0]
	if c.Text != "B3:20@1300,role=pcell,pci=7,rsrp=-85.5,sinr=3" || c.RAT != "LTE" || c.Duplex != "FDD" || c.Role != "pcell" || *c.Channel != 1300 || *c.PCI != 7 || *c.RSRP != -85.5 || *c.SINR != 3 || !c.Transmits {
		t.Errorf("%+v", c)
	}
	// EARFCN 1300 is 1805 + 0.1 (1300 - 1200) = 1815 MHz, and 95 MHz below in the uplink
	// (TS 36.101 Tables 5.7.3-1 and 5.7.4-1).
	if d := c.Downlink; !near(d.Low, 1805, 0) || !near(d.Centre, 1815, 0) || !near(d.High, 1825, 0) || d.Blocks != 100 || d.Rates == nil {
		t.Errorf("%+v", d)
	}
	if u := c.Uplink; u.Width != 20 || !near(u.Low, 1710, 0) || !near(u.Centre, 1720, 0) || !near(u.High, 1730, 0) {
		t.Errorf("%+v", u)
	}
	if c := &n.Carriers[1]; c.Channel != nil || c.PCI != nil || c.RSRP != nil || c.Pattern == "" || !c.PatternAssumed || *c.DownlinkShare <= 0.5 || c.SCS != 30 || c.Range != "FR1" {
		t.Errorf("%+v", c)
	}
	if c := &n.Carriers[4]; c.Downlink.Low != nil || c.Downlink.Centre != nil || c.Uplink.Rates != nil {
		t.Errorf("%+v", c)
	}
	var blocks []string
	for _, b := range n.Blocks {
		blocks = append(blocks, fmt.Sprintf("%s %v placed %v gap %v", b.Band, b.Carriers, b.Placed, b.Gap != nil))
	}
	want := []string{"B3 [1] placed true gap false", "n78 [2 3] placed true gap true", "n78 [4] placed true gap false", "n78 [5] placed false gap false"}
	if diff := cmp.Diff(want, blocks); diff != "" {
		t.Errorf("blocks (-want +got)\n%s", diff)
	}
	if g := n.Blocks[1].Gap; !near(g, 3690.02-3560, 0.5) {
		t.Errorf("gap %s MHz", text(g))
	}
}

func TestConfigurations(t *testing.T) {
	n := analysed(t, "carriers = 'B3:20 + n78:100'\n")
	if len(n.Configurations) == 0 || n.Configurations[0].ID != "DC_3A_n78A" || !n.Configurations[0].Listed || !n.Configurations[0].Holds || !n.Valid || !n.Complete {
		t.Errorf("%+v", n.Configurations)
	}
	n = analysed(t, "carriers = 'B3:20@1300 + B3:20@1350'\n")
	if n.Valid || len(findings(n, "overlap")) != 1 || n.Peak == nil {
		t.Errorf("carriers that overlap: valid %v, %+v", n.Valid, n.Findings)
	}
}

func TestShared(t *testing.T) {
	log := func(first, second, third string) *Report {
		r := Analyse(mustRead(t, "title = 't'\n[[network]]\nname = 'a'\ncarriers = '"+first+"'\n[[network]]\nname = 'b'\ncarriers = '"+second+"'\n[[network]]\nname = 'c'\ncarriers = '"+third+"'\n"))
		checkReport(t, r)
		return r
	}
	r := log("B3:20@1300,pci=7", "B3:20@1815MHz,pci=7", "B7:20@3050 + B3:20@1500")
	if len(r.Shared) != 1 || *r.Shared[0].PCI != 7 || r.Shared[0].Statement != "a and b show a carrier on B3 at 1815 MHz with the same PCI 7: consistent with one cell that the networks share." {
		t.Errorf("%+v", r.Shared)
	}
	r = log("B3:20@1300,pci=7", "B3:20@1300,pci=8", "B3:20@1300")
	if len(r.Shared) != 1 || r.Shared[0].PCI != nil || !strings.Contains(r.Shared[0].Statement, "a and b and c show a carrier on B3 at 1815 MHz: at one place") {
		t.Errorf("%+v", r.Shared)
	}
	if r = log("B3:20,pci=7", "B3:20,pci=7", "n3:20@1815MHz"); len(r.Shared) != 0 {
		t.Errorf("%+v", r.Shared)
	}
}

func TestNeighbours(t *testing.T) {
	n := analysed(t, `carriers = 'B3:20@1550,pci=33'
[[network.neighbour]]
band = "B3"
frequency = 1840
pci = 63
rsrp = -101
[[network.neighbour]]
band = "B3"
channel = 19550
pci = 36
[[network.neighbour]]
band = "B3"
channel = 1551
pci = 33
`)
	var got []string
	for _, c := range n.Cells.Clashes {
		got = append(got, fmt.Sprintf("%s, %s: %s", c.Cells[0], c.Cells[1], c.Relation))
	}
	// 33, 63 and 36 are 3, 3 and 6 modulo 30, and all 0 modulo 3. The third cell is on
	// another channel; EARFCN 19550 is the uplink of 1550.
	want := []string{"carrier 1, neighbour 1: modulo-30", "carrier 1, neighbour 2: modulo-3", "neighbour 1, neighbour 2: modulo-3"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if x := n.Cells.Neighbours[0]; x.Number != 1 || x.Channel != nil || !near(x.Centre, 1840, 0) || x.PCI != 63 || !near(x.RSRP, -101, 0) {
		t.Errorf("%+v", x)
	}
	if x := n.Cells.Neighbours[1]; *x.Channel != 19550 || !near(x.Centre, 1840, 0) || x.RSRP != nil {
		t.Errorf("%+v", x)
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
	if n.Peak != nil || n.PeakError == "" || n.Valid || n.Runs[0].Down.OfMax != nil || n.Runs[0].Down.ActiveEfficiency != nil || len(r.Claims) != 1 || r.Claims[0].Verdict != claim.Undecided {
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
