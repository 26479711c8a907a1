package throughput

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/ca"
)

func band(t testing.TB, s string) bands.ID {
	t.Helper()
	id, err := bands.ParseID(s)
	if err != nil {
		t.Fatal(err)
	}
	return id
}

// device makes a device of bands, or of all bands that the carriers have.
func device(t testing.TB, list ...string) *Device {
	t.Helper()
	d := &Device{}
	for _, s := range list {
		d.Bands = append(d.Bands, DeviceBand{Band: band(t, s)})
	}
	return d
}

func names(t testing.TB, list ...string) []ca.Name {
	t.Helper()
	var all []ca.Name
	for _, s := range list {
		n, err := ca.ParseName(s)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, n)
	}
	return all
}

func serve(t testing.TB, d *Device, carriers string) *Served {
	t.Helper()
	c, err := ca.Parse(carriers)
	if err != nil {
		t.Fatal(err)
	}
	r, err := Rate(ca.Assess(c))
	if err != nil {
		t.Fatal(err)
	}
	return d.Serve(r)
}

// items lists what limits, as "carrier item site>device".
func items(s *Served) string {
	var list []string
	for _, l := range s.Limits {
		list = append(list, fmt.Sprintf("%d %s %s>%s", l.Carrier, l.Item, l.Site, l.Device))
	}
	return strings.Join(list, "; ")
}

func TestServe(t *testing.T) {
	all := func(change func(*Device)) *Device {
		d := device(t, "B3", "B7", "B20", "n1", "n3", "n28", "n78", "n75", "n80")
		if change != nil {
			change(d)
		}
		return d
	}
	for _, test := range []struct {
		name, site, served, items string
		device                    *Device
	}{
		{"takes all", "B3:20 + n78:100", "B3:20 + n78:100", "", all(nil)},
		{"lacks a band", "B3:20 + n41:100", "B3:20", "2 band n41>none", all(nil)},
		{"lacks every band", "B1:20", "", "1 band B1>none", all(nil)},
		{"too wide", "n78:100 + n28:10", "n28:10", "1 width 100 MHz>80 MHz", all(func(d *Device) { d.Bands[6].Widest = 80 * bands.MHz })},
		{"layers and modulation", "n78:100,layers=4,qam=1024,ullayers=2,ulqam=256", "n78:100,layers=2,ullayers=1,qam=256,ulqam=64",
			"1 layers 4>2; 1 modulation 1024>256; 1 uplink layers 2>1; 1 uplink modulation 256>64",
			all(func(d *Device) {
				d.Bands[6] = DeviceBand{Band: band(t, "n78"), Layers: 2, UplinkLayers: 1, QAM: 256, UplinkQAM: 64}
			})},
		{"default layers count", "n78:100", "n78:100,layers=2", "1 layers 4>2", all(func(d *Device) { d.Bands[6].Layers = 2 })},
		{"does not transmit", "n78:100 + n28:10", "n78:100,ul=0 + n28:10", "1 uplink yes>no", all(func(d *Device) { d.Bands[6].DownlinkOnly = true })},
		{"number of carriers", "B3:20 + B7:20 + B20:10", "B3:20 + B7:20", "3 LTE carriers 3>2", all(func(d *Device) { d.LTECarriers = 2 })},
		{"fewest megahertz go", "B20:10 + B7:20 + B3:20", "B7:20 + B3:20", "1 LTE carriers 3>2", all(func(d *Device) { d.LTECarriers = 2 })},
		{"a primary cell stays", "B20:10,role=pcell + B7:20 + B3:20", "B20:10,role=pcell + B7:20", "3 LTE carriers 3>2", all(func(d *Device) { d.LTECarriers = 2 })},
		{"an anchor stays", "B20:10 + n78:100 + n78:90", "B20:10 + n78:100", "3 carriers 3>2", all(func(d *Device) { d.Carriers = 2 })},
		{"no anchor", "B1:10 + n78:100", "n78:100", "1 band B1>none; 0 anchor LTE with NR>NR alone", all(nil)},
		// Dropping the carrier with the least rate time and again would leave 100 MHz.
		{"megahertz are filled", "n78:100 + n78:90 + n1:30", "n78:100 + n1:30", "2 NR aggregated width 220 MHz>130 MHz", all(func(d *Device) { d.NRWidth = 130 * bands.MHz })},
		{"all megahertz", "B3:20 + n78:100", "B3:20", "2 aggregated width 120 MHz>110 MHz", all(func(d *Device) { d.Width = 110 * bands.MHz })},
		{"one uplink", "B3:20 + n78:100", "B3:20,ul=1 + n78:100,ul=0", "2 uplink carriers 2>1", all(func(d *Device) { d.UplinkCarriers = 1 })},
		{"a supplementary downlink does not stand alone", "n1:20 + n75:50", "n1:20", "2 NR carriers 2>1", all(func(d *Device) { d.NRCarriers = 1 })},
		{"listed", "B3:20 + B7:20 + n78:100", "B3:20 + B7:20 + n78:100", "", all(func(d *Device) { d.Configurations = names(t, "DC_3A-7A_n78A") })},
		{"a fallback of a listed one", "B3:20 + n78:100", "B3:20 + n78:100", "", all(func(d *Device) { d.Configurations = names(t, "DC_3A-7A_n78A") })},
		{"the better of two", "B3:20 + B7:10 + n78:100", "B3:20 + n78:100", "2 configuration DC_3A-7A_n78A>DC_3A_n78A",
			all(func(d *Device) { d.Configurations = names(t, "DC_7A_n78A", "DC_3A_n78A") })},
		{"not with each other", "n1:20 + n3:20 + n78:100", "n3:20 + n78:100", "1 configuration CA_n1A-n3A-n78A>CA_n3A-n78A",
			all(func(d *Device) { d.Configurations = names(t, "CA_n1A-n3A", "CA_n3A-n78A") })},
		{"one carrier needs no list", "n28:10 + n78:100", "n78:100", "1 configuration CA_n28A-n78A>a single carrier", all(func(d *Device) { d.Configurations = names(t, "CA_3A-7A") })},
		// 640000 and 646664 lie 99.96 MHz apart, the nominal spacing (TS 38.101-1 V19.5.0 clause 5.4A.1): contiguous.
		{"contiguous is not apart", "n78:100@640000 + n78:100@646664", "n78:100@640000", "2 configuration CA_n78C>CA_n78(2A)",
			all(func(d *Device) { d.Configurations = names(t, "CA_n78(2A)") })},
		{"contiguous as listed", "n78:100@640000 + n78:100@646664", "n78:100@640000 + n78:100@646664", "", all(func(d *Device) { d.Configurations = names(t, "CA_n78C") })},
		{"unknown may be either", "2xn78:100", "2xn78:100", "", all(func(d *Device) { d.Configurations = names(t, "CA_n78(2A)") })},
		{"equal carriers", "4xn78:50", "2xn78:50", "3 NR aggregated width 200 MHz>100 MHz; 4 NR aggregated width 200 MHz>100 MHz", all(func(d *Device) { d.NRWidth = 100 * bands.MHz })},
	} {
		s := serve(t, test.device, test.site)
		if got := s.Carriers.String(); got != test.served {
			t.Errorf("%s: of %s the device takes %q, want %q", test.name, test.site, got, test.served)
		}
		if got := items(s); got != test.items {
			t.Errorf("%s: limits\n got %s\nwant %s", test.name, got, test.items)
		}
		if !s.Complete || len(s.Of) != len(s.Carriers) || !slices.IsSorted(s.Of) {
			t.Errorf("%s: %+v", test.name, s)
		}
		for _, l := range s.Limits {
			if !strings.HasSuffix(l.Text, ".") || strings.Contains(l.Text, "\n") {
				t.Errorf("%s: %q is no sentence", test.name, l.Text)
			}
		}
	}
}

func TestDeviceFillIn(t *testing.T) {
	d := &Device{Bands: []DeviceBand{{Band: band(t, "n78"), Layers: 4, QAM: 1024, UplinkLayers: 2, UplinkQAM: 256}, {Band: band(t, "n80"), UplinkQAM: 256}}}
	c, err := ca.Parse("n78:100 + n78:90,layers=2 + n80:20 + n1:20")
	if err != nil {
		t.Fatal(err)
	}
	full, assumed := d.FillIn(c)
	const want = "n78:100,layers=4,ullayers=2,qam=1024,ulqam=256 + n78:90,layers=2,qam=1024 + n80:20,ulqam=256 + n1:20"
	if full.String() != want {
		t.Errorf("completed to %s, want %s", full, want)
	}
	if len(assumed) != 5 || !slices.Equal(assumed[1].Carriers, []int{1, 2}) || assumed[1].Quantity != QuantityQAM || assumed[1].Value != "1024" || assumed[1].Why != WhyDevice {
		t.Errorf("assumed %+v", assumed)
	}
	if c.String() != "n78:100 + n78:90,layers=2 + n80:20 + n1:20" {
		t.Error("the site's combination was changed")
	}
}

// plainServe tries every set of carriers.
func plainServe(d *Device, site *Result) int64 {
	carriers := site.assessment.Carriers
	best := int64(-1)
	hasAnchor := false
	for i := range carriers {
		hasAnchor = hasAnchor || d.band(carriers[i].Band) != nil && carriers[i].Band.RAT == bands.LTE && carriers[i].Info.Duplex != bands.SDL
	}
	for set := 1; set < 1<<len(carriers); set++ {
		var c ca.Combination
		var rate int64
		var count [3]int
		var width [3]bands.Frequency
		ok, plain := true, [3]bool{}
		for i := range carriers {
			if set>>i&1 == 0 {
				continue
			}
			p := &carriers[i]
			ok = ok && d.band(p.Band) != nil
			c = append(c, p.Carrier)
			rate += site.Carriers[i].Downlink.Max.Round()
			plain[p.Band.RAT] = plain[p.Band.RAT] || p.Info.Duplex != bands.SDL
			for _, k := range []int{0, int(p.Band.RAT)} {
				count[k], width[k] = count[k]+1, width[k]+p.DownlinkWidth
			}
		}
		for k, b := range [3]struct {
			n int
			w bands.Frequency
		}{{d.Carriers, d.Width}, {d.LTECarriers, d.LTEWidth}, {d.NRCarriers, d.NRWidth}} {
			ok = ok && (b.n == 0 || count[k] <= b.n) && (b.w == 0 || width[k] <= b.w) && (k == 0 || count[k] == 0 || plain[k])
		}
		if site.assessment.Kind == ca.KindENDC && hasAnchor {
			ok = ok && plain[bands.LTE]
		}
		if ok && len(d.Configurations) > 0 && len(c) > 1 {
			forms, _ := ca.Assess(c).Formed()
			ok = slices.ContainsFunc(d.Configurations, func(n ca.Name) bool {
				return slices.ContainsFunc(forms, func(f ca.Form) bool { return n.FallsBackTo(f.Name) })
			})
		}
		if ok {
			best = max(best, rate)
		}
	}
	return best
}

// The search finds what a plain look at every set finds, and every carrier that it
// leaves out has a reason.
func TestServeAgreesWithEverySet(t *testing.T) {
	sites := []string{
		"B3:20 + B7:20 + B20:10 + n78:100 + n78:80 + n28:10",
		"B3:20 + B7:15 + B20:10 + B3:10",
		"n1:20 + n3:30 + n28:10 + n78:100 + n78:60 + n75:50",
		"n78:100@640000 + n78:100@646664 + n78:40@630000 + n1:20",
		"B32:20 + B3:20 + n78:50 + n78:50 + n78:40",
	}
	lists := [][]string{
		nil, {"DC_3A-7A_n78A", "CA_3A-20A"}, {"CA_n1A-n78A", "CA_n78(2A)", "CA_n28A-n78A"}, {"CA_n78C", "DC_7A-20A_n78A", "CA_3A-3A"},
		{"CA_n3A-n28A-n75A"}, {"DC_3A-32A_n78(2A)", "CA_n78(2A)"},
	}
	tried := 0
	for _, site := range sites {
		c, err := ca.Parse(site)
		if err != nil {
			t.Fatal(err)
		}
		rated, err := Rate(ca.Assess(c))
		if err != nil {
			t.Fatal(err)
		}
		for _, list := range lists {
			for counts := range 3 * 3 * 3 {
				for _, width := range []bands.Frequency{0, 45, 125, 205} {
					d := device(t, "B3", "B7", "B20", "B32", "n1", "n3", "n28", "n78", "n75")
					d.Configurations = names(t, list...)
					d.Carriers, d.LTECarriers, d.NRCarriers = counts%3*2, counts/3%3, counts/9
					describe := fmt.Sprint(site, ": ", counts, width, list)
					d.Width, d.NRWidth = width*bands.MHz, width*bands.MHz/2
					got := d.Serve(rated)
					var rate int64
					for _, of := range got.Of {
						rate += rated.Carriers[of-1].Downlink.Max.Round()
					}
					if want := max(0, plainServe(d, rated)); rate != want {
						t.Fatalf("%s: %s with %d bit/s, want %d", describe, got.Carriers, rate, want)
					}
					for i := range c {
						left := !slices.Contains(got.Of, i+1)
						if left != slices.ContainsFunc(got.Limits, func(l Limit) bool { return l.Carrier == i+1 && l.Item != "uplink carriers" }) {
							t.Fatalf("%s: carrier %d left out %v, limits %s", describe, i+1, left, items(got))
						}
					}
					tried++
				}
			}
		}
	}
	t.Logf("%d devices", tried)
}

// Dozens of carriers of different widths end the search early; what it has is still
// within the bounds.
func TestServeManyCarriers(t *testing.T) {
	var parts []string
	for i := range 32 {
		parts = append(parts, fmt.Sprintf("n78:%d,layers=%d", []int{10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90, 100}[i%12], 1+i%4))
	}
	d := device(t, "n78")
	d.NRWidth = 777 * bands.MHz
	s := serve(t, d, strings.Join(parts, " + "))
	sum := bands.Frequency(0)
	for _, c := range s.Carriers {
		sum += c.Downlink
	}
	if sum > d.NRWidth || sum < 700*bands.MHz {
		t.Errorf("%v of 777 MHz are used", sum)
	}
}

func BenchmarkServe(b *testing.B) {
	c, err := ca.Parse("B3:20 + B7:20 + B20:10 + n78:100 + n78:80 + n28:10")
	if err != nil {
		b.Fatal(err)
	}
	r, err := Rate(ca.Assess(c))
	if err != nil {
		b.Fatal(err)
	}
	d := device(b, "B3", "B7", "B20", "n28", "n78")
	d.Configurations = names(b, "DC_3A-7A_n78A", "DC_3A-20A_n28A-n78A", "CA_n78(2A)", "CA_3A-7A-20A")
	b.ReportAllocs()
	for b.Loop() {
		if s := d.Serve(r); len(s.Carriers) != 4 {
			b.Fatal(s.Carriers)
		}
	}
}

func ExampleDevice_Serve() {
	c, _ := ca.Parse("B3:20 + B7:20 + n78:100,layers=4")
	site, _ := Rate(ca.Assess(c))
	d := Device{Bands: []DeviceBand{
		{Band: bands.ID{RAT: bands.LTE, Number: 3}},
		{Band: bands.ID{RAT: bands.NR, Number: 78}, Layers: 2},
	}}
	served := d.Serve(site)
	fmt.Println(served.Carriers)
	for _, l := range served.Limits {
		fmt.Println(l.Text)
	}
	// Output:
	// B3:20 + n78:100,layers=2
	// The device does not have B7.
	// The device takes 2 downlink layers in n78, the site offers 4.
}
