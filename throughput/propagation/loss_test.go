package propagation

import (
	"errors"
	"math"
	"strings"
	"testing"

	"spectally/bands"
)

func near(a, b, tolerance float64) bool { return math.Abs(a-b) <= tolerance }

// plainLoss is the path loss written out once more from Report ITU-R M.2412-0, annex 1
// section 3 (Tables A1-2 to A1-5): f in GHz, the slant distance d, the distance on the
// map d2, heights in metres.
func plainLoss(s Scenario, sight Sight, f, d2, d, base, user float64) float64 {
	log := math.Log10
	dbp := 4 * (base - 1) * (user - 1) * f * 1e9 / 3.0e8
	var los, nlos, optional float64
	switch s {
	case UMa:
		los = 28.0 + 22*log(d) + 20*log(f)
		if d2 > dbp {
			los = 28.0 + 40*log(d) + 20*log(f) - 9*log(dbp*dbp+(base-user)*(base-user))
		}
		nlos = math.Max(los, 13.54+39.08*log(d)+20*log(f)-0.6*(user-1.5))
		optional = 32.4 + 20*log(f) + 30*log(d)
	case UMi:
		los = 32.4 + 21*log(d) + 20*log(f)
		if d2 > dbp {
			los = 32.4 + 40*log(d) + 20*log(f) - 9.5*log(dbp*dbp+(base-user)*(base-user))
		}
		nlos = math.Max(los, 22.4+35.3*log(d)+21.3*log(f)-0.3*(user-1.5))
		optional = 32.4 + 20*log(f) + 31.9*log(d)
	case InH:
		los = 32.4 + 17.3*log(d) + 20*log(f)
		nlos = math.Max(los, 17.30+38.3*log(d)+24.9*log(f))
		optional = 32.4 + 20*log(f) + 31.9*log(d)
	}
	return map[Sight]float64{LineOfSight: los, NoLineOfSight: nlos, NoLineOfSightOptional: optional}[sight]
}

// TestPathLossFormulas checks every formula over its whole range against plainLoss.
func TestPathLossFormulas(t *testing.T) {
	checked := 0
	for _, s := range []Scenario{UMa, UMi, InH} {
		bases, users, far := []float64{25}, []float64{1.5, 5, 12.9, 22.5}, 5000.0
		switch s {
		case UMi:
			bases = []float64{10}
		case InH:
			bases, users, far = []float64{3, 4.5, 6}, []float64{1, 1.5, 2.5}, 149
		}
		for sight := LineOfSight; sight <= NoLineOfSightOptional; sight++ {
			for _, base := range bases {
				for _, user := range users {
					for _, mhz := range []int64{500, 700, 1800, 3500, 6000, 28000, 100000} {
						for d := 10.0; d <= far; d *= 1.17 {
							p := Path{Scenario: s, Sight: sight, Frequency: bands.Frequency(mhz) * bands.MHz, Distance: d, BaseHeight: base, UserHeight: user}
							got, err := p.Loss()
							if err != nil {
								t.Fatalf("%+v: %v", p, err)
							}
							want := plainLoss(s, sight, float64(mhz)/1000, d, math.Sqrt(d*d+(base-user)*(base-user)), base, user)
							if !near(got.DB, want, 1e-9) || len(got.Beyond) != 0 {
								t.Fatalf("%+v: %v dB, want %v", p, got.DB, want)
							}
							checked++
						}
					}
				}
			}
		}
	}
	if checked < 7000 {
		t.Errorf("%d points", checked)
	}
}

// TestPathLossPoints checks points that were worked out by hand from the formulas of
// Report ITU-R M.2412-0, annex 1 section 3: heights 25 m (UMa), 10 m (UMi) and 1.5 m.
func TestPathLossPoints(t *testing.T) {
	for _, c := range []struct {
		s                     Scenario
		ghz, d                float64 // on the map; InH: from antenna to antenna
		los, nlos, breakpoint float64
	}{
		{UMa, 3.5, 100, 83.138, 103.038, 560},
		{UMa, 3.5, 500, 98.269, 129.916, 560},
		{UMa, 0.7, 2000, 119.890, 139.447, 112},
		{UMa, 28, 200, 107.631, 132.524, 4480},
		{UMi, 3.5, 50, 79.090, 94.181, 210},
		{UMi, 3.5, 300, 98.244, 121.437, 210},
		{UMi, 28, 150, 107.056, 130.065, 1680},
		{InH, 3.5, 20, 65.789, 80.677, 0},
		{InH, 28, 50, 90.735, 118.405, 0},
	} {
		p := Path{Scenario: c.s, Frequency: bands.Frequency(math.Round(c.ghz * 1e9)), Distance: c.d, UserHeight: 1.5}
		if c.s == InH {
			p.BaseHeight, p.Distance = 3, math.Sqrt(c.d*c.d-1.5*1.5)
		}
		for sight, want := range map[Sight]float64{LineOfSight: c.los, NoLineOfSight: c.nlos} {
			p.Sight = sight
			got, err := p.Loss()
			if err != nil || !near(got.DB, want, 0.0006) || !near(got.Breakpoint, c.breakpoint, 0.01) {
				t.Errorf("%s %s %v GHz %v m: %.4f dB, break point %v, %v; want %.3f, %v", c.s, sight, c.ghz, c.d, got.DB, got.Breakpoint, err, want, c.breakpoint)
			}
		}
	}
}

// TestPathLossShadow checks the standard deviations of Report ITU-R M.2412-0, annex 1
// section 3.
func TestPathLossShadow(t *testing.T) {
	want := map[Scenario][3]float64{UMa: {4, 6, 7.8}, UMi: {4, 7.82, 8.2}, InH: {3, 8.03, 8.29}}
	for s, sigmas := range want {
		for i, sigma := range sigmas {
			l, err := Path{Scenario: s, Sight: Sight(i + 1), Frequency: 2 * bands.GHz, Distance: 100}.Loss()
			if err != nil || l.Shadow != sigma {
				t.Errorf("%s %s: shadowing %v, %v; want %v", s, Sight(i+1), l.Shadow, err, sigma)
			}
		}
	}
}

// TestPathLossContinuous: the loss has no step at the break point, and rises with
// distance and frequency.
func TestPathLossContinuous(t *testing.T) {
	for s := UMa; s <= RMa; s++ {
		for _, f := range []bands.Frequency{500 * bands.MHz, 2 * bands.GHz, 3500 * bands.MHz, 28 * bands.GHz} {
			for sight := LineOfSight; sight <= NoLineOfSight; sight++ {
				p := Path{Scenario: s, Sight: sight, Frequency: f, Distance: 100, Extrapolate: true}
				l, err := p.Loss()
				if err != nil {
					t.Fatal(err)
				}
				if bp := l.Breakpoint; bp > 0 {
					p.Distance = bp * (1 - 1e-9)
					below, _ := p.Loss()
					p.Distance = bp * (1 + 1e-9)
					above, _ := p.Loss()
					step := 1e-6
					if s == RMa { // whose formula counts from d_BP on the map
						step = 0.05
					}
					if !near(below.DB, above.DB, step) {
						t.Errorf("%s %s %s: %v dB before the break point, %v behind", s, sight, f, below.DB, above.DB)
					}
				} else if s != InH {
					t.Errorf("%s has no break point", s)
				}
				last := math.Inf(-1)
				for d := 10.0; d < 9000; d *= 1.05 {
					p.Distance = d
					l, _ := p.Loss()
					if l.DB <= last {
						t.Errorf("%s %s %s: the loss falls at %v m", s, sight, f, d)
					}
					last = l.DB
					q := p
					q.Sight = LineOfSight
					if free, _ := q.Loss(); l.DB < free.DB {
						t.Errorf("%s %s at %v m: less than with line of sight", s, f, d)
					}
				}
			}
		}
	}
}

func TestPathLossValidity(t *testing.T) {
	ok := func(change func(p *Path)) Path {
		p := Path{Scenario: UMa, Sight: NoLineOfSight, Frequency: 3500 * bands.MHz, Distance: 400}
		change(&p)
		return p
	}
	for _, c := range []struct {
		p    Path
		want string // of the error; empty if the path is good
	}{
		{ok(func(p *Path) { p.Distance = 10 }), ""},
		{ok(func(p *Path) { p.Distance = 5000 }), ""},
		{ok(func(p *Path) { p.Distance = 9.9 }), `uma distance "9.9 m": must be 10 to 5000 m (ITU-R M.2412 annex 1 section 3)`},
		{ok(func(p *Path) { p.Distance = 5000.5 }), `uma distance "5000.5 m": must be 10 to 5000 m (ITU-R M.2412 annex 1 section 3)`},
		{ok(func(p *Path) { p.Frequency = 500 * bands.MHz }), ""},
		{ok(func(p *Path) { p.Frequency = 100 * bands.GHz }), ""},
		{ok(func(p *Path) { p.Frequency = 450 * bands.MHz }), `uma frequency "450 MHz": must be 0.5 to 100 GHz (ITU-R M.2412 annex 1 section 3)`},
		{ok(func(p *Path) { p.BaseHeight = 30 }), `uma base height "30 m": must be 25 m (ITU-R M.2412 annex 1 section 3)`},
		{ok(func(p *Path) { p.UserHeight = 22.5 }), ""},
		{ok(func(p *Path) { p.UserHeight = 23 }), `uma user height "23 m": must be 1.5 to 22.5 m (ITU-R M.2412 annex 1 section 3)`},
		{ok(func(p *Path) { p.Scenario, p.Distance = InH, 149 }), ""},
		{ok(func(p *Path) { p.Scenario, p.Distance = InH, 151 }), `inh distance from antenna to antenna "151.013 m": must be 1 to 150 m (ITU-R M.2412 annex 1 section 3)`},
		{ok(func(p *Path) { p.Scenario, p.Frequency = RMa, 31*bands.GHz }), `rma frequency "31 GHz": must be 0.5 to 30 GHz (TR 38.901 Table 7.4.1-1)`},
		{ok(func(p *Path) { p.Scenario, p.Distance = RMa, 6000 }), `rma distance "6000 m": must be 10 to 5000 m (TR 38.901 Table 7.4.1-1)`},
		{ok(func(p *Path) { p.Scenario, p.Sight, p.Distance = RMa, LineOfSight, 10000 }), ""},
		{ok(func(p *Path) { p.Scenario, p.StreetWidth = RMa, 51 }), `rma street width "51 m": must be 5 to 50 m (TR 38.901 Table 7.4.1-1)`},
		{ok(func(p *Path) { p.Scenario, p.BuildingHeight = RMa, 4 }), `rma building height "4 m": must be 5 to 50 m (TR 38.901 Table 7.4.1-1)`},
	} {
		_, err := c.p.Loss()
		got := ""
		if err != nil {
			got = err.Error()
		}
		if got != c.want {
			t.Errorf("%+v: %s; want %s", c.p, got, c.want)
		}
		c.p.Extrapolate = true
		l, err := c.p.Loss()
		if err != nil || (len(l.Beyond) == 1) != (c.want != "") {
			t.Errorf("%+v: extrapolated with %v, %v", c.p, l.Beyond, err)
		}
	}
	for _, c := range []struct {
		p    Path
		want string
	}{
		{Path{}, `path loss model "0": must be free-space, uma, umi, inh, rma, street or street-residential`},
		{Path{Scenario: UMa}, `sight "0": must be los, nlos or nlos-optional`},
		{Path{Scenario: RMa, Sight: NoLineOfSightOptional}, `sight "nlos-optional": must be los or nlos in rma`},
		{Path{Scenario: FreeSpace}, `frequency "0 Hz": must be a frequency above zero`},
		{Path{Scenario: FreeSpace, Frequency: 1}, `distance "0 m": must be a distance above zero`},
		{ok(func(p *Path) { p.Distance = math.NaN() }), `distance "NaN m": must be a distance above zero`},
		{ok(func(p *Path) { p.Distance = math.Inf(1) }), `distance "+Inf m": must be a distance above zero`},
		{ok(func(p *Path) { p.BaseHeight = -1 }), `base height "-1 m": must be from 0 to 10000 m, 0 for that of the report`},
		{ok(func(p *Path) { p.UserHeight = 1 }), `antenna height "1 m": must be above 1 m, the effective height of the surroundings`},
	} {
		c.p.Extrapolate = true
		_, err := c.p.Loss()
		var v *bands.ValueError
		if !errors.As(err, &v) || err.Error() != c.want {
			t.Errorf("%+v: %v; want %s", c.p, err, c.want)
		}
	}
	tall, err := ok(func(p *Path) { p.UserHeight = 13 }).Loss()
	if err != nil || len(tall.Notes) != 1 || !strings.Contains(tall.Notes[0], "1 m is taken") {
		t.Errorf("a user at 13 m: %v, %v", tall.Notes, err)
	}
}

// TestFreeSpaceLoss holds the loss against 32.4 + 20 log f + 20 log d with MHz and km
// of Recommendation ITU-R P.525 (from memory), whose constant is rounded to 0.1 dB.
func TestFreeSpaceLoss(t *testing.T) {
	for _, mhz := range []int64{450, 700, 3500, 28000} {
		for _, km := range []float64{0.01, 0.3, 1, 12.5} {
			want := 32.4 + 20*math.Log10(float64(mhz)) + 20*math.Log10(km)
			l, err := Path{Scenario: FreeSpace, Frequency: bands.Frequency(mhz) * bands.MHz, Distance: km * 1000}.Loss()
			if err != nil || !near(l.DB, want, 0.05) {
				t.Errorf("%d MHz, %v km: %v dB, %v; want %v", mhz, km, l.DB, err, want)
			}
		}
	}
	// 4 pi d f / c is 1 at a distance of a wavelength divided by 4 pi.
	if got := FreeSpaceLoss(299_792_458, 1/(4*math.Pi)); !near(got, 0, 1e-12) {
		t.Errorf("%v dB", got)
	}
}

// TestRange: the loss at the range is the loss that was asked for.
func TestRange(t *testing.T) {
	for s := FreeSpace; s <= RMa; s++ {
		for sight := LineOfSight; sight <= NoLineOfSight; sight++ {
			for loss := 80.0; loss < 150; loss += 7.3 {
				p := Path{Scenario: s, Sight: sight, Frequency: 3500 * bands.MHz, Extrapolate: true}
				d, at, err := p.Range(loss)
				if err != nil {
					t.Fatalf("%s %s %v dB: %v", s, sight, loss, err)
				}
				p.Distance = d
				if l, err := p.Loss(); err != nil || !near(l.DB, loss, 1e-6) || l.DB != at.DB {
					t.Errorf("%s %s: range %v m for %v dB has %v dB, %v", s, sight, d, loss, l.DB, err)
				}
				p.Extrapolate = false
				if _, _, err := p.Range(loss); (err != nil) != (len(at.Beyond) > 0) {
					t.Errorf("%s %s %v dB: error %v, beyond %v", s, sight, loss, err, at.Beyond)
				}
			}
		}
	}
	p := Path{Scenario: FreeSpace, Frequency: bands.GHz}
	for _, loss := range []float64{-100, 500, math.NaN()} {
		if _, _, err := p.Range(loss); err == nil {
			t.Errorf("a range for %v dB", loss)
		}
	}
}

// TestRelativeRange: in free space range goes with the wavelength, so half the
// frequency reaches twice as far; with a slope of n dB for each decade of distance and
// 20 dB for each of frequency it goes with the power 20/n (UMa NLOS: 39.08, beyond
// heights).
func TestRelativeRange(t *testing.T) {
	p := Path{Scenario: FreeSpace, Frequency: 700 * bands.MHz}
	if r, err := p.RelativeRange(3500*bands.MHz, 120); err != nil || !near(r, 5, 1e-9) {
		t.Errorf("free space: %v, %v; want 5", r, err)
	}
	p = Path{Scenario: UMa, Sight: NoLineOfSight, Frequency: 700 * bands.MHz, Extrapolate: true}
	want := math.Pow(5, 20/39.08)
	if r, err := p.RelativeRange(3500*bands.MHz, 140); err != nil || !near(r, want, 0.001) {
		t.Errorf("urban macro: %v, %v; want %v", r, err, want)
	}
	if _, err := p.RelativeRange(0, 140); err == nil {
		t.Error("a range on no frequency")
	}
}
