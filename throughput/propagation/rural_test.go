package propagation

import (
	"math"
	"testing"

	"spectally/bands"
)

// These tests hold what follows from physics and from the form of the model; figures are in
// TestPathLossTR38901.

// TestRuralNearFreeSpace: with line of sight and hardly any buildings the loss before the
// break point is that of free space, 20 log(4 pi d f / c), within 0.06 dB up to 1 km.
func TestRuralNearFreeSpace(t *testing.T) {
	for _, mhz := range []int64{500, 900, 2000, 3500, 6000} {
		f := bands.Frequency(mhz) * bands.MHz
		for d := 10.0; d <= 1000; d *= 1.1 {
			l, err := Path{Scenario: RMa, Sight: LineOfSight, Frequency: f, Distance: d, BuildingHeight: 1, BaseHeight: 35, UserHeight: 10, Extrapolate: true}.Loss()
			if err != nil || l.Breakpoint < 1000 {
				t.Fatalf("%d MHz at %v m: %+v, %v", mhz, d, l, err)
			}
			if free := FreeSpaceLoss(f, l.Slant); !near(l.DB, free, 0.06) {
				t.Errorf("%d MHz at %v m: %.4f dB, in free space %.4f", mhz, d, l.DB, free)
			}
		}
	}
}

// TestRuralSlopes: behind the break point the loss with line of sight rises by 40 dB for
// ten times the distance, as over flat ground; ten times the frequency costs 20 dB in
// front of it with line of sight and everywhere without.
func TestRuralSlopes(t *testing.T) {
	loss := func(p Path) PathLoss {
		t.Helper()
		p.Scenario, p.Extrapolate = RMa, true
		l, err := p.Loss()
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	for _, base := range []float64{15, 35, 80} {
		p := Path{Sight: LineOfSight, Frequency: 700 * bands.MHz, BaseHeight: base, UserHeight: 1.5, Distance: 1}
		p.Distance = 1.01 * loss(p).Breakpoint
		for range 10 {
			q := p
			q.Distance *= 1.3
			a, b := loss(p), loss(q)
			if rise := b.DB - a.DB; !near(rise, 40*math.Log10(b.Slant/a.Slant), 1e-9) {
				t.Errorf("%v m high, from %v to %v m: %v dB", base, p.Distance, q.Distance, rise)
			}
			p = q
		}
		for _, c := range []struct {
			sight    Sight
			distance float64
		}{{LineOfSight, 50}, {NoLineOfSight, 300}, {NoLineOfSight, 4000}} {
			low := loss(Path{Sight: c.sight, Frequency: 900 * bands.MHz, BaseHeight: base, UserHeight: 1.5, Distance: c.distance})
			high := loss(Path{Sight: c.sight, Frequency: 9 * bands.GHz, BaseHeight: base, UserHeight: 1.5, Distance: c.distance})
			if !near(high.DB-low.DB, 20, 1e-9) {
				t.Errorf("%s at %v m, %v m high: ten times the frequency costs %v dB", c.sight, c.distance, base, high.DB-low.DB)
			}
		}
	}
}

// TestRuralSurroundings: without line of sight wider streets, lower buildings, and higher
// antennas on either side never add loss; what is not given are streets of 20 m and
// buildings of 5 m.
func TestRuralSurroundings(t *testing.T) {
	usual := Path{Scenario: RMa, Sight: NoLineOfSight, Frequency: 800 * bands.MHz, Distance: 2000, BaseHeight: 35, UserHeight: 1.5}
	loss := func(change func(p *Path)) float64 {
		t.Helper()
		p := usual
		change(&p)
		l, err := p.Loss()
		if err != nil {
			t.Fatal(err)
		}
		return l.DB
	}
	if a, b := loss(func(*Path) {}), loss(func(p *Path) { p.StreetWidth, p.BuildingHeight = 20, 5 }); a != b {
		t.Errorf("%v dB and %v dB", a, b)
	}
	for _, c := range []struct {
		name   string
		values []float64
		set    func(p *Path, v float64)
	}{
		{"street width", []float64{5, 10, 20, 35, 50}, func(p *Path, v float64) { p.StreetWidth = v }},
		{"building height", []float64{50, 30, 15, 8, 5}, func(p *Path, v float64) { p.BuildingHeight = v }},
		{"base height", []float64{10, 20, 35, 60, 150}, func(p *Path, v float64) { p.BaseHeight = v }},
		{"user height", []float64{1, 1.5, 3, 5, 10}, func(p *Path, v float64) { p.UserHeight = v }},
	} {
		last := math.Inf(1)
		for _, v := range c.values {
			db := loss(func(p *Path) { c.set(p, v) })
			if db >= last {
				t.Errorf("%s %v m: %v dB after %v", c.name, v, db, last)
			}
			last = db
		}
	}
}
