package throughput

import (
	"testing"

	"spectally/throughput/exact"
)

// TestUplinkInTurn: a supplementary uplink adds to what is scheduled wherever the uplink of
// its cell is silent (TS 38.214 V19.3.0 clause 6.1.6), and to the maximum not at all (TS
// 38.306 V19.2.0 clause 4.1.2, note). DDDSU at 30 kHz has an uplink slot in two of five
// milliseconds, so the supplementary uplink has the other three.
func TestUplinkInTurn(t *testing.T) {
	scheduled := func(carriers string) *Result {
		r := rate(t, carriers)
		if err := r.Schedule(Settings{}); err != nil {
			t.Fatal(err)
		}
		return r
	}
	cell, extra, both := scheduled("n78:80"), scheduled("n80:20 + n78:80,ul=0"), scheduled("n78:80 + n80:20")
	want := cell.Uplink.Scheduled.Add(extra.Uplink.Scheduled.Mul(exact.Of(3, 5))).Float()
	if got := both.Uplink.Scheduled.Float(); got < 0.995*want || got > 1.005*want {
		t.Errorf("%.0f bit/s in turn, want about %.0f", got, want)
	}
	if both.Uplink.Max.Cmp(cell.Uplink.Max) != 0 || both.Uplink.Schedulable.Cmp(both.Uplink.Scheduled) < 0 {
		t.Errorf("%+v", both.Uplink)
	}
	if list := both.InTurn(); len(list) != 2 || list[0] != 0 || list[1] != 1 || cell.InTurn() != nil {
		t.Errorf("%v", list)
	}
	paired := scheduled("n1:20 + n80:20") // no slot is silent
	if one := scheduled("n1:20"); paired.Uplink.Scheduled.Cmp(one.Uplink.Scheduled) < 0 || paired.Uplink.Scheduled.Cmp(one.Uplink.Scheduled.Mul(exact.Of(101, 100))) > 0 {
		t.Errorf("%s, alone %s", paired.Uplink.Scheduled, one.Uplink.Scheduled)
	}
}
