package fieldlog

import (
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestEarlier: 80 to 100 MHz of n78 beside 20 MHz of B3 are 100 to 120 MHz; at the quay, which
// both logs have, 400 to (480 + 520)/2 = 500 Mbit/s are 25 % more.
func TestEarlier(t *testing.T) {
	read := func(name string) *Log {
		data, err := os.ReadFile("../../../testdata/claims/" + name)
		if err != nil {
			t.Fatal(err)
		}
		return mustRead(t, string(data))
	}
	now, then := read("now.toml"), read("then.toml")
	r := AnalyseBeside(now, then).Earlier
	var got []Change
	for _, c := range r.Changes {
		if c.Figure != "scheduled" {
			got = append(got, c)
		}
	}
	want := []Change{
		{"Fellmark", "", "downlink", "MHz", 100, 120, new(20.0)},
		{"Fellmark", "quay", "down", "Mbit/s", 400, 500, new(25.0)},
	}
	near := cmp.Comparer(func(a, b float64) bool { return a-b < 1e-9 && b-a < 1e-9 })
	if diff := cmp.Diff(want, got, near); diff != "" || len(r.Changes) != 3 {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if diff := cmp.Diff([]string{"Tarnlow is not in the earlier log."}, r.Absent); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if r := Analyse(now); r.Earlier != nil {
		t.Errorf("without an earlier log %+v", r.Earlier)
	}
	if err := CheckEarlier(then, now); err == nil || !strings.Contains(err.Error(), `"2031-06-01": must be no later than that of the log, 2031-03-01`) {
		t.Errorf("a later log as the earlier one: %v", err)
	}
	if err := CheckEarlier(now, then); err != nil {
		t.Error(err)
	}
	for i := range now.Networks[0].Runs {
		now.Networks[0].Runs[i].Where = "elsewhere"
	}
	if r := AnalyseBeside(now, then).Earlier; len(r.Absent) != 2 || !strings.Contains(r.Absent[0], "No run of Fellmark was made at a place of the earlier log") {
		t.Errorf("%q", r.Absent)
	}
}
