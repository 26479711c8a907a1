package claim

import (
	"testing"

	"spectally/cmd/internal/quantity"
)

// 60 000 ms over a latency are round trips a minute: common practice, no source.
func TestLatencyWithoutMeasurementsSaysWhatItMeans(t *testing.T) {
	decimal := func(s string) quantity.Decimal {
		d, err := quantity.ParseDecimal(s)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	for _, test := range []struct {
		claim Claim
		want  string
	}{
		{Claim{IdleMs: decimal("20"), LoadedMs: decimal("75")}, "No measured latency is given to hold it against. 75 ms under load are 800 round trips a minute; the load adds 55 ms."},
		{Claim{LoadedMs: decimal("100")}, "No measured latency is given to hold it against. 100 ms under load are 600 round trips a minute."},
		{Claim{IdleMs: decimal("20")}, "No measured latency is given to hold it against."},
	} {
		j, err := Judge(test.claim, Evidence{})
		if err != nil {
			t.Fatal(err)
		}
		if j.Summary != test.want || j.Verdict != Undecided {
			t.Errorf("%v %q, want undecided %q", j.Verdict, j.Summary, test.want)
		}
	}
}
