package throughput

import (
	"errors"
	"slices"
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput/exact"
)

// A carrier of licensed-assisted access may have any subframe for one direction (TS 36.211
// clause 4.3): each that is downlink has two blocks of 75376 bits (TS 36.213 V19.3.0 Table
// 7.1.7.2.1-1, I_TBS 26 with 100 blocks, whose code rate one control symbol and two antenna
// ports allow), and the others are uplink.
func TestFrameType3(t *testing.T) {
	for _, c := range []struct {
		carrier, frame string
		down           int64
		assumed        bool
	}{
		{"B46:20,layers=2,qam=64", "type3/10", 10, true}, {"B49:20,layers=2,qam=64,pattern=TYPE3", "type3/10", 10, true},
		{"B46:20,layers=2,qam=64,ul=1", "type3/8", 8, true}, {"B46:20,layers=2,qam=64,ul=1,pattern=type3/3", "type3/3", 3, false},
		{"B46:20,layers=2,qam=64,ul=1,pattern=type3/0", "type3/0", 0, false},
	} {
		r := schedule(t, "B3:20 + "+c.carrier, Settings{})
		f := r.Carriers[1].Frame
		if f.String() != c.frame || f.Assumed != c.assumed || f.LTE.TDD() || f.Share(bands.Downlink).Cmp(exact.Of(c.down, 10)) != 0 {
			t.Errorf("%s: frame %v", c.carrier, f)
		}
		if got := r.Carriers[1].Downlink.Scheduled; got.Cmp(exact.Whole(c.down*2*75376*100)) != 0 {
			t.Errorf("%s: scheduled %v", c.carrier, got)
		}
		s, err := r.LTESchedule(1, bands.Downlink)
		if err != nil {
			t.Fatal(err)
		}
		if c.down > 1 && s.Subframes[0].Elements != s.Subframes[1].Elements {
			t.Errorf("%s: subframe 0 has %d elements, subframe 1 %d: no signals are taken from it", c.carrier, s.Subframes[0].Elements, s.Subframes[1].Elements)
		}
		if up := &r.Carriers[1].Uplink; !up.IsZero() {
			share := f.Share(bands.Downlink).Add(f.Share(bands.Uplink))
			if share.Cmp(exact.Whole(1)) != 0 || up.Scheduled.IsZero() {
				t.Errorf("%s: both directions have %s of the time, %s up", c.carrier, share, up.Scheduled)
			}
		}
	}
}

// TestAirtime: LTE and NR carriers of bands that others use too have what is scheduled in the
// share of time in which they have the channel; carriers of other bands have all of it, and
// the ceiling is that of a channel that nobody else uses.
func TestAirtime(t *testing.T) {
	half := Settings{Airtime: exact.Of(1, 2), SINR: ca.LevelOf(2000)}
	whole := Settings{SINR: half.SINR}
	for _, c := range []struct {
		text  string
		share exact.Ratio
	}{
		{"B3:20 + B46:20,ul=1", half.Airtime}, {"n1:20 + n46:20", half.Airtime}, {"n1:20 + n96:80,ul=1", half.Airtime},
		{"n1:20 + n102:40", half.Airtime}, {"n1:20 + n263:400", half.Airtime}, {"B3:20 + B42:20", exact.Whole(1)}, {"n1:20 + n78:40", exact.Whole(1)},
	} {
		a, b := schedule(t, c.text, whole), schedule(t, c.text, half)
		for _, d := range [...]bands.Direction{bands.Downlink, bands.Uplink} {
			x, y := a.Carriers[1].Link(d), b.Carriers[1].Link(d)
			if y.Scheduled.Cmp(x.Scheduled.Mul(c.share)) != 0 || y.Schedulable.Cmp(x.Schedulable) != 0 || y.Max.Cmp(x.Max) != 0 {
				t.Errorf("%s %s: %v of %v", c.text, d, y.Rates, x.Rates)
			}
			if y.Expected.Cmp(y.Scheduled) > 0 || c.share.Den > 1 && d == bands.Downlink && y.Expected.Cmp(x.Expected) >= 0 {
				t.Errorf("%s %s: expected %s of %s", c.text, d, y.Expected, x.Expected)
			}
		}
		if a.Carriers[0].Downlink.Scheduled.Cmp(b.Carriers[0].Downlink.Scheduled) != 0 {
			t.Errorf("%s: the licensed carrier", c.text)
		}
	}
	assumes := func(r *Result) bool {
		return slices.ContainsFunc(r.Assumptions(), func(a Assumption) bool { return a.Source == sourceAirtime })
	}
	if !assumes(schedule(t, "n1:20 + n46:20", whole)) || assumes(schedule(t, "n1:20 + n46:20", half)) || assumes(schedule(t, "n1:20", whole)) {
		t.Error("airtime is assumed where it is not said, and only there")
	}
}

// schedule rates and schedules carriers.
func schedule(t *testing.T, text string, s Settings) *Result {
	t.Helper()
	c, err := ca.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	r, err := Rate(ca.Assess(c))
	if err == nil {
		err = r.Schedule(s)
	}
	if err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	return r
}

func TestFrameType3Refusals(t *testing.T) {
	for text, want := range map[string]string{
		"B3:20 + B46:20,pattern=2/7":   `pattern "2/7": must be type3 with the downlink subframes of a frame, such as type3/8: B46 is for licensed-assisted access (TS 36.101 Table 5.5-1)`,
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
