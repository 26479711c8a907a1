package propagation

import (
	"math"
	"testing"

	"spectally/bands/rf"
)

// TestRequired adds up what two ends with the standard's figures reach: 53 dBm against
// REFSENS of -85.5 dBm in n78 with 100 MHz at 30 kHz (TS 38.101-1 V19.5.0 Table 7.3.2-1b);
// 23 dBm of power class 3 (Table 6.2.1-1) against -95.6 dBm of a wide-area base station
// (TS 38.104 V19.4.0 Table 7.2.2-1). UMa without line of sight at 1.5 m is
// 13.54 + 39.08 log d3D + 20 log f (Report ITU-R M.2412-0 Table A1-2).
func TestRequired(t *testing.T) {
	q := DefaultRequirement()
	c := Coverage{Path: Path{Scenario: UMa, Sight: NoLineOfSight, Extrapolate: true}, Places: 0.9, Requirement: &q}
	list, err := c.Reaches(parseCarriers(t, "n78:100@636666"), []Emission{{53, 24}})
	if err != nil {
		t.Fatal(err)
	}
	got := &list[0]
	if len(got.Required.Missing) > 0 || got.HasUplink {
		t.Fatalf("%+v", got)
	}
	margin := 1.2815515655 * 6
	for _, v := range []struct {
		name                 string
		link                 *RequiredLink
		power, sensitivity   float64
		powerTable, refTable string
	}{
		{"downlink", got.Required.Downlink, 53, -85.5, "7.3.2-1b", "7.3.2-1b"},
		{"uplink", got.Required.Uplink, 23, -95.6, "6.2.1-1", "7.2.2-1"},
	} {
		l := v.link
		most := v.power - v.sensitivity + 24 - margin
		d3 := math.Pow(10, (most-13.54-20*math.Log10(3.54999))/39.08)
		if l.Power != v.power || l.Receiver.Level.Float() != v.sensitivity || !near(l.MaxCouplingLoss, v.power-v.sensitivity, 1e-9) || !near(l.MaxPathLoss, most, 1e-6) || !near(l.Range, math.Sqrt(d3*d3-23.5*23.5), 1e-3) {
			t.Errorf("%s: %+v", v.name, l)
		}
		if first, last := l.Sources[0].Table, l.Sources[len(l.Sources)-1].Table; first != v.powerTable || last != v.refTable {
			t.Errorf("%s: tables %s and %s", v.name, first, last)
		}
	}
}

// TestRequiredMissing: each direction by itself, and a reason for each that has no figure.
func TestRequiredMissing(t *testing.T) {
	for _, test := range []struct {
		carrier  string
		ue       rf.UE
		down, up bool
		missing  []string
	}{
		{"n78:100", rf.UE{PowerClass: "2", ReceivePorts: 4}, true, true, nil},
		{"n75:20", DefaultRequirement().UE, true, false, nil}, // downlink alone
		{"n80:20", DefaultRequirement().UE, false, true, nil}, // uplink alone
		{"n20:10", rf.UE{PowerClass: "2", ReceivePorts: 2}, true, false, []string{`UE power class in n20 "2": must be 3 (TS 38.101-1 Table 6.2.1-1)`}},
		{"n28:10", rf.UE{PowerClass: "3", ReceivePorts: 6}, false, true, []string{`receive ports of a UE in n28 "6": must be 2, or more for which the tables have a figure`}},
		{"B3:20", DefaultRequirement().UE, false, false, []string{`band for REFSENS and UE power "B3": must be a terrestrial NR band in FR1, as there are no tables here for UEs of others`}},
		{"n258:100", DefaultRequirement().UE, false, false, []string{`band for REFSENS and UE power "n258": must be a terrestrial NR band in FR1, as there are no tables here for UEs of others`}},
		{"n256:20", DefaultRequirement().UE, false, false, []string{`band for REFSENS and UE power "n256": must be a terrestrial NR band in FR1, as there are no tables here for UEs of others`}},
	} {
		c := Coverage{Path: Path{Scenario: FreeSpace}, Requirement: &Requirement{test.ue, rf.WideArea}}
		list, err := c.Reaches(parseCarriers(t, test.carrier), []Emission{{46, 15}})
		if err != nil {
			t.Fatal(err)
		}
		r := &list[0].Required
		if (r.Downlink != nil) != test.down || (r.Uplink != nil) != test.up || len(r.Missing) != len(test.missing) {
			t.Errorf("%s: %+v", test.carrier, r)
			continue
		}
		for i, want := range test.missing {
			if got := r.Missing[i].Error(); got != want {
				t.Errorf("%s: %s; want %s", test.carrier, got, want)
			}
		}
	}
}
