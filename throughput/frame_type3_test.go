package throughput

import (
	"errors"
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput/exact"
	"spectally/throughput/lte"
)

// A carrier of licensed-assisted access may have any subframe for a direction (TS
// 36.211 clause 4.3): ten blocks of 75376 bits for each of two layers in a frame (TS
// 36.213 V19.3.0 Table 7.1.7.2.1-1, I_TBS 26 with 100 blocks, whose code rate one
// control symbol and two antenna ports allow).
func TestFrameType3(t *testing.T) {
	c, err := ca.Parse("B3:20 + B46:20,layers=2,qam=64 + B49:20,layers=2,qam=64,pattern=TYPE3")
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
	for i := 1; i <= 2; i++ {
		f := r.Carriers[i].Frame
		if f.String() != "type3" || f.Assumed || f.LTE.TDD() || f.Share(bands.Downlink) != (exact.Whole(1)) || f.Share(bands.Uplink) != (exact.Whole(1)) {
			t.Errorf("carrier %d: frame %v", i+1, f)
		}
		if got, want := r.Carriers[i].Downlink.Scheduled, (exact.Whole(2 * 75376 * 1000)); got.Cmp(want) != 0 {
			t.Errorf("carrier %d: scheduled %v, want %v", i+1, got, want)
		}
		s, err := r.LTESchedule(i, bands.Downlink)
		if err != nil {
			t.Fatal(err)
		}
		if s.Subframes[0].Elements != s.Subframes[1].Elements {
			t.Errorf("carrier %d: subframe 0 has %d elements, subframe 1 %d: no signals are taken from it", i+1, s.Subframes[0].Elements, s.Subframes[1].Elements)
		}
	}
	if f, err := lte.ParseFrame("type3"); err != nil || f != lte.NewType3() {
		t.Errorf("%v, %v", f, err)
	}
}

func TestFrameType3Refusals(t *testing.T) {
	for text, want := range map[string]string{
		"B3:20 + B46:20,pattern=2/7":   `pattern "2/7": must be type3: B46 is for licensed-assisted access (TS 36.101 Table 5.5-1)`,
		"B3:20 + B42:20,pattern=type3": `pattern "TYPE3": must be an uplink-downlink configuration such as 2/7: B42 is TDD`,
		"B3:20,pattern=type3":          `pattern "TYPE3": must be none: B3 is FDD (TS 36.101 Table 5.5-1)`,
	} {
		c, err := ca.Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		_, err = Frames(ca.Assess(c))
		var e *bands.ValueError
		if !errors.As(err, &e) || e.Error() != want {
			t.Errorf("%s: %v, want %s", text, e, want)
		}
	}
}
