package propagation

import (
	"math"
	"testing"

	"spectally/bands"
)

// TestWallLoss checks walls that were worked out by hand from Report ITU-R M.2412-0,
// annex 1 section 3.2 and Table A1-6.
func TestWallLoss(t *testing.T) {
	for _, c := range []struct {
		mhz       int64
		low, high float64
	}{{700, 10.237, 17.747}, {3500, 12.698, 26.850}, {28000, 17.829, 37.949}} {
		f := bands.Frequency(c.mhz) * bands.MHz
		for e, want := range map[Entry]float64{LowLossBuilding: c.low, HighLossBuilding: c.high} {
			l, err := e.Loss(UMa, f, 0)
			if err != nil || !near(l.Wall, want, 0.0006) || l.Inside != 0 || l.DB() != l.Wall {
				t.Errorf("%s at %s: %+v, %v; want %v", e, f, l, err, want)
			}
		}
	}
	low, _ := LowLossBuilding.Loss(UMi, bands.GHz, 0)
	high, _ := HighLossBuilding.Loss(UMi, bands.GHz, 0)
	if low.Sigma != 4.4 || high.Sigma != 6.5 {
		t.Errorf("standard deviations %v and %v; want 4.4 and 6.5 (Report ITU-R M.2412-0)", low.Sigma, high.Sigma)
	}
}

// TestMaterialLoss writes Report ITU-R M.2412-0 Table A1-6 out once more.
func TestMaterialLoss(t *testing.T) {
	for name, at := range map[string]func(f float64) float64{
		"glass":     func(f float64) float64 { return 2 + 0.2*f },
		"irr-glass": func(f float64) float64 { return 23 + 0.3*f },
		"concrete":  func(f float64) float64 { return 5 + 4*f },
		"wood":      func(f float64) float64 { return 4.85 + 0.12*f },
	} {
		for _, ghz := range []int64{1, 4, 26} {
			got, err := MaterialLoss(name, bands.Frequency(ghz)*bands.GHz)
			if err != nil || !near(got, at(float64(ghz)), 1e-12) {
				t.Errorf("%s at %d GHz: %v, %v", name, ghz, got, err)
			}
		}
	}
	if _, err := MaterialLoss("paper", bands.GHz); err == nil || err.Error() != `material "paper": must be glass, irr-glass, concrete or wood` {
		t.Errorf("%v", err)
	}
}

// TestIndoorLoss: 0.5 dB for each metre; the mean of one even draw over 0 to D is D/2,
// of the smaller of two D/3, which a sum over a fine grid confirms.
func TestIndoorLoss(t *testing.T) {
	mean := func(depth float64, draws int) float64 {
		const n = 1000
		sum := 0.0
		for i := range n {
			for k := range n {
				a, b := (float64(i)+0.5)*depth/n, (float64(k)+0.5)*depth/n
				if draws == 1 {
					b = a
				}
				sum += min(a, b)
			}
		}
		return sum / (n * n)
	}
	for _, c := range []struct {
		e     Entry
		s     Scenario
		depth float64
		draws int
	}{
		{LowLossBuilding, UMa, 25, 2}, {LowLossBuilding, UMi, 25, 2}, {LowLossBuilding, RMa, 10, 2}, {HighLossBuilding, UMa, 25, 2},
		{ModelABuilding, UMa, 25, 1}, {ModelABuilding, UMi, 25, 1}, {ModelABuilding, RMa, 10, 1},
	} {
		l, err := c.e.Loss(c.s, 2*bands.GHz, -1)
		if want := 0.5 * mean(c.depth, c.draws); err != nil || !near(l.Inside, want, 0.001*want) {
			t.Errorf("%s in %s: %v dB inside, %v; want %v", c.e, c.s, l.Inside, err, want)
		}
		if l, _ := c.e.Loss(c.s, 2*bands.GHz, 12); l.Inside != 6 {
			t.Errorf("%s in %s: %v dB for 12 m", c.e, c.s, l.Inside)
		}
	}
	// Model A: Report ITU-R M.2412-0, annex 1 section 3.2.
	for s, want := range map[Scenario]float64{UMa: 20, UMi: 20, RMa: 10} {
		if l, err := ModelABuilding.Loss(s, 2*bands.GHz, 0); err != nil || l.Wall != want || l.Sigma != 0 || len(l.Beyond) != 0 {
			t.Errorf("model A in %s: %+v, %v", s, l, err)
		}
	}
	if l, _ := ModelABuilding.Loss(UMa, 6001*bands.MHz, 0); len(l.Beyond) != 1 {
		t.Errorf("model A above 6 GHz is not marked: %+v", l)
	}
}

// TestVehicleLoss: Report ITU-R M.2412-0, annex 1 section 3.3: 9 dB, 20 dB with
// metallised windows, 0.6 to 60 GHz.
func TestVehicleLoss(t *testing.T) {
	for e, want := range map[Entry]float64{Vehicle: 9, VehicleMetallised: 20} {
		for _, c := range []struct {
			f      bands.Frequency
			beyond int
		}{{600 * bands.MHz, 0}, {599 * bands.MHz, 1}, {60 * bands.GHz, 0}, {61 * bands.GHz, 1}} {
			l, err := e.Loss(FreeSpace, c.f, -1)
			if err != nil || l.DB() != want || l.Sigma != 5 || len(l.Beyond) != c.beyond {
				t.Errorf("%s at %s: %+v, %v", e, c.f, l, err)
			}
		}
	}
}

func TestEntryErrors(t *testing.T) {
	for _, c := range []struct {
		e     Entry
		s     Scenario
		f     bands.Frequency
		depth float64
		want  string
	}{
		{LowLossBuilding, InH, bands.GHz, 0, `entry loss "low-loss": must be none or a vehicle in inh (ITU-R M.2412 annex 1 section 3.2)`},
		{ModelABuilding, FreeSpace, bands.GHz, 0, `entry loss "model-a": must be none or a vehicle in free-space (ITU-R M.2412 annex 1 section 3.2)`},
		{HighLossBuilding, RMa, bands.GHz, 0, `entry loss "high-loss": must be an entry other than high-loss in rma (ITU-R M.2412 annex 1 section 3.2)`},
		{LowLossBuilding, UMa, 0, 0, `frequency "0 Hz": must be a frequency above zero`},
		{LowLossBuilding, UMa, bands.GHz, 201, `depth indoors "201 m": must be 0 to 200 m`},
		{LowLossBuilding, UMa, bands.GHz, math.NaN(), `depth indoors "NaN m": must be 0 to 200 m`},
		{99, UMa, bands.GHz, 0, `entry loss "an unknown one": must be none, low-loss, high-loss, model-a, vehicle, vehicle-metallised, tr38901-low-loss, tr38901-low-loss-a, tr38901-high-loss, p2109-traditional or p2109-efficient`},
		{LowLossBuilding, 99, bands.GHz, 0, `path loss model "": must be free-space, uma, umi, inh, rma, street or street-residential`},
	} {
		if _, err := c.e.Loss(c.s, c.f, c.depth); err == nil || err.Error() != c.want {
			t.Errorf("%v; want %s", err, c.want)
		}
	}
	if l, err := OpenAir.Loss(InH, bands.GHz, 5); err != nil || l.DB() != 0 {
		t.Errorf("open air: %+v, %v", l, err)
	}
}

// TestSightProbability checks points that were worked out by hand from Report ITU-R
// M.2412-0, annex 1 Table A1-9.
func TestSightProbability(t *testing.T) {
	for _, c := range []struct {
		s       Scenario
		d, user float64
		want    float64
	}{
		{UMi, 18, 1.5, 1},
		{UMi, 36, 1.5, 0.5 + 0.5*0.36787944},       // 18/36 + e^-1 (1 - 18/36)
		{UMa, 18, 1.5, 1},                          //
		{UMa, 63, 1.5, 0.2857143 + 0.36787944*5/7}, // 18/63 + e^-1 (1 - 18/63)
		// 18/150 + e^(-150/63) (1 - 18/150), times 1 + 1 * 1.25 * 1.5^3 * e^-1
		{UMa, 150, 23, (0.12 + 0.09246*0.88) * (1 + 1.25*3.375*0.36787944)},
		{InH, 5, 1, 1},
		{InH, 49, 1, 0.53715},              // e^(-44/70.8)
		{InH, 260.7, 1, 0.54 * 0.36787944}, // 0.54 e^-1
		{RMa, 10, 1.5, 1},
		{RMa, 1010, 1.5, 0.36787944},
	} {
		got, err := SightProbability(c.s, c.d, c.user)
		if err != nil || !near(got, c.want, 0.0001) {
			t.Errorf("%s at %v m: %v, %v; want %v", c.s, c.d, got, err, c.want)
		}
	}
	for s := UMa; s <= RMa; s++ {
		for d := 0.0; d < 5000; d += 3 {
			for _, user := range []float64{1.5, 13, 23} {
				if p, err := SightProbability(s, d, user); err != nil || !(p >= 0 && p <= 1) {
					t.Fatalf("%s at %v m for %v m: %v, %v", s, d, user, p, err)
				}
			}
		}
	}
	for _, c := range []struct {
		s       Scenario
		d, user float64
	}{{FreeSpace, 10, 1.5}, {9, 10, 1.5}, {UMa, -1, 1.5}, {UMi, math.NaN(), 1.5}, {UMa, 10, 24}, {UMa, 10, math.NaN()}} {
		if p, err := SightProbability(c.s, c.d, c.user); err == nil {
			t.Errorf("%+v: %v", c, p)
		}
	}
}

func TestPathNames(t *testing.T) {
	for _, name := range ScenarioNames() {
		if s, err := ParseScenario(name); err != nil || s.String() != name {
			t.Errorf("%s: %v, %v", name, s, err)
		}
	}
	for _, name := range SightNames() {
		if s, err := ParseSight(name); err != nil || s.String() != name {
			t.Errorf("%s: %v, %v", name, s, err)
		}
	}
	for _, name := range EntryNames() {
		if e, err := ParseEntry(name); err != nil || e.String() != name {
			t.Errorf("%s: %v, %v", name, e, err)
		}
	}
	if s, err := ParseScenario("UMA"); err != nil || s != UMa {
		t.Errorf("%v, %v", s, err)
	}
	for _, c := range []struct {
		err  error
		want string
	}{
		{second(ParseScenario("umx")), `path loss model "umx": must be free-space, uma, umi, inh, rma, street or street-residential; closest is uma`},
		{second(ParseSight("line of sight")), `sight "line of sight": must be los, nlos or nlos-optional`},
		{second(ParseEntry("low_loss")), `entry loss "low_loss": must be none, low-loss, high-loss, model-a, vehicle, vehicle-metallised, tr38901-low-loss, tr38901-low-loss-a, tr38901-high-loss, p2109-traditional or p2109-efficient; closest is low-loss`},
	} {
		if c.err == nil || c.err.Error() != c.want {
			t.Errorf("%v; want %s", c.err, c.want)
		}
	}
	if Scenario(99).String() != "" || Sight(99).String() != "" || Entry(99).String() != "" {
		t.Error("a name for what is none")
	}
}

func second[T any](_ T, err error) error { return err }
