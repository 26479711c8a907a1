package throughput

import (
	"math/big"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput/exact"
)

// The rates of TS 38.306 clauses 4.1.2 and 4.2.22.2, worked out by the formula: v Qm f * 948/1024 *
// 12 N_PRB / T_s * (1 - OH), with v Qm f of 3.2, or 0.75 and 0.8. eRedCap with reduced
// baseband has 25 resource blocks at 15 kHz and 12 at 30 kHz.
func TestReducedCapability(t *testing.T) {
	for _, test := range []struct {
		kind         DeviceKind
		branches     int
		carrier      string
		blocks       int
		max, uplink  string // Mbit/s
		layers, size int
	}{
		{ERedCap, 1, "n1:20,scs=15", 25, "10.700550", "11.447100", 1, 64},
		{ERedCap, 1, "n1:20,scs=30", 12, "10.272528", "10.989216", 1, 64},
		{ERedCap, 2, "n78:100", 12, "10.272528", "10.989216", 2, 64},
		{ERedCapFull, 1, "n1:20,scs=15", 106, "10.633672", "11.375556", 1, 64},
		{ERedCapFull, 2, "n1:20,scs=15", 106, "11.342583", "11.375556", 2, 64},
		{RedCap, 1, "n1:20,scs=15", 106, "85.069373", "91.004445", 1, 64},
		{RedCap, 2, "n78:100", 51, "163.718415", "", 2, 64},
		{RedCap, 0, "n257:400", 66, "", "", 2, 64},
	} {
		c := bandOfCarrier(t, test.carrier)
		d := &Device{Kind: test.kind, ReceivePorts: test.branches, Bands: []DeviceBand{{Band: c}}}
		s := serve(t, d, test.carrier+",qam=256,layers=4")
		if len(s.Carriers) != 1 {
			t.Errorf("%s: %s", test.carrier, items(s))
			continue
		}
		r, err := RateOn(ca.Assess(s.Carriers), test.kind)
		if err != nil {
			t.Fatal(err)
		}
		l := r.Carriers[0].Downlink
		for _, w := range []struct {
			got  exact.Ratio
			want string
		}{{l.Max, test.max}, {r.Carriers[0].Uplink.Max, test.uplink}} {
			if got := decimals(w.got); w.want != "" && got != w.want {
				t.Errorf("%s %s: %s Mbit/s, want %s", test.kind, test.carrier, got, w.want)
			}
		}
		if l.ResourceBlocks != test.blocks || l.Layers != test.layers || l.QAM != test.size {
			t.Errorf("%s %s: %d resource blocks, %d layers, %dQAM", test.kind, test.carrier, l.ResourceBlocks, l.Layers, l.QAM)
		}
		if err := r.Schedule(Settings{}); err != nil {
			t.Fatal(err)
		}
		if l := r.Carriers[0].Downlink; l.Scheduled.Cmp(l.Max) > 0 || l.Scheduled.Num == 0 {
			t.Errorf("%s %s: scheduled %s above %s", test.kind, test.carrier, l.Scheduled, l.Max)
		}
		for _, f := range r.Findings() {
			if f.Rule == RuleDataRateFloor && test.kind != RedCap {
				t.Errorf("%s %s: the floor of v Qm f is asked of it", test.kind, test.carrier)
			}
		}
	}
}

func bandOfCarrier(t *testing.T, carrier string) bands.ID {
	t.Helper()
	name, _, _ := strings.Cut(carrier, ":")
	return band(t, name)
}

func decimals(r exact.Ratio) string { return big.NewRat(r.Num, 1_000_000*r.Den).FloatString(6) }

// What a UE of reduced capability does not take of a site, with the clauses' reasons.
func TestReducedCapabilityLimits(t *testing.T) {
	for _, test := range []struct {
		kind     DeviceKind
		carriers string
		want     string
	}{
		{RedCap, "B3:20 + n78:100", "technology"},
		{RedCap, "n78:20 + n78:20", "carriers"},
		{RedCap, "n28:3", "width"},
		{ERedCap, "n257:100", "frequency range"},
		{ERedCap, "n78:20,scs=60", "subcarrier spacing"},
		{ERedCap, "n1:20", "rate"},
		{ERedCap, "n1:20", "duplex"},
		{RedCap, "n78:100", "resource blocks"},
	} {
		list, err := ca.Parse(test.carriers)
		if err != nil {
			t.Fatal(err)
		}
		d := &Device{Kind: test.kind, ReceivePorts: 1}
		for _, c := range list {
			if d.band(c.Band) == nil {
				d.Bands = append(d.Bands, DeviceBand{Band: c.Band, HalfDuplex: c.Band.Number == 1})
			}
		}
		s := serve(t, d, test.carriers)
		if len(s.Carriers) > 1 || !strings.Contains(items(s), test.want) {
			t.Errorf("%s %s: %v, %s; want %s", test.kind, test.carriers, s.Carriers, items(s), test.want)
		}
	}
	for _, name := range DeviceKindNames() {
		if k, err := ParseDeviceKind(name); err != nil || k.String() == "" {
			t.Errorf("%s: %v, %v", name, k, err)
		}
	}
	if _, err := ParseDeviceKind("red"); err == nil {
		t.Error("red is a kind")
	}
}

// A carrier that says how many resource blocks it uses: what the issue of eRedCap comes to
// in the notation.
func TestResourceBlockLimit(t *testing.T) {
	for carrier, want := range map[string]string{
		"n1:20,scs=15,scale=0.8,layers=1,qam=16,rb=25": "10.700550",
		"n1:20,scs=30,scale=0.8,layers=1,qam=16,rb=12": "10.272528",
	} {
		c, err := ca.Parse(carrier)
		if err != nil {
			t.Fatal(err)
		}
		r, err := Rate(ca.Assess(c))
		if err != nil || decimals(r.Downlink.Max) != want || len(r.Findings()) != 0 {
			t.Errorf("%s: %s, %v, %v", carrier, decimals(r.Downlink.Max), r.Findings(), err)
		}
	}
}
