package throughput

import (
	"fmt"
	"math"
	"testing"

	"spectally/bands"
	"spectally/throughput/exact"
	"spectally/throughput/nr"
)

// TestLinkCurveForm checks the truncated Shannon form on arithmetic of our own. The
// factors are from memory or second-hand and decide nothing here beyond that.
func TestLinkCurveForm(t *testing.T) {
	c := LinkCurve{Alpha: 0.6, MinSINR: -10, MaxEfficiency: 4.4}
	for _, v := range []struct{ sinr, want float64 }{
		{-10, 0.0825}, {0, 0.6}, {10, 2.0757}, {20, 3.9949}, {22.05, 4.4}, {30, 4.4}, {-10.01, 0}, {math.Inf(-1), 0}, {math.Inf(1), 4.4},
	} {
		if got := c.Efficiency(v.sinr); math.Abs(got-v.want) > 0.00005 {
			t.Errorf("%g dB: %.4f, want %.4f", v.sinr, got, v.want)
		}
	}
	if got := c.MaxSINR(); math.Abs(got-22.05) > 0.005 {
		t.Errorf("the maximum is reached at %.3f dB, want 22.05", got)
	}
	if c.Efficiency(math.NaN()) != 0 {
		t.Error("efficiency at no SINR")
	}
}

// TestLinkCurves checks that no curve jumps but at its lowest SINR, that each rises,
// and that each says where it comes from.
func TestLinkCurves(t *testing.T) {
	for d := bands.Downlink; d <= bands.Uplink; d++ {
		for _, c := range []LinkCurve{LinkCurveTR36942(d), LinkCurveTR38803(d)} {
			if c.Source.Spec == "" || c.Note == "" || c.Title == "" || c.Alpha <= 0 || c.Alpha >= 1 {
				t.Errorf("%+v", c)
			}
			last := 0.0
			for sinr := c.MinSINR; sinr < 40; sinr += 0.01 {
				e := c.Efficiency(sinr)
				if e < last || sinr > c.MinSINR && e-last > 0.01*c.Alpha/3 || e > c.MaxEfficiency || e > math.Log2(1+fromDB(sinr)) {
					t.Fatalf("%s %s at %.2f dB: %.4f after %.4f", c.Source, d, sinr, e, last)
				}
				last = e
			}
			if last != c.MaxEfficiency || math.Abs(c.Efficiency(c.MaxSINR())-c.MaxEfficiency) > 1e-9 {
				t.Errorf("%s %s ends at %.4f", c.Source, d, last)
			}
		}
	}
}

// TestSubcarrierNoise checks thermal noise against k T B with the CODATA value of the
// Boltzmann constant (exact since 2019) at 290 K: within the rounding of -174 dBm/Hz.
func TestSubcarrierNoise(t *testing.T) {
	const boltzmann = 1.380649e-23
	for _, n := range nr.Numerologies() {
		exact := 10 * math.Log10(boltzmann*290*float64(n.SCS)*1000)
		if got := SubcarrierNoise(n.SCS, 0); math.Abs(got-exact) > 0.03 {
			t.Errorf("%s: %.3f dBm, k T B is %.3f", n.SCS, got, exact)
		}
		if got := SubcarrierNoise(n.SCS, 7.5) - SubcarrierNoise(n.SCS, 0); math.Abs(got-7.5) > 1e-9 {
			t.Errorf("%s: a noise figure of 7.5 dB adds %.3f", n.SCS, got)
		}
	}
	// -174 + 10 log10(30000) + 9 = -120.23 dBm.
	if got := SNRCeiling(-100, 30*bands.KHz, 9); math.Abs(got-20.229) > 0.001 {
		t.Errorf("%.3f dB", got)
	}
}

func TestExpectedRate(t *testing.T) {
	// 2.5 bit/s/Hz on 4 layers and 100 MHz, three quarters of the time.
	if got := ExpectedRate(2.5, 4, 100*bands.MHz, exact.Of(3, 4)); got != 750e6 {
		t.Errorf("%v", got)
	}
}

func ExampleLinkCurve_Efficiency() {
	c := LinkCurveTR38803(bands.Downlink)
	e := c.Efficiency(15)
	m, _ := nr.MCS256QAM.Within(e)
	fmt.Printf("%.3f bit/s/Hz, CQI %d, MCS %d\n", e, nr.MCS256QAM.CQIWithin(e).Index, m.Index)
	// Output:
	// 3.017 bit/s/Hz, CQI 7, MCS 11
}
