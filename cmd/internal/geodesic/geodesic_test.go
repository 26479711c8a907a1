package geodesic

import (
	"encoding/csv"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"
)

// TestPublished holds distances against published ones: testdata/distances.csv has
// their sources.
func TestPublished(t *testing.T) {
	file, err := os.Open("testdata/distances.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil || len(rows) != 4 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	for _, row := range rows[1:] {
		var v [5]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(row[i], 64); err != nil {
				t.Fatal(err)
			}
		}
		a, b := Point{v[0], v[1]}, Point{v[2], v[3]}
		for _, got := range [...]float64{Distance(a, b), Distance(b, a), inverse(a, b)} {
			if math.Abs(got-v[4]) > 0.0006 { // they are printed to a millimetre
				t.Errorf("%v to %v: %.6f m, want %.3f", a, b, got, v[4])
			}
		}
	}
}

// TestQuarter: the quarter meridian of WGS 84 is 10 001 965.729 m (NGA.STND.0036; from
// memory), the equator 2 pi a.
func TestQuarter(t *testing.T) {
	for _, test := range []struct {
		a, b Point
		want float64
	}{
		{Point{0, 17}, Point{90, 0}, 10001965.7293},
		{Point{-90, 5}, Point{90, 120}, 2 * 10001965.7293},
		{Point{0, -20}, Point{0, 20}, semiMajor * 40 * math.Pi / 180},
		{Point{0, 179.9}, Point{0, -179.9}, semiMajor * 0.2 * math.Pi / 180},
		{Point{41, 3}, Point{41, 3}, 0},
	} {
		if got := Distance(test.a, test.b); math.Abs(got-test.want) > 0.001 {
			t.Errorf("%v to %v: %.4f m, want %.4f", test.a, test.b, got, test.want)
		}
	}
}

// TestShort holds the short way against the long one.
func TestShort(t *testing.T) {
	random := rand.New(rand.NewPCG(16, 1))
	worst := 0.0
	for range 3000 {
		a := Point{random.Float64()*178 - 89, random.Float64()*360 - 180}
		reach := math.Pow(10, random.Float64()*5.3) / 111_000
		angle := random.Float64() * 2 * math.Pi
		b := Point{a.Lat + reach*math.Cos(angle), a.Lon + reach*math.Sin(angle)/math.Cos(radians(a.Lat))}
		if !b.Valid() {
			continue
		}
		p, q := a.cartesian(), b.cartesian()
		c := p.chord(&q)
		if c > shortest {
			continue
		}
		worst = max(worst, math.Abs(p.arc(&q, c)-inverse(a, b)))
	}
	if worst > 0.001 {
		t.Errorf("the short way differs by up to %.6f m", worst)
	}
}

// TestTriangle: no way over a third point is shorter, and both directions are alike.
func TestTriangle(t *testing.T) {
	random := rand.New(rand.NewPCG(16, 2))
	point := func() Point { return Point{random.Float64()*180 - 90, random.Float64()*360 - 180} }
	for range 500 {
		a, b, c := point(), point(), point()
		direct := Distance(a, b)
		if back := Distance(b, a); math.Abs(direct-back) > 1e-6 {
			t.Fatalf("%v to %v: %v, back %v", a, b, direct, back)
		}
		if over := Distance(a, c) + Distance(c, b); over < direct-1e-6 {
			t.Fatalf("%v to %v is %v, over %v only %v", a, b, direct, c, over)
		}
	}
}

func TestPlane(t *testing.T) {
	origin := Point{48, 9}
	p := NewPlane(origin)
	for _, q := range []Point{{48.05, 9}, {48, 9.1}, {47.95, 8.93}} {
		east, north := p.Project(q)
		if d, want := math.Hypot(east, north), Distance(origin, q); math.Abs(d-want) > 0.005*want {
			t.Errorf("%v is %v m away on the plane, %v m on the ellipsoid", q, d, want)
		}
	}
	if east, north := p.Project(Point{48.01, 9.01}); east <= 0 || north <= 0 {
		t.Errorf("north-east is at %v, %v", east, north)
	}
}

func BenchmarkDistance(b *testing.B) {
	p := At(Point{48, 9})
	for b.Loop() {
		q := At(Point{48.01, 9.02})
		p.Distance(&q)
	}
}
