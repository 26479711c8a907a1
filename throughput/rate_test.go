package throughput

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/ca"
)

func rate(t *testing.T, carriers string) *Result {
	t.Helper()
	c, err := ca.Parse(carriers)
	if err != nil {
		t.Fatal(err)
	}
	r, err := Rate(ca.Assess(c))
	if err != nil {
		t.Fatal(err)
	}
	if err := r.Schedule(Settings{}); err != nil {
		t.Fatal(err)
	}
	return r
}

func TestRateOfCombinations(t *testing.T) {
	tests := []struct {
		carriers string
		dl, ul   float64 // Mbit/s
		source   string
	}{
		// TS 38.306 V19.2.0 clause 4.1.2, its formula in exact arithmetic.
		{"n78:100,scs=30,layers=4,qam=256", 2337.000120, 468.758745, "formula"},
		{"n78:100,ullayers=2,ulqam=256", 2337.000120, 1250.023320, "formula"},
		{"n1:20,layers=4", 453.703320, 91.004445, "formula"},
		{"n78:100,scale=0.8", 1869.600096, 375.006996, "formula"},
		{"n1:20,layers=4 + n78:100", 2790.703440, 91.004445, "sum over carriers"},
		// TS 36.213 V19.3.0 Tables 7.1.7.2.1-1 and 7.1.7.2.2-1.
		{"B3:20", 150.752, 75.376, "2 x 75376"},
		{"B3:20,layers=1,qam=256", 97.896, 75.376, "I_TBS 33"},
		{"B3:20,layers=4,qam=256,ulqam=256", 391.632, 105.528, "2 x 195816, I_TBS 34"},
		{"B3:20,ulqam=16", 150.752, 51.024, "UE category without 64QAM, TS 36.306 Table 4.1-2"},
		// EN-DC is the sum of both parts.
		{"B3:20 + n78:100", 2487.752120, 544.134745, "TS 38.306 clause 4.1.2"},
		// Of an uplink and its supplementary uplink only the faster counts.
		{"n78:100 + n80:20", 2337.000120, 468.758745, "uplink of n78"},
		{"n78:10,scs=30 + n80:30", 205.450560, 137.365200, "n80 at 15 kHz, 160 blocks"},
	}
	for _, test := range tests {
		r := rate(t, test.carriers)
		if got := r.Downlink.Max.Mbps(); math.Abs(got-test.dl) > 1e-6 {
			t.Errorf("%s: downlink %.6f Mbit/s, want %.6f (%s)", test.carriers, got, test.dl, test.source)
		}
		if got := r.Uplink.Max.Mbps(); math.Abs(got-test.ul) > 1e-6 {
			t.Errorf("%s: uplink %.6f Mbit/s, want %.6f (%s)", test.carriers, got, test.ul, test.source)
		}
	}
}

func TestScheduledStaysBelowMaximum(t *testing.T) {
	for _, carriers := range []string{
		"B3:20", "B3:1.4", "B41:20", "B41:20,pattern=5/4", "n1:20", "n78:100", "n78:100,pattern=7DS2U/6:4:4",
		"n257:400", "n263:1600", "n78:100,layers=8,qam=1024", "n256:20", "B3:10,layers=8,qam=1024",
	} {
		r := rate(t, carriers)
		for _, d := range []bands.Direction{bands.Downlink, bands.Uplink} {
			l := r.Carriers[0].Link(d)
			if l.Scheduled.Num <= 0 || l.Scheduled.Cmp(l.Max) > 0 {
				t.Errorf("%s %s: scheduled %.3f, maximum %.3f Mbit/s", carriers, d, l.Scheduled.Mbps(), l.Max.Mbps())
			}
		}
	}
}

func TestRateErrors(t *testing.T) {
	for _, test := range []struct{ carriers, want string }{
		{"n78:35", `carrier 1 "n78:35": n78 downlink width "35 MHz": must be 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90 or 100 MHz; closest is 30 MHz (TS 38.101-1 Table 5.3.5-1)`},
		{"B3:20 + B999:20", `carrier 2 "B999:20": LTE band "B999"`},
		{"B3:20,pattern=2/7", `carrier 1 "B3:20,pattern=2/7": pattern "2/7": must be none: B3 is FDD (TS 36.101 Table 5.5-1)`},
		{"n78:100,pattern=DDX", `carrier 1 "n78:100,pattern=DDX": TDD pattern "DDX"`},
		{"n78:100,pattern=DDDU", `carrier 1 "n78:100,pattern=DDDU": `}, // 2 ms at 30 kHz holds; see below
		{"B41:20,pattern=FDD", `B41 is TDD`},
		{"B3:20,ulqam=1024", `carrier 1 "B3:20,ulqam=1024": LTE uplink constellation size "1024": must be 4, 16, 64 or 256 (TS 36.213`},
		{"n78:100,ulqam=1024", `NR uplink constellation size "1024": must be 2, 4, 16, 64 or 256 (TS 38.214`},
		{"B3:20,ulqam=2", `LTE uplink constellation size "2": must be 4, 16, 64 or 256`},
		{"B3:20,ullayers=8", `carrier 1 "B3:20,ullayers=8": `},
	} {
		c, err := ca.Parse(test.carriers)
		if err != nil {
			t.Fatal(err)
		}
		_, err = Rate(ca.Assess(c))
		if test.carriers == "n78:100,pattern=DDDU" {
			if err != nil {
				t.Errorf("%s: %v; four slots of 0.5 ms are a period of TS 38.213 clause 11.1", test.carriers, err)
			}
			continue
		}
		if err == nil || !strings.Contains(err.Error(), test.want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: error %v, want %s", test.carriers, err, test.want)
		}
	}
}

func TestQuality(t *testing.T) {
	// TR 36.942 Annex A.2 as in link_mapping.toml: 0.6 log2(1 + SINR) is 2.0757 at
	// 10 dB (arithmetic on the form).
	r := rate(t, "B3:20,sinr=10")
	q, ok := r.Quality(0)
	if !ok || math.Abs(q.Efficiency-2.0757) > 5e-5 {
		t.Fatalf("efficiency %v, %v; want 2.0757", q.Efficiency, ok)
	}
	if got, want := r.Downlink.Expected.Mbps(), 2.0757*2*20; math.Abs(got-want) > 0.01 {
		t.Errorf("expected %.3f Mbit/s, want %.3f", got, want)
	}
	// Thermal noise in 15 kHz is -174 + 41.76 dBm; with 9 dB noise figure -123.24.
	r = rate(t, "B3:20,rsrp=-110")
	if q, ok := r.Quality(0); !ok || !q.FromRSRP || math.Abs(q.SINR-13.24) > 0.005 {
		t.Errorf("ceiling %v, %v; want 13.24 dB", q.SINR, ok)
	}
	// The sum is expected only if every carrier says how good it is.
	r = rate(t, "B3:20,sinr=10 + n78:100")
	if !r.Downlink.Expected.IsZero() {
		t.Errorf("expected %v of a combination with an unknown carrier, want none", r.Downlink.Expected)
	}
}

func TestAssumptionsNameWhatWasNotSaid(t *testing.T) {
	bare := rate(t, "n78:100 + n78:80").Assumptions()
	full := rate(t, "n78:100,scs=30,layers=4,qam=256,ullayers=1,ulqam=64,pattern=DDDSU/10:2:2").Assumptions()
	count := func(list []Assumption, word string) (n, carriers int) {
		for _, a := range list {
			if fmt.Sprint(a.Band, " ", a.Direction, " ", a.Quantity, " ", a.Value) == word {
				n, carriers = n+1, len(a.Carriers)
			}
		}
		return n, carriers
	}
	for _, word := range []string{"n78 none scs 30 kHz", "n78 none pattern DDDSU/10:2:2", "n78 downlink layers 4", "n78 downlink qam 256"} {
		if n, carriers := count(bare, word); n != 1 || carriers != 2 {
			t.Errorf("%q stands %d times for %d carriers, want once for two", word, n, carriers)
		}
		if n, _ := count(full, word); n != 0 {
			t.Errorf("%q is listed as an assumption though it was given", word)
		}
	}
}

func BenchmarkCombination(b *testing.B) {
	const five = "B3:20@1300 + B7:20@2850 + n28:10@154600 + n78:80@640000,scs=30 + n78:80@645332,scs=30"
	rateOnce := func(b *testing.B) *Result {
		c, err := ca.Parse(five)
		if err != nil {
			b.Fatal(err)
		}
		a := ca.Assess(c)
		r, err := Rate(a)
		if err != nil {
			b.Fatal(err)
		}
		if a.Sum(r.DownlinkShare).Downlink != 210*bands.MHz {
			b.Fatal("wrong sum")
		}
		return r
	}
	b.Run("maximum", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			rateOnce(b)
		}
	})
	b.Run("scheduled", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if err := rateOnce(b).Schedule(Settings{}); err != nil {
				b.Fatal(err)
			}
		}
	})
}
