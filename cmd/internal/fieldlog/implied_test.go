package fieldlog

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput"
)

// TestImpliedRates holds what a measured rate is said to take against the rates of the same
// carriers with those layers and that constellation: with them the rate can be scheduled,
// with the next smaller constellation it cannot.
func TestImpliedRates(t *testing.T) {
	orders := []int{2, 4, 16, 64, 256, 1024}
	for _, c := range []struct {
		carriers string
		down     float64
	}{
		{"B3:20 + n78:80,pattern=DDDSU/10:2:2,layers=4", 612}, {"n78:100", 400}, {"n78:100,layers=2,qam=1024", 900},
		{"B3:20,layers=4,qam=256", 150}, {"B3:20 + B7:20", 40}, {"n1:20 + n28:10", 130}, {"n258:100", 300},
	} {
		n := analysed(t, fmt.Sprintf("carriers = '%s'\n[[network.run]]\ndown = %v\n", c.carriers, c.down))
		implied := n.Runs[0].Down.Implied
		if len(implied.Options) == 0 || len(implied.Leanest) == 0 {
			t.Errorf("%s: %+v", c.carriers, implied)
			continue
		}
		for _, o := range implied.Options {
			if usual, _ := rated(t, c.carriers, o.Layers, o.QAM); usual < c.down {
				t.Errorf("%s: %d layers of %dQAM schedule %.1f, below %.1f", c.carriers, o.Layers, o.QAM, usual, c.down)
			}
			if lower := orders[slices.Index(orders, o.QAM)-1]; lower > 2 {
				if usual, _ := rated(t, c.carriers, o.Layers, lower); usual >= c.down {
					t.Errorf("%s: %d layers of %dQAM schedule %.1f already", c.carriers, o.Layers, lower, usual)
				}
			}
		}
		for _, o := range implied.Leanest {
			if _, most := rated(t, c.carriers, o.Layers, o.QAM); most < c.down {
				t.Errorf("%s: %d layers of %dQAM can carry %.1f, below %.1f", c.carriers, o.Layers, o.QAM, most, c.down)
			}
		}
	}
	// 598.8 Mbit/s are the most that two layers of 64QAM schedule in a usual network.
	n := analysed(t, "carriers = 'B3:20 + n78:80,pattern=DDDSU/10:2:2,layers=4'\n[[network.run]]\ndown = 612\n")
	if usual, _ := rated(t, "B3:20 + n78:80,pattern=DDDSU/10:2:2", 2, 64); usual > 598.9 {
		t.Errorf("%.1f", usual)
	}
	if s := n.Runs[0].Down.Implied.Statement; !strings.Contains(s, "takes 2 layers of 256QAM at code rate 0.74 or 3 layers of 64QAM at code rate 0.75 in a usual schedule") {
		t.Error(s)
	}
}

// TestImpliedEnds: a rate that everything reaches, one that nothing does, and one of LTE
// alone, whose rows are those of its CQI table (TS 36.213 V19.3.0 Table 7.2.3-2: CQI 15 is
// 256QAM at 948/1024).
func TestImpliedEnds(t *testing.T) {
	for _, c := range []struct{ carriers, down, want string }{
		{"n1:50,layers=2,qam=256", "0", "0.00 bit/s/Hz takes at least 1 layer of QPSK at code rate 0.12."},
		{"n1:50,layers=2,qam=256", "740.7", "14.81 bit/s/Hz is more than 2 layers of 256QAM can carry here."},
		{"B3:20,layers=2,qam=256", "180", "9.00 bit/s/Hz takes at least 2 layers of 256QAM at code rate 0.86."},
	} {
		i := analysed(t, "carriers = '"+c.carriers+"'\n[[network.run]]\ndown = "+c.down+"\n").Runs[0].Down.Implied
		if i.Statement != c.want {
			t.Errorf("%s at %s Mbit/s: %s", c.carriers, c.down, i.Statement)
		}
		if c.carriers[0] == 'B' && i.Lowest.Table != "7.2.3-2" {
			t.Errorf("%+v", i.Lowest)
		}
	}
}

// rated are the rates in Mbit/s of a downlink, each carrier with no more layers and no
// larger a constellation than given, within the data rate that its UE handles.
func rated(t *testing.T, carriers string, layers, qam int) (usual, most float64) {
	t.Helper()
	c, err := ca.Parse(carriers)
	if err != nil {
		t.Fatal(err)
	}
	full, err := throughput.Rate(ca.Assess(c))
	if err != nil {
		t.Fatal(err)
	}
	for i := range c {
		l := full.Carriers[i].Downlink
		c[i].Layers, c[i].QAM = uint8(min(l.Layers, layers)), uint16(min(l.QAM, qam))
	}
	r, err := throughput.Rate(ca.Assess(c))
	if err != nil {
		t.Fatal(err)
	}
	if err := r.Schedule(throughput.Settings{}); err != nil {
		t.Fatal(err)
	}
	for i := range c {
		if c[i].Band.RAT == bands.LTE {
			usual, most = usual+r.Carriers[i].Downlink.Scheduled.Mbps(), most+r.Carriers[i].Downlink.Schedulable.Mbps()
			continue
		}
		plan, err := r.NRPlan(i, bands.Downlink)
		if err != nil {
			t.Fatal(err)
		}
		plan.Limit = full.Carriers[i].Downlink.Max
		s, err := plan.Schedule()
		if err != nil {
			t.Fatal(err)
		}
		ceiling, err := plan.Ceiling()
		if err != nil {
			t.Fatal(err)
		}
		usual, most = usual+s.Rate().Mbps(), most+ceiling.Mbps()
	}
	return usual, most
}
