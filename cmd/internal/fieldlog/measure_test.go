package fieldlog

import (
	"strings"
	"testing"

	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/quantity"
)

// TestShares: n78 with 100 MHz, 30 kHz, 4 layers and 256QAM has a maximum of 2337.0
// Mbit/s (TS 38.306 clause 4.1.2); the pattern DDDSU/10:2:2 leaves 52 of 70 symbols to
// the downlink.
func TestShares(t *testing.T) {
	n := analysed(t, "carriers = 'n78:100,layers=4,qam=256,pattern=DDDSU/10:2:2'\n[[network.run]]\ndown = 2340\n[[network.run]]\ndown = 1168.5\n[[network.run]]\ndown = 1700\n")
	if !strings.HasPrefix(figures.Optional(n.Downlink.Max), "2337.0") {
		t.Fatalf("maximum %s Mbit/s", figures.Optional(n.Downlink.Max))
	}
	over, half, sent := n.Runs[0].Down, n.Runs[1].Down, n.Runs[2].Down
	if over.Exceeds != "maximum" || !strings.HasPrefix(over.Flag, "2340 Mbit/s is more than these carriers can yield in the downlink, 2337 Mbit/s at most.") {
		t.Errorf("%+v", over)
	}
	if half.Exceeds != "" || !near(half.OfMax, 0.5, 0.0001) {
		t.Errorf("%+v", half)
	}
	if sent.Exceeds != "scheduled" || !strings.Contains(sent.Flag, "more than a usual network schedules over these carriers in the downlink") {
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

// TestPlaces: what load adds is worked out within a place. Idle at 20 ms on the quay and
// loaded at 60 ms there are 40 ms; the 60 ms without load of the hall have no part in it.
func TestPlaces(t *testing.T) {
	n := analysed(t, "carriers = 'n78:100'\n"+
		"[[network.run]]\nwhere = 'quay'\ndown = 400\nidle_ms = 20\nloaded_down_ms = 60\n"+
		"[[network.run]]\nwhere = 'hall'\ndown = 90\nidle_ms = 60\n"+
		"[[network.run]]\nwhere = 'hall'\ndown = 110\n"+
		"[[network.transfer]]\nsize = '100 MB'\nseconds = 8\nwhere = 'hall'\n"+
		"[[network.transfer]]\nsize = '100 MB'\nseconds = 8\nwhere = 'roof'\n")
	if !near(n.Latency.Added.Down, 40, 0) {
		t.Errorf("load adds %v ms", n.Latency.Added.Down)
	}
	if len(n.Places) != 2 || n.Places[1].Where != "hall" || n.Places[1].Down.Rate != 100 || n.Places[1].Added.Down != nil {
		t.Errorf("places %+v", n.Places)
	}
	if c := compared(n); c.Place != "hall" || *c.MedianDown != 100 {
		t.Errorf("the headline is %+v", c)
	}
	if x := n.Transfers; !near(x[0].Median, 100, 0) || x[1].Median != nil {
		t.Errorf("transfers %+v", x)
	}
}

// TestTransferBesideItsRuns: 1 GB at 400 Mbit/s takes 20 s, at 100 Mbit/s 80 s (8000 Mbit).
func TestTransferBesideItsRuns(t *testing.T) {
	const runs = "carriers = 'n78:100'\n[[network.run]]\ndown = 400\nwhere = 'a'\nwhen = '09:00'\n[[network.run]]\ndown = 100\nwhere = 'a'\nwhen = '21:00'\n[[network.run]]\ndown = 800\nwhere = 'b'\nwhen = '09:00'\n"
	for _, test := range []struct {
		transfer string
		expected float64
		about    string
	}{
		{"where = 'a'\nwhen = '09:30'", 20, "runs at the same place within an hour, 400 Mbit/s"},
		{"where = 'a'\nwhen = '20:30'", 80, "runs at the same place within an hour, 100 Mbit/s"},
		{"where = 'a'\nwhen = '15:00'", 32, "runs at the same place, 250 Mbit/s"},
		{"where = 'a'", 32, "runs at the same place, 250 Mbit/s"},
		{"where = 'b'\nwhen = '15:00'", 10, "runs at the same place, 800 Mbit/s"},
	} {
		n := analysed(t, runs+"[[network.transfer]]\nsize = '1 GB'\nseconds = 30\n"+test.transfer+"\n")
		if x := n.Transfers[0]; x.Expected == nil || *x.Expected != test.expected || !strings.Contains(x.Statement, test.about) {
			t.Errorf("%s: %v, %s", test.transfer, x.Expected, x.Statement)
		}
	}
}
