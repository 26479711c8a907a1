package site

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput"
	"spectally/throughput/exact"
)

// TestWhatIfAgrees draws sites and checks every line of the table: the gains are the
// differences of the two sites, the order is that of the ranking, and no change of
// the radio costs anything.
func TestWhatIfAgrees(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 4))
	seen := make(map[ChangeKind]int)
	for range 60 {
		c := planSite(t, drawSite(t, r))
		list, err := c.WhatIf()
		if err != nil {
			t.Fatal(err)
		}
		if !slices.IsSortedFunc(list, func(a, b WhatIf) int {
			return cmp.Or(b.Delivered.Cmp(a.Delivered), b.Gain.Cmp(a.Gain), b.UplinkDelivered.Cmp(a.UplinkDelivered), b.UplinkGain.Cmp(a.UplinkGain))
		}) {
			t.Error("out of order")
		}
		for _, w := range list {
			seen[w.Kind]++
			if w.Text == "" {
				t.Error("a change without words")
			}
			for _, d := range bothDirections {
				before, after := c.Backhaul.In(d), w.After.Backhaul.In(d)
				gain, delivered, need := w.Gain, w.Delivered, w.NeedGain
				if d != bothDirections[0] {
					gain, delivered, need = w.UplinkGain, w.UplinkDelivered, w.UplinkNeedGain
				}
				if before.Means.Add(gain).Cmp(after.Means) != 0 || before.Delivered.Add(delivered).Cmp(after.Delivered) != 0 || before.Need.Add(need).Cmp(after.Need) != 0 {
					t.Errorf("%s: %+v is not between %+v and %+v", w.Text, w, before, after)
				}
				if gain.Num < 0 || delivered.Num < 0 {
					t.Errorf("%s loses in the %s: %v, %v", w.Text, d, gain, delivered)
				}
				if gain.Cmp(delivered) < 0 && w.Kind != ChangeBackhaul {
					t.Errorf("%s delivers more than it gains", w.Text)
				}
			}
			if w.Kind == ChangeBackhaul && (!w.After.Backhaul.Downlink.Enough || !w.After.Backhaul.Uplink.Enough) {
				t.Errorf("%s is not enough", w.Text)
			}
		}
	}
	for _, k := range []ChangeKind{ChangeCarrier, ChangeWidth, ChangePorts, ChangeSector, ChangeBackhaul} {
		if seen[k] < 10 {
			t.Errorf("%d changes of the sort %s", seen[k], k)
		}
	}
}

// TestWhatIfRoom: no carrier and no width is proposed that the band has no room for.
func TestWhatIfRoom(t *testing.T) {
	texts := func(carriers string, ports int) string {
		list, err := planSite(t, oneRadio(t, DenseUrban, ports, carriers)).WhatIf()
		if err != nil {
			t.Fatal(err)
		}
		slices.SortFunc(list, func(a, b WhatIf) int { return strings.Compare(a.Text, b.Text) })
		var s []string
		for _, w := range list {
			s = append(s, w.Text)
		}
		return strings.Join(s, "; ")
	}
	for _, c := range []struct {
		carriers string
		ports    int
		want     string
	}{
		{"B3:20", 4, "8 transmit ports in place of 4 for B3:20; another sector like sector; one more B3:20 beside each"},
		{"n28:30", 64, "another sector like sector; 40 MHz in place of n28:30"},
		{"n78:100@640000", 64, "another sector like sector; one more n78:100 beside each"},
		{"2xn78:100 + n78:90", 32, "100 MHz in place of n78:90; 64 transmit ports in place of 32 for n78:100 and n78:90; another sector like sector; one more n78:100 beside each; one more n78:90 beside each"},
		{"n75:20", 4, "25 MHz in place of n75:20; 8 transmit ports in place of 4 for n75:20; another sector like sector; one more n75:20 beside each"},
		{"n80:20/20", 4, "25 MHz in place of n80:20; 8 transmit ports in place of 4 for n80:20; another sector like sector; one more n80:20 beside each"},
	} {
		got := strings.Split(texts(c.carriers, c.ports), "; ")
		want := strings.Split(c.want, "; ")
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Errorf("%s:\n got %s\nwant %s", c.carriers, strings.Join(got, "; "), strings.Join(want, "; "))
		}
	}
}

// TestBackhaulRanksFirst: where the link holds the site down, no change of the radio
// delivers more, and a larger link stands first.
func TestBackhaulRanksFirst(t *testing.T) {
	s := oneRadio(t, DenseUrban, 32, "n78:100")
	s.Sectors[0].Count = 3
	s.Backhaul.Downlink = exact.Whole(1_000_000_000)
	c := planSite(t, s)
	list, err := c.WhatIf()
	if err != nil {
		t.Fatal(err)
	}
	if list[0].Kind != ChangeBackhaul || list[0].Gain.Num != 0 || list[0].Delivered.Num <= 0 {
		t.Errorf("first is %+v", list[0])
	}
	for _, w := range list[1:] {
		if w.Delivered.Num != 0 {
			t.Errorf("%s delivers %v over a full link", w.Text, w.Delivered)
		}
	}
	limits := c.Limits()
	if limits[0].Kind != LimitBackhaul || limits[0].Text != "The link lets 909.1 Mbit/s of user data through, the radio carries 1738.3 Mbit/s in the busy hour." {
		t.Errorf("%+v", limits)
	}
	// With room for the means alone the peak is what does not fit.
	s = oneRadio(t, DenseUrban, 4, "n78:100")
	s.Backhaul.Downlink = exact.Whole(500_000_000)
	if limits := planSite(t, s).Limits(); limits[0].Kind != LimitBackhaulPeak {
		t.Errorf("%+v", limits)
	}
}

// TestLayersLimit: an efficiency that layers and modulation cannot carry is held at the
// peak of the cell, and the limit says so.
func TestLayersLimit(t *testing.T) {
	s := oneRadio(t, DenseUrban, 1, "n1:20,layers=1,qam=4")
	s.Sectors[0].Radios[0].Layers = 1
	s.Sectors[0].Radios[0].Measured = Measured{Downlink: exact.Whole(4), Origin: "a drive test"}
	c := planSite(t, s)
	l := &c.Sectors[0].Carriers[0].Downlink
	if l.Bound != BoundLayers || l.Full != (exact.Whole(l.Cell.Scheduled.Round())) {
		t.Errorf("%+v", l)
	}
	limits := c.Limits()
	if limits[0].Kind != LimitLayers || limits[0].Text != "Layers and modulation hold the mean down on n1:20 (1 layer, 4QAM)." {
		t.Errorf("%+v", limits)
	}
}

// TestBuilds: ports bring array gain and layers over all users; the single phone keeps
// its layers and its peak.
func TestBuilds(t *testing.T) {
	s := oneRadio(t, DenseUrban, 64, "n78:100,layers=4")
	list, err := CompareBuilds(s)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for i := range list {
		b := &list[i]
		l := &b.Site.Sectors[0].Carriers[0].Downlink
		got = append(got, fmt.Sprintf("%d: %.2f dB, %d of %d layers, %v bit/s/Hz", b.Ports, b.ArrayGain, l.UserLayers, l.CellLayers, l.Average.Value.Float()))
		if len(b.Text) == 0 {
			t.Errorf("%d ports without words", b.Ports)
		}
		if i == 0 {
			continue
		}
		before := &list[i-1]
		if b.Site.Downlink.Mean.Cmp(before.Site.Downlink.Mean) < 0 || b.Site.Downlink.Cell.Scheduled.Cmp(before.Site.Downlink.Cell.Scheduled) < 0 {
			t.Errorf("%d ports carry less than %d", b.Ports, before.Ports)
		}
		if b.Ports > 4 && b.Site.Downlink.User != before.Site.Downlink.User {
			t.Errorf("%d ports change the peak of one phone", b.Ports)
		}
	}
	// 10 log of 2, 4, 8, 32, 64. The layers of the cell are an assumption.
	want := []string{
		"2: 3.01 dB, 2 of 2 layers, 1.803 bit/s/Hz",
		"4: 6.02 dB, 4 of 4 layers, 2.6 bit/s/Hz",
		"8: 9.03 dB, 4 of 4 layers, 3.75 bit/s/Hz",
		"32: 15.05 dB, 4 of 8 layers, 7.8 bit/s/Hz",
		"64: 18.06 dB, 4 of 16 layers, 7.8 bit/s/Hz",
	}
	if !slices.Equal(got, want) {
		t.Errorf("%s", strings.Join(got, "\n"))
	}
	changes, stays := WhatPortsChange()
	if len(changes) < 2 || len(stays) < 2 || !strings.Contains(strings.Join(stays, " "), "one phone") {
		t.Errorf("%v, %v", changes, stays)
	}
	if _, err := CompareBuilds(s, 0); err == nil {
		t.Error("a build without ports")
	}
	// A measured figure is carried over: with the ports it was measured with it stays.
	s.Sectors[0].Radios[0].Measured = Measured{Downlink: exact.Whole(10), Origin: "counters"}
	list, err = CompareBuilds(s, 64, 4)
	if err != nil {
		t.Fatal(err)
	}
	a, b := list[0].Site.Sectors[0].Carriers[0].Downlink.Average, list[1].Site.Sectors[0].Carriers[0].Downlink.Average
	if a.Value != (exact.Whole(10)) || a.Basis != BasisMeasured || b.Value != (exact.Of(3333, 1000)) || b.Basis != BasisScaled {
		t.Errorf("%+v, %+v", a, b)
	}
}

// line writes an assumption with what it has.
func line(a throughput.Assumption) string {
	s := string(a.Quantity) + " " + a.Value
	if a.Band != (bands.ID{}) {
		s = a.Band.String() + " " + a.Direction.String() + " " + s
	}
	if a.Of != "" {
		s += " of " + a.Of
	}
	return strings.TrimSpace(s + " " + string(a.Why) + " " + a.Origin)
}

func TestSiteAssumptions(t *testing.T) {
	s := oneRadio(t, Rural, 2, "n78:100 + B3:20")
	s.Sectors[0].Radios[0].Measured = Measured{Uplink: exact.Of(3, 2), Origin: "counters of week 12"}
	c := planSite(t, s)
	var text strings.Builder
	for _, a := range c.Assumptions() {
		text.WriteString(line(a) + " [" + a.Source.Short() + "]\n")
	}
	for _, want := range []string{
		"busy-hour-mean", "cell-edge-rate", "published-builds",
		"n78 downlink phone-layers 2 site-ports",
		"n78 none scs 30 kHz",
		"n78 none pattern",
		"B3 downlink qam 64",
		"n78 uplink average-efficiency 1.5 of 2 measured counters of week 12",
		"n78 downlink average-efficiency 0.763 of 2 extrapolated rural [ITU-R M.2134 cell spectral efficiency]",
		"transport-overhead 10.0 % common-practice",
		"busy-hour-share 7.0 %",
	} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("no %q in\n%s", want, text.String())
		}
	}
	if cautions := strings.Join(Cautions(), " "); !strings.Contains(cautions, "no licence to transmit") || !strings.Contains(cautions, "exposure") || !strings.Contains(cautions, "national rules") {
		t.Errorf("%s", cautions)
	}
}

func ExamplePlan() {
	carriers, err := ca.Parse("n78:100")
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := Plan(&Site{
		Sectors: []Sector{{Count: 3, Environment: DenseUrban, Load: exact.Of(7, 10), Radios: []Radio{
			{Carriers: carriers, TransmitPorts: 32, ReceivePorts: 32},
		}}},
		Traffic:  Traffic{Rate: exact.Whole(10_000_000), Activity: exact.Of(1, 20)},
		Backhaul: Backhaul{Downlink: exact.Whole(10_000_000_000)},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("one phone %.0f Mbit/s at most, busy-hour mean %.0f Mbit/s\n", c.Downlink.User.Scheduled.Mbps(), c.Downlink.Mean.Mbps())
	fmt.Printf("%d users, %d of them active, backhaul %.0f Mbit/s\n", c.Users.Served, c.Users.Active, c.Backhaul.Downlink.Need.Mbps())
	// Output:
	// one phone 1348 Mbit/s at most, busy-hour mean 1217 Mbit/s
	// 2433 users, 121 of them active, backhaul 1483 Mbit/s
}

func ExampleSiteCapacity_WhatIf() {
	carriers, err := ca.Parse("B3:20 + n78:80")
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := Plan(&Site{Sectors: []Sector{{Name: "north", Environment: DenseUrban, Radios: []Radio{
		{Carriers: carriers[:1], TransmitPorts: 4, ReceivePorts: 4},
		{Carriers: carriers[1:], TransmitPorts: 8, ReceivePorts: 8},
	}}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	list, err := c.WhatIf()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, w := range list {
		fmt.Printf("%+.0f Mbit/s: %s\n", w.Gain.Mbps(), w.Text)
	}
	// Output:
	// +275 Mbit/s: another sector like north
	// +223 Mbit/s: one more n78:80 beside each
	// +99 Mbit/s: 16 transmit ports in place of 8 for n78:80
	// +52 Mbit/s: one more B3:20 beside each
	// +28 Mbit/s: 90 MHz in place of n78:80
	// +0 Mbit/s: 8 transmit ports in place of 4 for B3:20
}

func BenchmarkPlanSite(b *testing.B) {
	s := oneRadio(b, DenseUrban, 32, "n78:100 + B3:20 + n28:10")
	s.Sectors[0].Count = 3
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Plan(s); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWhatIf(b *testing.B) {
	c := planSite(b, oneRadio(b, DenseUrban, 32, "n78:100 + B3:20 + n28:10"))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := c.WhatIf(); err != nil {
			b.Fatal(err)
		}
	}
}
