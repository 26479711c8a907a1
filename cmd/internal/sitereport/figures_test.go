package sitereport

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"spectally/cmd/internal/render"
	"spectally/cmd/internal/siteplan"
)

// parsed is the JSON of a plan.
func parsed(t *testing.T, plan string) any {
	t.Helper()
	var root any
	if err := json.Unmarshal(show(t, answer(t, plan), render.Options{Format: render.JSON}), &root); err != nil {
		t.Fatal(err)
	}
	return root
}

// field is a value of JSON by its path: "sectors.0.dl.edge_mbps".
func field(t *testing.T, root any, path string) any {
	t.Helper()
	x := root
	for key := range strings.SplitSeq(path, ".") {
		switch v := x.(type) {
		case map[string]any:
			one, ok := v[key]
			if !ok {
				t.Fatalf("%s: no %s", path, key)
			}
			x = one
		case []any:
			i, err := strconv.Atoi(key)
			if err != nil || i >= len(v) {
				t.Fatalf("%s: no %s", path, key)
			}
			x = v[i]
		default:
			t.Fatalf("%s: %v has no %s", path, x, key)
		}
	}
	return x
}

func number(t *testing.T, root any, path string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(fmt.Sprint(field(t, root, path)), 64)
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	return v
}

func near(t *testing.T, root any, path string, want, tolerance float64) {
	t.Helper()
	if got := number(t, root, path); math.Abs(got-want) > tolerance {
		t.Errorf("%s is %v, want %v", path, got, want)
	}
}

// TestDemoByHand works the demo out a second time with the published efficiencies,
// typed from Report ITU-R M.2410-0 clauses 4.4 (Table 1) and 4.5 (Table 2): dense urban
// 7.8 and 5.4 bit/s/Hz on average, 0.225 and 0.15 at the 5th percentile; and with those
// of Report ITU-R M.2134 from memory: microcellular 2.6 and 1.8, high speed 1.1 and
// 0.7. DDDSU with 10, 2 and 2 symbols gives the downlink 3·14+10 and the uplink 14+2
// of 70 symbols.
func TestDemoByHand(t *testing.T) {
	root := parsed(t, siteplan.Demo())
	const down, up = 52.0 / 70, 16.0 / 70
	// The marsh has two ports where the published value is for four, and one for 32
	// is three times as high: a straight line over the logarithms goes on to 1.1 / 3^(1/3).
	twoPorts := math.Round(1000*1.1/math.Cbrt(3)) / 1000
	var site, siteUp float64
	for _, c := range []struct {
		path           string
		count          float64
		mhz, share     float64
		bps, load      float64
		upShare, upBps float64
		upLoad         float64
	}{
		{"sectors.0.carriers.0", 2, 100, down, 7.8, 0.7, up, 5.4, 0.4},
		{"sectors.0.carriers.1", 2, 20, 1, 2.6, 0.7, 1, 1.8, 0.4},
		{"sectors.0.carriers.2", 2, 10, 1, 2.6, 0.7, 1, 1.8, 0.4},
		{"sectors.1.carriers.0", 1, 60, down, 2.4, 0.45, up, 1.1, 0.25},
		{"sectors.1.carriers.1", 1, 10, 1, twoPorts, 0.45, 1, 0.7, 0.25},
		{"sectors.1.carriers.2", 1, 10, 1, twoPorts, 0.45, 1, 0.7, 0.25},
	} {
		mean, meanUp := c.mhz*c.share*c.bps*c.load, c.mhz*c.upShare*c.upBps*c.upLoad
		near(t, root, c.path+".dl.busy_hour_mbps", mean, 2e-6)
		near(t, root, c.path+".ul.busy_hour_mbps", meanUp, 2e-6)
		near(t, root, c.path+".dl.full_load_mbps", mean/c.load, 2e-6)
		site, siteUp = site+c.count*mean, siteUp+c.count*meanUp
	}
	near(t, root, "sectors.0.carriers.0.dl.edge_mbps", 100*down*0.225, 2e-6)
	near(t, root, "sectors.0.carriers.0.ul.edge_mbps", 100*up*0.15, 2e-6)
	near(t, root, "site.dl.busy_hour_mbps", site, 2e-5)
	near(t, root, "site.ul.busy_hour_mbps", siteUp, 2e-5)
	// 97896 and 195816 bits: the largest transport blocks of 100 resource blocks on one
	// and two layers with 256QAM (TS 36.213 V19.3.0 Tables 7.1.7.2.1-1 and 7.1.7.2.2-1,
	// from memory); two codewords of two layers each in 1 ms.
	near(t, root, "sectors.0.carriers.1.dl.max_rate_mbps", 2*195.816, 1e-9)
	// The link: the peak of one phone is above the means, with 12 and 14 % on top.
	peak := 0.0
	for i := range 3 {
		peak += number(t, root, fmt.Sprintf("sectors.0.carriers.%d.dl.scheduled_mbps", i))
	}
	near(t, root, "site.backhaul.dl.need_mbps", 1.26*peak, 1e-6)
	near(t, root, "site.backhaul.dl.link_mbps", 2000, 0)
	// Data: bytes of the busy hour, of which the day has a hundredth eight times.
	near(t, root, "site.volume.busy_hour.dl_gb", site*1e6*3600/8/1e9, 1e-4)
	near(t, root, "site.volume.day.dl_gb", site*1e6*3600/8/0.08/1e9, 1e-3)
	near(t, root, "site.volume.month.ul_gb", 30*siteUp*1e6*3600/8/0.08/1e9, 1e-2)
	// Users: 2 Mbit/s up decide, four times oversold, a fifth of them active.
	near(t, root, "site.users.active", math.Floor(siteUp/2), 0)
	near(t, root, "site.users.served", math.Floor(siteUp/2*4/0.2), 0)
	if by := field(t, root, "site.users.by"); by != "ul" || site/10 < siteUp/2 {
		t.Errorf("the users are decided by %v", by)
	}
}

// TestMeansDecide: twelve sectors of IMT-2020's rural 3.3 bit/s/Hz (Report ITU-R
// M.2410-0 clause 4.5 Table 2) on 100 MHz together need more than one peak; the
// overhead of transport is 10 % if nothing is said (common practice, no source).
func TestMeansDecide(t *testing.T) {
	root := parsed(t, "name = 'T'\nenvironment = 'rural'\n[backhaul]\nlink = '1 Gbit/s'\n[[sector]]\ncount = 12\n[[sector.radio]]\ncarriers = 'n78:100'\nports = '32T32R'\n")
	means := 12 * 100 * 52.0 / 70 * 3.3
	near(t, root, "site.dl.busy_hour_mbps", means, 1e-5)
	near(t, root, "site.backhaul.dl.need_mbps", 1.1*means, 1e-5)
	near(t, root, "site.backhaul.dl.delivered_mbps", 1000/1.1, 1e-6)
	near(t, root, "site.volume.day.dl_gb", 1000/1.1*1e6*3600/8/0.07/1e9, 1e-3)
	if by := field(t, root, "site.backhaul.dl.by"); by != "busy-hour" {
		t.Errorf("the backhaul is decided by %v", by)
	}
	if kind := field(t, root, "limits.0.kind"); kind != "backhaul" {
		t.Errorf("the first limit is %v", kind)
	}
	if field(t, root, "site.users") != nil || field(t, root, "site.backhaul.dl.enough") != false {
		t.Error("users without a rate, or a link that is enough")
	}
}

// TestCoverageByHand works n78 of the demo out a second time: UMa without line of sight
// 13.54 + 39.08 log d + 20 log f, a wall of plain glass and concrete, and 0.5 dB for each
// metre behind it, with the mean of the smaller of two draws over 25 m; spreads of 6 and
// 4.4 dB, of which nine places in ten need 1.2816 times the root of the squares
// (Report ITU-R M.2412-0 annex 1, Tables A1-2 and A1-6, section 3.2; the quantile of the
// normal distribution); noise of -174 dBm/Hz and 9 dB in 273 blocks of 12 subcarriers.
func TestCoverageByHand(t *testing.T) {
	root := parsed(t, siteplan.Demo())
	const path = "coverage.carriers.0"
	const ghz, wide = 3.6, 12 * 273 * 30e3
	log := math.Log10
	loss := func(d float64) float64 { return 13.54 + 39.08*log(math.Hypot(d, 25-1.5)) + 20*log(ghz) }
	entry := 5 - 10*log(0.3*math.Pow(10, -(2+0.2*ghz)/10)+0.7*math.Pow(10, -(5+4*ghz)/10)) + 0.5*25/3
	margin := 1.281552 * math.Hypot(6, 4.4)
	mcl := 53 - (-174 + 10*log(wide) + 9)
	near(t, root, path+".entry_loss_db", entry, 0.0006)
	near(t, root, path+".margin_db", margin, 0.0006)
	near(t, root, path+".dl.max_coupling_loss_db", mcl, 0.0006)
	near(t, root, path+".dl.max_path_loss_db", mcl+24-entry-margin, 0.002)
	reach := number(t, root, path+".dl.range_m")
	if most := mcl + 24 - entry - margin; loss(reach-1) > most || loss(reach+1) < most {
		t.Errorf("a range of %v m has a loss of %v dB, and %v dB are left", reach, loss(reach), most)
	}
	near(t, root, path+".path_loss_db", loss(400), 0.0006)
	near(t, root, path+".rsrp_dbm", 77-10*log(12*273)-loss(400)-entry, 0.0012)
	// Lower down, the 20 log f alone lets n28 reach (3.6/0.773)^(20/39.08) times as far.
	near(t, root, "coverage.carriers.2.band_relative_range", math.Pow(3.6/0.773, 20/39.08), 0.02)
}

// TestEqualSectors: a site of three equal sectors is three times one in everything but
// what one phone has.
func TestEqualSectors(t *testing.T) {
	plan := func(count int) string {
		return fmt.Sprintf("name = 'T'\nenvironment = 'dense-urban'\n[[sector]]\ncount = %d\n[[sector.radio]]\ncarriers = 'n78:100 + B3:20'\nports = '8T8R'\n", count)
	}
	one, three := parsed(t, plan(1)), parsed(t, plan(3))
	for path, times := range map[string]float64{
		"site.dl.busy_hour_mbps": 3, "site.ul.busy_hour_mbps": 3, "site.dl.cell_scheduled_mbps": 3, "site.dl.width_mhz": 3, "site.volume.day.dl_gb": 3,
		"site.dl.scheduled_mbps": 1, "site.dl.edge_mbps": 1, "sectors.0.dl.busy_hour_mbps": 1, "builds.2.dl.busy_hour_mbps": 3,
	} {
		near(t, three, path, times*number(t, one, path), 1e-6*times)
	}
}

// TestBuilds: more ports never lower a figure, and leave the peak of one phone alone
// once the site has as many as the phone has layers (four in n78, TS 38.101-1 V19.5.0
// clause 7.2).
func TestBuilds(t *testing.T) {
	root := parsed(t, siteplan.Demo())
	var ports []float64
	for i := range 5 {
		at := func(key string) string { return fmt.Sprintf("builds.%d.%s", i, key) }
		ports = append(ports, number(t, root, at("ports")))
		if i == 0 {
			continue
		}
		for _, key := range []string{"dl.busy_hour_mbps", "ul.busy_hour_mbps", "dl.cell_scheduled_mbps", "dl.scheduled_mbps", "cell_layers"} {
			if before := number(t, root, fmt.Sprintf("builds.%d.%s", i-1, key)); number(t, root, at(key)) < before {
				t.Errorf("%s falls with more ports", key)
			}
		}
		if i > 1 {
			near(t, root, at("dl.scheduled_mbps"), number(t, root, "builds.1.dl.scheduled_mbps"), 0)
		}
	}
	if fmt.Sprint(ports) != "[2 4 8 32 64]" {
		t.Errorf("builds of %v ports", ports)
	}
}

// TestRefsens: an NR carrier has both directions at the standard's figures, 53 dBm against
// -85.5 dBm (TS 38.101-1 V19.5.0 Table 7.3.2-1b) and 23 dBm (Table 6.2.1-1) against -90.6 dBm
// of a medium-range base station (TS 38.104 V19.4.0 Table 7.2.2-2), without a power of the
// phone in the plan; LTE carriers have one line together. In free space 20 dB are ten times
// the range.
func TestRefsens(t *testing.T) {
	const plan = "name = 'T'\nenvironment = 'dense-urban'\n[coverage]\nmodel = 'free-space'\nsensitivity = 'refsens'\nbs_class = 'medium-range'\n[[sector]]\n[[sector.radio]]\ncarriers = 'n78:100 + B3:20 + B20:10'\nports = '8T8R'\npower_dbm = 53\ngain_dbi = 17\n"
	root := parsed(t, plan)
	const path = "coverage.carriers.0.refsens"
	near(t, root, path+".dl.refsens_dbm", -85.5, 0)
	near(t, root, path+".dl.max_path_loss_db", 53+85.5+17, 1e-6)
	near(t, root, path+".ul.power_dbm", 23, 0)
	near(t, root, path+".ul.max_path_loss_db", 23+90.6+17, 1e-6)
	near(t, root, path+".dl.range_m", number(t, root, path+".ul.range_m")*math.Pow(10, (53+85.5-23-90.6)/20), 20)
	if field(t, root, path+".ul.sources.1.table") != "7.2.2-2" || field(t, root, "coverage.carriers.1.refsens.dl") != nil {
		t.Error("tables, or an LTE carrier with figures")
	}
	out := strings.Join(strings.Fields(string(show(t, answer(t, plan), render.Options{Format: render.Text, Full: true, Width: 300}))), " ")
	for _, words := range []string{"no coverage promise", `Not worked out: band for REFSENS and UE power "B3, B20": must be a terrestrial NR band in FR1`, "6.2.1-1, 7.2.2-2"} {
		if !strings.Contains(out, words) {
			t.Errorf("the answer does not say %q", words)
		}
	}
}
