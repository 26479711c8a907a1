package siteplan

import (
	"fmt"
	"regexp"
	"testing"

	"github.com/google/go-cmp/cmp"

	"spectally/bands/rf"
	"spectally/ca"
	"spectally/throughput"
	"spectally/throughput/exact"
	"spectally/throughput/lte"
	"spectally/throughput/nr"
	"spectally/throughput/propagation"
	"spectally/throughput/site"
)

func ExampleRead() {
	plan, err := Read("weir.toml", []byte(`
name = "Weir"
environment = "rural"
[[sector]]
count = 3
[[sector.radio]]
carriers = "n78:100 + n28:10"
ports = "8T8R"
`))
	fmt.Println(plan.Site.Name, plan.Site.Sectors[0].Count, plan.Site.Sectors[0].Radios[0].Carriers, err)
	_, err = Read("weir.toml", []byte("name = \"Weir\"\nenvironment = \"rurall\"\n"))
	fmt.Println(err)
	// Output:
	// Weir 3 n78:100 + n28:10 <nil>
	// weir.toml:1: no sector given: must be one table at least under the header [[sector]]
	// weir.toml:2: environment "rurall": must be indoor-hotspot, dense-urban, urban or rural; closest is rural
}

func mustRead(tb testing.TB, text string) *Plan {
	tb.Helper()
	p, err := Read("plan.toml", []byte(text))
	if err != nil {
		tb.Fatal(err)
	}
	return p
}

func carriers(t *testing.T, text string) ca.Combination {
	t.Helper()
	c, err := ca.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// TestEveryKey: each key of the form arrives where it belongs, in the units of the
// library.
func TestEveryKey(t *testing.T) {
	got := mustRead(t, everyKey)
	r := func(num, den int64) exact.Ratio { return exact.Of(num, den) }
	signals, err := nr.ParseSignals("pdcch=1,ssb=8/20")
	if err != nil {
		t.Fatal(err)
	}
	want := &Plan{Source: everyKey, Target: r(50_000_000, 1), UplinkTarget: r(2_500_000, 1),
		Date: "2031-06-03", Place: "Lock", Author: "K. Aldous", Notes: []string{"One.", "Two."},
		Site: site.Site{
			Name: "Weir",
			Traffic: site.Traffic{
				Rate: r(12_500_000, 1), UplinkRate: r(1000, 1), Activity: r(1, 1000), Oversubscription: r(5, 2), BusyHourShare: r(41667, 1_000_000),
			},
			Backhaul: site.Backhaul{Downlink: r(10_000_000_000, 1), Uplink: r(100_000_000, 1), Transport: r(0, 1), Security: r(29, 200), CellPeak: true},
			Sectors: []site.Sector{{
				Name: "a", Count: 2, Environment: site.DenseUrban, Load: r(1, 2), UplinkLoad: r(1, 1_000_000),
				Radios: []site.Radio{{
					Carriers: carriers(t, "n78:100@640000,pci=4 + n28:10"), TransmitPorts: 32, ReceivePorts: 64, Layers: 12, UplinkLayers: 6,
					Schedule: throughput.Settings{Signals: signals, Airtime: r(5, 8), LTE: lte.Cell{PUCCH: 4}},
					Measured: site.Measured{Downlink: r(11, 2), Uplink: r(2, 1), DownlinkEdge: r(1, 5), UplinkEdge: r(1, 10), Origin: "counters", TransmitPorts: 8, ReceivePorts: 8},
				}},
			}, {
				Environment: site.Rural, Load: r(5, 8), UplinkLoad: r(1, 1),
				Radios: []site.Radio{{Carriers: carriers(t, "B20:10"), TransmitPorts: 2, ReceivePorts: 2}},
			}},
		},
		Radios: [][]Radio{{{"top", propagation.Emission{Power: 53.5, Gain: -1}}}, {{"", propagation.Emission{Power: 46, Gain: 15}}}},
		Coverage: &propagation.Coverage{
			Path:  propagation.Path{Scenario: propagation.RMa, Sight: propagation.LineOfSight, BaseHeight: 35.5, UserHeight: 1.5, StreetWidth: 21, BuildingHeight: 6, Distance: 1200, Extrapolate: true},
			Entry: propagation.Vehicle, Places: 0.95, NoiseFigure: 8, BaseNoiseFigure: 4, SINR: -3.5, UserPower: 26, UplinkBlocks: 6,
			Requirement: &propagation.Requirement{UE: rf.UE{PowerClass: "1.5", ReceivePorts: 4}, Station: rf.LocalArea},
		},
	}
	if diff := cmp.Diff(want, got, cmp.Comparer(func(a, b ca.Carrier) bool { return a == b }), cmp.Comparer(func(a, b throughput.Settings) bool { return a == b })); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// everyKey has every key of the form.
const everyKey = `
name = "Weir"
date = 2031-06-03
place = "Lock"
author = "K. Aldous"
notes = ["One.", "Two."]
environment = "dense-urban"
load_percent = 62.5
ul_load_percent = 0.0001

[traffic]
rate_mbps = 12.5
ul_rate_mbps = 0.001
active_percent = 0.1
oversubscription = 2.5
busy_hour_percent = 4.1667

[backhaul]
link = "10 gbit/s"
ul_link = "100 Mbit/s"
transport_percent = 0
security_percent = 14.5
size_by = "CELL"

[coverage]
model = "rma"
sight = "los"
base_height_m = 35.5
user_height_m = 1.5
street_width_m = 21
building_height_m = 6
entry = "vehicle"
depth_m = 0
places_percent = 95
distance_m = 1200
target_mbps = 50
ul_target_mbps = 2.5
noise_figure_db = 8
base_noise_figure_db = 4
sinr_db = -3.5
user_power_dbm = 26
uplink_blocks = 6
sensitivity = "REFSENS"
bs_class = "local-area"
user_power_class = 1.5
user_receive_ports = 4
extrapolate = true

[[sector]]
name = "a"
count = 2
load_percent = 50
[[sector.radio]]
name = "top"
carriers = "n78:100@640000,pci=4 + n28:10"
ports = "32t64R"
cell_layers = 12
ul_cell_layers = 6
signals = "pdcch=1,ssb=8/20"
airtime_percent = 62.5
lte_cell = "pucch=4"
measured = { dl_bps_hz = 5.5, ul_bps_hz = 2, dl_edge_bps_hz = 0.2, ul_edge_bps_hz = 0.1, origin = "counters", ports = "8T8R" }
power_dbm = 53.5
gain_dbi = -1

[[sector]]
environment = "RURAL"
ul_load_percent = 100
[[sector.radio]]
carriers = "B20:10"
ports = "2T2R"
power_dbm = 46
gain_dbi = 15
`

// TestTemplateIsWhole: the template shows every key. That it has no other follows from
// its being read.
func TestTemplateIsWhole(t *testing.T) {
	keys := regexp.MustCompile(`[{,\n# ]([a-z_]+) = `)
	sought := make(map[string]bool)
	for _, m := range keys.FindAllStringSubmatch(everyKey, -1) {
		sought[m[1]] = true
	}
	delete(sought, "measured") // a table of its own there
	if len(sought) < 40 {
		t.Fatalf("only %d keys", len(sought))
	}
	shown := make(map[string]bool)
	for _, m := range keys.FindAllStringSubmatch(Template(), -1) {
		shown[m[1]] = true
	}
	for key := range sought {
		if !shown[key] {
			t.Errorf("the template does not show %s", key)
		}
	}
}

// TestDefaults: what a plan leaves out stays open for the library, but for the
// uplink of the link, which is that of the downlink.
func TestDefaults(t *testing.T) {
	p := mustRead(t, "name = 'W'\nenvironment = 'rural'\n[backhaul]\nlink = '1 Gbit/s'\n[coverage]\nmodel = 'uma'\n[[sector]]\n[[sector.radio]]\ncarriers = 'n78:100'\nports = '8T8R'\npower_dbm = 50\ngain_dbi = 17\n")
	if got := p.Site.Backhaul; got.Uplink != (exact.Whole(1_000_000_000)) || !got.Transport.IsZero() || !got.Security.IsZero() || got.CellPeak {
		t.Errorf("backhaul %+v", got)
	}
	if got := p.Site.Traffic; got != (site.Traffic{}) {
		t.Errorf("traffic %+v", got)
	}
	if got := p.Site.Sectors[0]; !got.Load.IsZero() || !got.UplinkLoad.IsZero() || got.Count != 0 || got.Radios[0].Layers != 0 {
		t.Errorf("sector %+v", got)
	}
	want := propagation.Coverage{Path: propagation.Path{Scenario: propagation.UMa, Sight: propagation.NoLineOfSight}, Depth: -1}
	if *p.Coverage != want {
		t.Errorf("coverage %+v, want %+v", *p.Coverage, want)
	}
}

// TestTexts: the demo and the template are plans, and can be planned.
func TestTexts(t *testing.T) {
	for name, text := range map[string]string{"demo": Demo(), "template": Template()} {
		p := mustRead(t, text)
		if p.Coverage == nil || len(p.Site.Sectors) == 0 || p.Site.Backhaul.Downlink.IsZero() {
			t.Errorf("%s lacks a part of a plan", name)
		}
		checkPlan(t, p)
	}
	demo := mustRead(t, Demo())
	if len(demo.Site.Sectors) < 2 || demo.Site.Sectors[0].Radios[0].TransmitPorts != 64 || demo.Site.Sectors[1].Radios[0].Measured.Origin == "" {
		t.Error("the demo lacks a panel of 64 ports or a figure of the own network")
	}
}

// checkPlan checks what holds for every plan that is read: nothing of it fails later.
func checkPlan(t *testing.T, p *Plan) {
	t.Helper()
	c, err := site.Plan(&p.Site)
	if err != nil {
		t.Fatalf("a plan that was read cannot be planned: %v", err)
	}
	if len(p.Radios) != len(p.Site.Sectors) {
		t.Fatalf("radios of %d sectors for %d", len(p.Radios), len(p.Site.Sectors))
	}
	for i := range p.Site.Sectors {
		if len(p.Radios[i]) != len(p.Site.Sectors[i].Radios) {
			t.Fatalf("sector %d: %d radios for %d", i+1, len(p.Radios[i]), len(p.Site.Sectors[i].Radios))
		}
	}
	if c.Backhaul.Downlink.Need.Cmp(c.Backhaul.Downlink.Peak) < 0 {
		t.Fatal("the backhaul is below one peak")
	}
	if p.Coverage == nil {
		return
	}
	for i := range p.Site.Sectors {
		for k := range p.Site.Sectors[i].Radios {
			for _, one := range p.Site.Sectors[i].Radios[k].Carriers {
				if _, err := p.Coverage.Reaches(ca.Combination{one}, []propagation.Emission{p.Radios[i][k].Emission}); err != nil {
					t.Fatalf("the reach of a plan that was read cannot be worked out: %v", err)
				}
			}
		}
	}
}
