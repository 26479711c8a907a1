package throughput_test

import (
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput"
	"spectally/throughput/exact"
)

// Nothing at all yields nothing, and what cannot be is an error; neither panics.
func TestZeroValues(t *testing.T) {
	for _, a := range []*ca.Assessment{{}, ca.Assess(nil), ca.AssessName(ca.Name{})} {
		r, err := throughput.Rate(a)
		if err != nil {
			t.Fatal(err)
		}
		if err := r.Schedule(throughput.Settings{}); err != nil {
			t.Fatal(err)
		}
		for _, sum := range []throughput.Rates{r.Downlink, r.Uplink} {
			if sum.Max.Num != 0 || sum.Scheduled.Num != 0 || sum.Expected.Num != 0 {
				t.Errorf("no carriers yield %+v", sum)
			}
		}
		if len(r.Findings()) > 0 {
			t.Error("something is found in nothing")
		}
		if s := (&throughput.Device{}).Serve(r); len(s.Carriers) != 0 {
			t.Errorf("%+v", s)
		}
		if _, err := r.GoodputSum(bands.Downlink, &throughput.DefaultPacketHeaders, &throughput.LTEPacketHeaders); err != nil {
			t.Error(err)
		}
		if shares, err := throughput.DownlinkShares(a); err != nil || shares == nil {
			t.Error(err)
		}
	}
	if _, err := throughput.Rate(ca.Assess(ca.Combination{{}})); err == nil {
		t.Error("the zero carrier has a rate")
	}
	var nothing throughput.Result
	if held, err := nothing.Within(throughput.Format{}); err != nil || held.Sum(bands.Uplink).String() != "none" && held.Uplink.Max.Num != 0 || len(nothing.Assumptions()) != 1 || nothing.InTurn() != nil {
		t.Errorf("the zero Result: %v, %v", held, err)
	}
	if e := (&throughput.CarrierRates{}).PeakEfficiency(bands.Downlink); !e.IsZero() {
		t.Errorf("the zero CarrierRates: %v", e)
	}
	var zero exact.Ratio
	one := exact.Whole(1)
	if zero.String() == "" || zero.Float() != 0 || zero.Mbps() != 0 || zero.Round() != 0 || zero.Reduced() != zero || zero.Add(one) != one || one.Add(zero) != one || zero.Mul(one).Num != 0 || zero.Cmp(one) >= 0 || zero.Percent() == "" || zero.Rate() != "none" {
		t.Errorf("the zero Ratio: %v", zero)
	}
}
