package throughput

import (
	"testing"

	"spectally/throughput/exact"
)

// TestSharedRates: of LTE and NR in the same spectrum the sum is that of the one that
// sends more; where half of it is shared, half of the lesser is left out.
func TestSharedRates(t *testing.T) {
	scheduled := func(carriers string) *Result {
		r := rate(t, carriers)
		if err := r.Schedule(Settings{}); err != nil {
			t.Fatal(err)
		}
		return r
	}
	both := scheduled("B3:20@1300 + n3:20@363000")
	lte, nr := both.Carriers[0].Downlink, both.Carriers[1].Downlink
	if both.Downlink.Max.Cmp(nr.Max) != 0 || both.Downlink.Scheduled.Cmp(nr.Scheduled) != 0 || nr.Scheduled.Cmp(lte.Scheduled) <= 0 {
		t.Errorf("%s, of %s and %s", both.Downlink.Scheduled, lte.Scheduled, nr.Scheduled)
	}
	half := scheduled("B3:20@1300 + n3:20@365000")
	want := nr.Scheduled.Add(lte.Scheduled.Mul(exact.Of(1, 2)))
	if half.Downlink.Scheduled.Cmp(want) != 0 {
		t.Errorf("%s, want %s", half.Downlink.Scheduled, want)
	}
	apart := scheduled("B3:20 + n3:20")
	if apart.Downlink.Scheduled.Cmp(nr.Scheduled.Add(lte.Scheduled)) != 0 {
		t.Errorf("%s", apart.Downlink.Scheduled)
	}
}
