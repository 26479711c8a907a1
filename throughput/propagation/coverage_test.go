package propagation

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput"
)

// TestPowerPerElement: 273 resource blocks have 3276 subcarriers (TS 38.101-1 V19.5.0
// Table 5.3.2-1: 100 MHz at 30 kHz), and 10 log 3276 is 35.153.
func TestPowerPerElement(t *testing.T) {
	if got := PowerPerElement(60, 273); !near(got, 60-35.1534, 0.0001) {
		t.Errorf("%v dBm", got)
	}
	if got := RSRP(60, 273, 110); !near(got, 60-35.1534-110, 0.0001) {
		t.Errorf("%v dBm", got)
	}
	if got := OccupiedWidth(273, 30*bands.KHz); got != 98_280*bands.KHz {
		t.Errorf("%v", got)
	}
}

// TestMaxCouplingLoss adds the budget up by hand: thermal noise -174 dBm/Hz in 180 kHz
// is -121.447 dBm; with 5 dB noise figure and -10 dB SINR 23 dBm stand 149.447 dB.
func TestMaxCouplingLoss(t *testing.T) {
	b := LinkBudget{Power: 23, Blocks: 1, SCS: 15 * bands.KHz, NoiseFigure: 5, SINR: -10}
	if got, err := b.MaxCouplingLoss(); err != nil || !near(got, 149.4473, 0.0001) {
		t.Errorf("%v, %v", got, err)
	}
	// Ten times the spectrum costs 10 dB, whether by blocks or by spacing.
	wide := b
	wide.Blocks = 10
	got, err := wide.MaxCouplingLoss()
	if err != nil || !near(got, 139.4473, 0.0001) {
		t.Errorf("%v, %v", got, err)
	}
	wide.Blocks, wide.SCS = 5, 30*bands.KHz
	if same, err := wide.MaxCouplingLoss(); err != nil || !near(same, got, 1e-9) {
		t.Errorf("%v, %v", same, err)
	}
	for _, bad := range []LinkBudget{{SCS: 15 * bands.KHz}, {Blocks: 1}} {
		if _, err := bad.MaxCouplingLoss(); err == nil {
			t.Errorf("%+v is taken", bad)
		}
	}
}

// TestShadowMargin checks against the quantiles of the normal distribution that every
// table of it has: 0.84162 at 80 %, 1.28155 at 90 %, 1.64485 at 95 %.
func TestShadowMargin(t *testing.T) {
	for part, z := range map[float64]float64{0.5: 0, 0.8: 0.84162, 0.9: 1.28155, 0.95: 1.64485, 0.1: -1.28155} {
		got, err := ShadowMargin(part, 3, 4) // together 5
		if err != nil || !near(got, 5*z, 0.0001) {
			t.Errorf("%v: %v, %v; want %v", part, got, err, 5*z)
		}
	}
	for _, part := range []float64{0, 1, -1, 2, math.NaN()} {
		if _, err := ShadowMargin(part, 6); err == nil {
			t.Errorf("%v of places is taken", part)
		}
	}
}

func parseCarriers(tb testing.TB, s string) ca.Combination {
	tb.Helper()
	c, err := ca.Parse(s)
	if err != nil {
		tb.Fatal(err)
	}
	return c
}

// TestReaches adds up by hand what two carriers of a site reach.
func TestReaches(t *testing.T) {
	c := Coverage{
		Path:  Path{Scenario: UMa, Sight: NoLineOfSight, Distance: 500},
		Entry: LowLossBuilding, Depth: 10, Places: 0.9, SINR: -6, UserPower: 23, UplinkBlocks: 4,
	}
	carriers := parseCarriers(t, "n28:10 + n78:100@636666")
	list, err := c.Reaches(carriers, []Emission{{46, 15}, {53, 24}})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []struct {
		ghz                             float64
		blocks                          int
		scs, power, gain                float64
		uplinkGHz, uplinkSCS, wallInOut float64
	}{
		// n28: downlink 758-803 MHz, uplink 703-748 MHz (TS 38.101-1 V19.5.0 Table 5.2-1),
		// 10 MHz at 15 kHz has 52 blocks (Table 5.3.2-1).
		{0.7805, 52, 15e3, 46, 15, 0.7255, 15e3, 0},
		// NR-ARFCN 636666 is 3000 + (636666 - 600000) * 0.015 = 3549.99 MHz.
		{3.54999, 273, 30e3, 53, 24, 3.54999, 30e3, 0},
	} {
		got := &list[i]
		lowLoss := 5 - 10*math.Log10(0.3*math.Pow(10, -(2+0.2*want.ghz)/10)+0.7*math.Pow(10, -(5+4*want.ghz)/10))
		entry := lowLoss + 5
		margin := 1.2815515655 * math.Sqrt(6*6+4.4*4.4)
		mcl := want.power - (-174 + 10*math.Log10(12*float64(want.blocks)*want.scs) + 9 - 6)
		mclUp := 23 - (-174 + 10*math.Log10(12*4*want.uplinkSCS) + 5 - 6)
		// UMa NLOS at 1.5 m is 13.54 + 39.08 log d3D + 20 log f.
		reach := func(mpl, ghz float64) float64 {
			d3 := math.Pow(10, (mpl-13.54-20*math.Log10(ghz))/39.08)
			return math.Sqrt(d3*d3 - 23.5*23.5)
		}
		rsrp := want.power + want.gain - 10*math.Log10(12*float64(want.blocks)) - entry -
			(13.54 + 39.08*math.Log10(math.Hypot(500, 23.5)) + 20*math.Log10(want.ghz))
		for _, v := range []struct {
			name      string
			got, want float64
		}{
			{"frequency", got.Frequency.InMHz() / 1000, want.ghz},
			{"entry", got.Entry.DB(), entry},
			{"margin", got.Margin, margin},
			{"EIRP", got.EIRP, want.power + want.gain},
			{"coupling loss", got.Downlink.MaxCouplingLoss, mcl},
			{"path loss", got.Downlink.MaxPathLoss, mcl + want.gain - entry - margin},
			{"range", got.Downlink.Range, reach(mcl+want.gain-entry-margin, want.ghz)},
			{"uplink coupling loss", got.Uplink.MaxCouplingLoss, mclUp},
			{"uplink range", got.Uplink.Range, reach(mclUp+want.gain-entry-margin, want.uplinkGHz)},
			{"RSRP", got.RSRP, rsrp},
		} {
			if !near(v.got, v.want, 1e-6*math.Abs(v.want)) {
				t.Errorf("%s, %s: %v, want %v", carriers[i].Band, v.name, v.got, v.want)
			}
		}
		if !got.HasRSRP || !got.HasUplink || got.Downlink.RangeError != nil || len(got.Downlink.Beyond) > 0 {
			t.Errorf("%s: %+v", carriers[i].Band, got)
		}
	}
	if got, want := list[1].RelativeRange, list[1].Downlink.Range/list[0].Downlink.Range; got != want || list[0].RelativeRange != 1 {
		t.Errorf("relative ranges %v and %v", list[0].RelativeRange, got)
	}
}

func TestReachesBeyond(t *testing.T) {
	c := Coverage{Path: Path{Scenario: UMa, Sight: LineOfSight}, SINR: -10}
	list, err := c.Reaches(parseCarriers(t, "n28:10 + n80:10 + n75:20"), []Emission{{46, 15}, {46, 15}, {46, 15}})
	if err != nil {
		t.Fatal(err)
	}
	var v *bands.ValueError
	if !errors.As(list[0].Downlink.RangeError, &v) || list[0].Downlink.Range != 0 || list[0].HasRSRP || list[0].HasUplink {
		t.Errorf("beyond 5 km without leave: %+v", list[0])
	}
	if list[1].HasDownlink || list[1].HasUplink || list[2].HasUplink || !list[2].HasDownlink {
		t.Errorf("directions: %+v, %+v", list[1], list[2])
	}
	c.Path.Extrapolate = true
	list, err = c.Reaches(parseCarriers(t, "n28:10"), []Emission{{46, 15}})
	if err != nil || list[0].Downlink.RangeError != nil || list[0].Downlink.Range < 5000 || len(list[0].Downlink.Beyond) != 1 {
		t.Errorf("extrapolated: %+v, %v", list[0], err)
	}
	for _, bad := range []struct {
		change func(c *Coverage)
		want   string
	}{
		{func(c *Coverage) { c.Places = 1 }, `places "1": must be 0 to 0.999`},
		{func(c *Coverage) { c.SINR = math.NaN() }, `SINR "NaN dB": must be -30 to 40 dB`},
		{func(c *Coverage) { c.UplinkBlocks = 276 }, `uplink blocks "276": must be 0 to 275`},
		{func(c *Coverage) { c.Path.Sight = 0 }, `carrier 1 "n28:10": sight "0": must be los, nlos or nlos-optional`},
		{func(c *Coverage) { c.Path.Scenario = InH; c.Entry = LowLossBuilding }, `carrier 1 "n28:10": entry loss "low-loss": must be none or a vehicle in inh (ITU-R M.2412 annex 1 section 3.2)`},
		{func(c *Coverage) { c.Path.Extrapolate = false; c.Entry = ModelABuilding }, ""},
	} {
		d := c
		bad.change(&d)
		_, err := d.Reaches(parseCarriers(t, "n28:10"), []Emission{{46, 15}})
		got := ""
		if err != nil {
			got = err.Error()
		}
		if got != bad.want {
			t.Errorf("%s; want %s", got, bad.want)
		}
	}
	d := Coverage{Path: Path{Scenario: UMa, Sight: NoLineOfSight}, Entry: ModelABuilding}
	if _, err := d.Reaches(parseCarriers(t, "n258:100"), []Emission{{30, 20}}); err == nil {
		t.Error("model A at 26 GHz without a word")
	}
	if _, err := d.Reaches(parseCarriers(t, "n78:35"), nil); err == nil {
		t.Error("a width that the band lacks is taken")
	}
}

func ExamplePath_Loss() {
	l, err := Path{Scenario: UMa, Sight: NoLineOfSight, Frequency: 3500 * bands.MHz, Distance: 500}.Loss()
	fmt.Printf("%.1f dB, %.1f m from antenna to antenna, %v\n", l.DB, l.Slant, err)
	_, err = Path{Scenario: UMa, Sight: NoLineOfSight, Frequency: 3500 * bands.MHz, Distance: 6000}.Loss()
	fmt.Println(err)
	// Output:
	// 129.9 dB, 500.6 m from antenna to antenna, <nil>
	// uma distance "6000 m": must be 10 to 5000 m (ITU-R M.2412 annex 1 section 3)
}

func ExamplePath_RelativeRange() {
	p := Path{Scenario: UMa, Sight: NoLineOfSight, Frequency: 700 * bands.MHz, Extrapolate: true}
	r, err := p.RelativeRange(3500*bands.MHz, 135)
	fmt.Printf("700 MHz reaches %.1f times as far as 3500 MHz, %v\n", r, err)
	// Output:
	// 700 MHz reaches 2.3 times as far as 3500 MHz, <nil>
}

func ExampleCoverage_Reaches() {
	c := Coverage{Path: Path{Scenario: UMa, Sight: NoLineOfSight, Distance: 300}, Places: 0.9, SINR: -6}
	carriers, err := ca.Parse("B20:10 + n78:100")
	if err != nil {
		fmt.Println(err)
		return
	}
	list, err := c.Reaches(carriers, []Emission{{Power: 46, Gain: 15}, {Power: 53, Gain: 24}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for i := range list {
		fmt.Printf("%s: %.0f m, RSRP %.1f dBm at 300 m\n", carriers[i].Band, list[i].Downlink.Range, list[i].RSRP)
	}
	// Output:
	// B20: 4589 m, RSRP -75.3 dBm at 300 m
	// n78: 2992 m, RSRP -79.6 dBm at 300 m
}

func BenchmarkPathLoss(b *testing.B) {
	p := Path{Scenario: UMa, Sight: NoLineOfSight, Frequency: 3500 * bands.MHz, Distance: 700}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := p.Loss(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPathRange(b *testing.B) {
	p := Path{Scenario: UMa, Sight: NoLineOfSight, Frequency: 3500 * bands.MHz}
	b.ReportAllocs()
	for b.Loop() {
		if _, _, err := p.Range(130); err != nil {
			b.Fatal(err)
		}
	}
}

// TestCoverageFaults: what a coverage cannot work with is an error wherever it is met.
func TestCoverageFaults(t *testing.T) {
	free := Coverage{Path: Path{Scenario: FreeSpace}, Places: 0.9, UserPower: 23, UplinkBlocks: 4}
	list, err := free.Reaches(parseCarriers(t, "n78:100"), []Emission{{Power: 30, Gain: 10}})
	if err != nil || list[0].Margin != 0 || list[0].Downlink.Range == 0 {
		t.Errorf("free space has no shadowing: %+v, %v", list, err)
	}
	if _, err := (&Coverage{Path: Path{Scenario: UMa, Sight: LineOfSight}, Places: -0.5}).Reaches(parseCarriers(t, "n78:100"), nil); err == nil {
		t.Error("places below none are taken")
	}
	if _, _, err := (Path{Scenario: 99, Sight: LineOfSight}).Range(120); err == nil {
		t.Error("a range of no model")
	}
	if base, user := (&Path{Scenario: 99, BaseHeight: 3}).Heights(); base != 3 || user != 0 {
		t.Errorf("heights %v and %v of no model", base, user)
	}
	if _, err := (Path{Scenario: UMa, Sight: LineOfSight, Frequency: bands.GHz}).RelativeRange(2*bands.GHz, 400); err == nil {
		t.Error("a range of 400 dB")
	}
	// The noise figures that are taken where none is given; that of the site is from memory,
	// and so only named here: 0 is the default.
	given := free
	given.BaseNoiseFigure, given.NoiseFigure = DefaultBaseNoiseFigure, throughput.DefaultNoiseFigure
	same, err := given.Reaches(parseCarriers(t, "n78:100"), []Emission{{Power: 30, Gain: 10}})
	if err != nil || same[0].Downlink.MaxCouplingLoss != list[0].Downlink.MaxCouplingLoss || same[0].Uplink.MaxCouplingLoss != list[0].Uplink.MaxCouplingLoss {
		t.Errorf("%+v, %+v, %v", same, list, err)
	}
}
