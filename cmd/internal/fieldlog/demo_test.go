package fieldlog

import (
	"encoding/json"
	"fmt"
	"maps"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func ExampleAnalyse() {
	l, err := Read("demo", []byte(Demo()))
	if err != nil {
		fmt.Println(err)
		return
	}
	r := Analyse(l)
	fmt.Println(r.Title)
	for _, c := range r.Comparison {
		fmt.Printf("%s: %s MHz, at most %s Mbit/s, measured %g (%.0f %%)\n", c.Network, c.Downlink, *c.Max, *c.MedianDown, 100**c.OfMax)
	}
	for _, c := range r.Claims {
		fmt.Printf("%s: %s %s\n", c.Network, c.Statement, c.Verdict)
	}
	// Output:
	// Three networks at the Pellwick landing stage
	// Brindlewave: 100 MHz, at most 2249.24748 Mbit/s, measured 600 (27 %)
	// Oskelund: 130 MHz, at most 2901.98916 Mbit/s, measured 913 (31 %)
	// Marrowfen: 50 MHz, at most 489.456 Mbit/s, measured 142 (29 %)
	// Brindlewave: 100 MHz in total holds
	// Oskelund: 160 MHz in total undecided
	// Brindlewave: 1 GB in 30 s at 612 Mbit/s fails
	// Oskelund: downlink peak of 2000 Mbit/s holds
	// Oskelund: idle latency 15 ms holds
	// Oskelund: reaches 600 m with 600 Mbit/s in the downlink holds
	// Oskelund: all carriers come from one site undecided
	// Marrowfen: all carriers come from one site undecided
}

// TestDemo: the demo has three networks that the standard allows, and says nothing
// that its carriers could not yield.
func TestDemo(t *testing.T) {
	r := Analyse(mustRead(t, Demo()))
	checkReport(t, r)
	var kinds []string
	for i := range r.Networks {
		n := &r.Networks[i]
		kinds = append(kinds, n.Kind+" "+n.Configurations[0].ID)
		if !n.Valid || !n.Configurations[0].Holds || n.Downlink.Max == nil {
			t.Errorf("%s: valid %v, %+v", n.Name, n.Valid, n.Configurations[0])
		}
		for _, f := range n.Findings {
			if f.Severity != "note" {
				t.Errorf("%s: %s %s", n.Name, f.Severity, f.Message)
			}
		}
		if len(n.Runs) < 2 {
			t.Errorf("%s: %d runs", n.Name, len(n.Runs))
		}
	}
	want := []string{"en-dc DC_3A_n78A", "nr-ca CA_n1A-n28A-n78A", "lte-ca CA_3A-7A-20A"}
	if diff := cmp.Diff(want, kinds); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if len(r.Networks[0].Transfers) != 1 || len(r.Networks[2].Cells.Clashes) != 2 || len(r.Sources) == 0 {
		t.Errorf("%d transfers, %d clashes, %d sources", len(r.Networks[0].Transfers), len(r.Networks[2].Cells.Clashes), len(r.Sources))
	}
	seen := make(map[string]bool)
	for _, s := range r.Sources {
		if seen[s.String()] {
			t.Errorf("source %s twice", s)
		}
		seen[s.String()] = true
	}
}

// TestJSONNames writes down the names of the JSON fields, which scripts rely on.
func TestJSONNames(t *testing.T) {
	data, err := json.Marshal(Analyse(mustRead(t, Demo())))
	if err != nil {
		t.Fatal(err)
	}
	var report map[string]any
	if err := json.Unmarshal(data, &report); err != nil {
		t.Fatal(err)
	}
	at := func(path ...any) any {
		var x any = report
		for _, p := range path {
			switch p := p.(type) {
			case string:
				x = x.(map[string]any)[p]
			case int:
				x = x.([]any)[p]
			}
		}
		return x
	}
	for _, test := range []struct {
		path []any
		want string
	}{
		{nil, "author cautions claims comparison date earlier networks notes overlaps place shared_cells sources title"},
		{[]any{"networks", 0}, "assumptions blocks carriers cells combination configurations configurations_complete device dl expected findings gap interference kind latency measured name notes peak_error places radios runs totals transfers ul valid walk"},
		{[]any{"networks", 0, "carriers", 1}, "band carrier dl dl_share duplex pattern pattern_assumed pci quality range rat role rsrp_dbm sinr_db text transmits ul ul_share"},
		{[]any{"networks", 0, "carriers", 1, "dl"}, "centre_high_mhz centre_low_mhz centre_mhz channel counted expected_bps_hz expected_mbps high_mhz layers layers_assumed low_mhz max_bps_hz max_rate_mbps n_rb qam qam_assumed qm scaling schedulable_mbps scheduled_bps_hz scheduled_mbps scs_khz width_mhz"},
		{[]any{"networks", 0, "dl"}, "expected_bps_hz expected_mbps max_bps_hz max_rate_mbps schedulable_mbps scheduled_bps_hz scheduled_mbps"},
		{[]any{"networks", 0, "totals"}, "by_band by_duplex by_range by_rat by_site dl_equivalent_mhz dl_mhz occupied_mhz ul_mhz"},
		{[]any{"networks", 0, "totals", "by_band", "n78"}, "dl_equivalent_mhz dl_mhz occupied_mhz ul_mhz"},
		{[]any{"networks", 0, "configurations", 0}, "bandwidth_sets fallback_of holds id kind listed nearest parts refusal source uplinks"},
		{[]any{"networks", 0, "blocks", 0}, "band carriers classes contiguity_known gap_to_next_mhz high_mhz low_mhz spacings sum_mhz"},
		{[]any{"networks", 0, "runs", 0}, "added_ms carriers distance_m down expected idle_ms lat loaded_down_ms loaded_up_ms lon notes number round_trips_per_minute rsrp_dbm sinr_db up when where"},
		{[]any{"networks", 0, "runs", 0, "down"}, "bps_hz bps_hz_active exceeds flag implied mbps share_of_expected share_of_max share_of_scheduled"},
		{[]any{"networks", 0, "runs", 0, "expected"}, "expected_mbps from upper_bound"},
		{[]any{"networks", 0, "runs", 0, "down", "implied"}, "at_least_layers leanest lowest options source statement"},
		{[]any{"networks", 0, "runs", 0, "down", "implied", "lowest"}, "bits_per_re code_rate index layers qam table"},
		{[]any{"networks", 1, "measured", "down"}, "at_best at_median count lower_quartile max median min upper_quartile"},
		{[]any{"networks", 0, "latency"}, "added_ms idle_ms idle_round_trips_per_minute loaded_down_ms loaded_up_ms round_trips_per_minute"},
		{[]any{"networks", 0, "transfers", 0}, "bits direction exceeds expected_seconds mean_mbps median_mbps notes number seconds share_of_median size statement when where"},
		{[]any{"networks", 2, "cells"}, "clashes groups levels neighbours pairs remarks without_pci"},
		{[]any{"networks", 2, "cells", "clashes", 0}, "cells relation source statement"},
		{[]any{"networks", 2, "cells", "levels", 0}, "approximate basis carrier difference_db expected_db measured_db reference statement within"},
		{[]any{"networks", 2, "radios", 0}, "antenna bands connected_ports connected_transmit_ports name notes phone_layers phone_ports phone_ports_assumed phones_at_once ports receive_ports statements transmit_ports"},
		{[]any{"comparison", 0}, "added_down_ms best_down_mbps bps_hz bps_hz_active carriers dl_equivalent_mhz dl_mhz idle_ms loaded_down_ms max_rate_mbps median_down_mbps median_up_mbps network place round_trips_per_minute schedulable_mbps scheduled_mbps share_of_max share_of_scheduled ul_mhz"},
		{[]any{"claims", 0}, "assumptions cautions kind needs network number quote reading readings statement summary text tolerance verdict working"},
		{[]any{"claims", 0, "readings", 0}, "as claimed high holds low meaning relation unit value verdict"},
	} {
		object, ok := at(test.path...).(map[string]any)
		if !ok {
			t.Errorf("%v is no object", test.path)
			continue
		}
		got := maps.Clone(object)
		for _, name := range strings.Fields(test.want) {
			if _, ok := got[name]; !ok {
				t.Errorf("%v has no %q", test.path, name)
			}
			delete(got, name)
		}
		for name := range got {
			t.Errorf("%v has %q besides", test.path, name)
		}
	}
}

func BenchmarkRead(b *testing.B) {
	data := []byte(Demo())
	b.ReportAllocs()
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, err := Read("demo", data); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAnalyse(b *testing.B) {
	l := mustRead(b, Demo())
	b.ReportAllocs()
	for b.Loop() {
		Analyse(l)
	}
}

// BenchmarkAnalyseManyCarriers has as many carriers as a network may have, none with a
// place, so that every way in which they could lie is looked up.
func BenchmarkAnalyseManyCarriers(b *testing.B) {
	l := mustRead(b, "title = 't'\n[[network]]\nname = 'n'\ncarriers = '4xB3:20 + 4xB7:20 + 4xB1:20 + 4xn78:100 + 4xn1:20 + 4xn28:10 + 4xn41:100 + 4xn3:20'\n")
	b.ReportAllocs()
	for b.Loop() {
		Analyse(l)
	}
}
