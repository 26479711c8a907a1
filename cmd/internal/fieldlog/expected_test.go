package fieldlog

import (
	"math"
	"strings"
	"testing"
)

// TestExpected holds what runs are expected to reach to figures worked out by hand on the
// form of TR 36.942 Annex A.2, 0.6 log2(1 + SINR): 2.0757 bit/s/Hz at 10 dB, 41.5 Mbit/s
// in 20 MHz. RSRP of -110 dBm stands 13.24 dB over thermal noise in 15 kHz with a noise
// figure of 9 dB, -174 + 41.76 + 9: 2.6792 bit/s/Hz. TS 36.213 V19.3.0 Table
// 7.1.7.2.1-1: 75.376 Mbit/s on one layer of 20 MHz with 64QAM.
func TestExpected(t *testing.T) {
	const head = `title = "t"
[[network]]
name = "n"
carriers = "B3:20,layers=1,qam=64,sinr=20 + B7:20,layers=2,qam=64,sinr=10"
`
	for _, test := range []struct {
		run      string
		expected float64 // 0 for none
		from     string
		bound    bool
		share    float64 // of expected
		ofMax    float64
	}{
		{"down = 30\ncarriers = [1]\nsinr = 10", 41.51, "sinr", false, 30 / 41.51, 30 / 75.376},
		{"down = 30\ncarriers = [1]\nrsrp = -110", 53.58, "rsrp", true, 30 / 53.58, 30 / 75.376},
		{"down = 30\ncarriers = [2]", 83.03, "sinr", true, 30 / 83.03, 30 / 150.752},
		{"down = 30\ncarriers = [1, 2]\nsinr = 10", 41.51 + 83.03, "sinr", true, 30 / (41.51 + 83.03), 30 / 226.128},
	} {
		l, err := Read("t.toml", []byte(head+"[[network.run]]\n"+test.run))
		if err != nil {
			t.Fatal(err)
		}
		n := Analyse(l).Networks[0]
		r := n.Runs[0]
		near := func(got *float64, want float64) bool { return got != nil && math.Abs(*got-want) < 0.001 }
		if x := r.Expected; x == nil || math.Abs(x.Rate-test.expected) > 0.02 || x.From != test.from || x.UpperBound != test.bound {
			t.Errorf("%q: expected %+v, want %v", test.run, x, test.expected)
		}
		if !near(r.Down.OfExpected, test.share) || !near(r.Down.OfMax, test.ofMax) {
			t.Errorf("%q: %v of expected, %v of the maximum; want %v, %v", test.run, *r.Down.OfExpected, *r.Down.OfMax, test.share, test.ofMax)
		}
		if !strings.Contains(n.Gap, "do not tell which") {
			t.Errorf("%q: nothing is said of the gap: %q", test.run, n.Gap)
		}
	}
	l, err := Read("t.toml", []byte(strings.ReplaceAll(head, ",sinr=10", "")+"[[network.run]]\ndown = 200\nsinr = 5"))
	if err != nil {
		t.Fatal(err)
	}
	if n := Analyse(l).Networks[0]; n.Runs[0].Expected != nil || n.Runs[0].Down.OfExpected != nil || n.Expected != nil {
		t.Errorf("a carrier without levels: expected %+v", n.Runs[0].Expected)
	}
}
