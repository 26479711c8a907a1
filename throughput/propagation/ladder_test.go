package propagation

import (
	"math"
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput"
)

func ladder(t *testing.T, c *Coverage, text string) *Ladder {
	t.Helper()
	carriers, err := ca.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	emissions := make([]Emission, len(carriers))
	for i := range emissions {
		emissions[i] = Emission{Power: 46, Gain: 16}
	}
	l, err := c.NewLadder(carriers, emissions)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// Rates fall with the distance and never exceed the scheduled rate; sums are those of
// the carriers.
func TestLadder(t *testing.T) {
	c := &Coverage{Path: Path{Scenario: FreeSpace}}
	l := ladder(t, c, "B3:20 + n78:100,layers=4 + n28:10")
	before := l.Ceiling()
	for d := 10.0; d < 1e6; d *= 1.7 {
		r := l.At(d)
		if r.Err != nil {
			t.Fatal(r.Err)
		}
		if r.Sum.Downlink > before.Downlink+1 || r.Sum.Uplink > before.Uplink+1 {
			t.Errorf("%g m: %+v, nearer %+v", d, r.Sum, before)
		}
		sum := 0.0
		for _, x := range r.Carriers {
			sum += x.Downlink
		}
		if math.Abs(sum-r.Sum.Downlink) > 1 {
			t.Errorf("%g m: carriers add up to %g, not %g", d, sum, r.Sum.Downlink)
		}
		before = r.Sum
	}
}

// One layer in free space worked out by hand: n78:20 at 30 kHz has 51 resource blocks;
// 62 dBm over 612 subcarriers are 34.13 dBm each, the loss at 20 km on 3550 MHz is
// 129.47 dB, and the noise of a subcarrier at 9 dB is -120.23 dBm, so that the SNR is
// 24.89 dB.
func TestLadderByHand(t *testing.T) {
	c := &Coverage{Path: Path{Scenario: FreeSpace}}
	l := ladder(t, c, "n78:20@3550.02MHz,layers=1,qam=256")
	snr := 62 - 10*math.Log10(612) - (20*math.Log10(4*math.Pi*20000*3550.02e6/299792458) + 0) - (-174 + 10*math.Log10(30000) + 9)
	if math.Abs(snr-24.89) > 0.05 {
		t.Fatalf("SNR %g", snr)
	}
	curve := throughput.LinkCurveTR38803(bands.Downlink)
	want := min(curve.Efficiency(snr)*20e6*l.alone[0].Carriers[0].Frame.Share(bands.Downlink).Float(), l.Ceiling().Downlink)
	if got := l.At(20000).Sum.Downlink; math.Abs(got-want) > 1e4 {
		t.Errorf("%g, want %g", got, want)
	}
}

func TestLadderReach(t *testing.T) {
	c := &Coverage{Path: Path{Scenario: UMa, Sight: NoLineOfSight, Extrapolate: true}}
	l := ladder(t, c, "n78:20")
	for _, d := range []bands.Direction{bands.Downlink, bands.Uplink} {
		far, _ := l.Reach(d, 1e6)
		near, _ := l.Reach(d, 10e6)
		if near <= 0 || far < near {
			t.Errorf("%s: 10 Mbit/s to %g m, 1 Mbit/s to %g m", d, near, far)
		}
		r := l.At(near)
		sum := map[bands.Direction]float64{bands.Downlink: r.Sum.Downlink, bands.Uplink: r.Sum.Uplink}[d]
		if sum < 10e6 || sum > 10.01e6 {
			t.Errorf("%s at %g m: %g", d, near, sum)
		}
	}
	if none, _ := l.Reach(bands.Uplink, 1e12); none != 0 {
		t.Errorf("1 Tbit/s to %g m", none)
	}
	l = ladder(t, &Coverage{Path: Path{Scenario: UMa, Sight: NoLineOfSight}}, "n28:10")
	if d, end := l.Reach(bands.Downlink, 1); !end || d < 1000 {
		t.Errorf("to %g m, at the end of the model: %v", d, end)
	}
}
