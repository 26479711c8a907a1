package stats

import (
	"encoding/csv"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/stat"
)

// near fails unless a number is the wanted one but for a relative error.
func near(t *testing.T, what string, got, want, relative float64) {
	t.Helper()
	if !(math.Abs(got-want) <= relative*math.Abs(want)) {
		t.Errorf("%s is %.16g, want %.16g", what, got, want)
	}
}

// TestNorris: NIST Statistical Reference Datasets, linear least squares, Norris; the
// certified values stand in the first line of testdata/norris.csv too.
func TestNorris(t *testing.T) {
	file, err := os.Open("testdata/norris.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil || len(rows) != 37 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	var s Sums
	const unit = 10 // all numbers have one decimal
	for _, row := range rows[1:] {
		x, errX := strconv.ParseFloat(row[0], 64)
		y, errY := strconv.ParseFloat(row[1], 64)
		if errX != nil || errY != nil {
			t.Fatal(errX, errY)
		}
		s.Add(int64(math.Round(x*unit)), int64(math.Round(y*unit)))
	}
	l, ok := s.Line(unit, unit)
	if !ok || l.N != 36 {
		t.Fatalf("line %+v, %v", l, ok)
	}
	near(t, "slope", l.Slope, 1.00211681802045, 1e-14)
	near(t, "intercept", l.At(0), -0.262323073774029, 1e-12)
	near(t, "standard deviation of the slope", l.SlopeDeviation(), 0.429796848199937e-3, 1e-13)
	near(t, "standard deviation of the intercept", l.deviationAt(0), 0.232818234301152, 1e-13)
	near(t, "residual standard deviation", l.Sigma, 0.884796396144373, 1e-13)
}

// TestQuantilesOfDistributions: percentage points as printed in NIST/SEMATECH e-Handbook
// of Statistical Methods, 1.3.6.7.2 (t) and 1.3.6.7.4 (chi-squared); from memory, so
// with the three decimals that every table of them has.
func TestQuantilesOfDistributions(t *testing.T) {
	for free, want := range map[float64]float64{1: 12.706, 5: 2.571, 10: 2.228, 30: 2.042, 100: 1.984, 1e4: 1.960, 1e7: 1.960} {
		if got := studentQuantile(0.95, free); math.Abs(got-want) > 0.0006 {
			t.Errorf("t of 95 %% at %v degrees is %v, want %v", free, got, want)
		}
	}
	for free, want := range map[float64][2]float64{5: {0.831, 12.833}, 10: {3.247, 20.483}, 30: {16.791, 46.979}, 100: {74.222, 129.561}} {
		for i, p := range [...]float64{0.025, 0.975} {
			if got := chiSquaredQuantile(p, free); math.Abs(got-want[i]) > 0.0006 {
				t.Errorf("chi-squared %v at %v degrees is %v, want %v", p, free, got, want[i])
			}
		}
	}
	for _, p := range [...]float64{0.025, 0.975} { // where the one takes over from the other
		near(t, "chi-squared", chiSquaredQuantile(p, manyFree), chiSquaredQuantile(p, manyFree-1)+1, 1e-6)
	}
}

// TestLineAgainstLibrary holds lines against those of another library.
func TestLineAgainstLibrary(t *testing.T) {
	random := rand.New(rand.NewPCG(16, 3))
	for range 50 {
		n := 3 + random.IntN(200)
		var s Sums
		x, y := make([]float64, n), make([]float64, n)
		for i := range n {
			a, b := random.Int64N(2e7)-1e7, random.Int64N(2e4)-1e4
			s.Add(a, b)
			x[i], y[i] = float64(a)/1e6, float64(b)/100
		}
		l, ok := s.Line(1e6, 100)
		if !ok {
			t.Fatal("no line")
		}
		intercept, slope := stat.LinearRegression(x, y, nil, false)
		near(t, "slope", l.Slope, slope, 1e-9)
		near(t, "intercept", l.At(0), intercept, 1e-9)
	}
}

// TestSumsAreExact: neither order nor splitting changes a bit, and a constant added to y
// moves the intercept alone.
func TestSumsAreExact(t *testing.T) {
	random := rand.New(rand.NewPCG(16, 4))
	type pair struct{ x, y int64 }
	pairs := make([]pair, 1000)
	for i := range pairs {
		pairs[i] = pair{random.Int64N(1<<40) - 1<<39, random.Int64N(1<<40) - 1<<39}
	}
	var whole, first, second, moved Sums
	for _, p := range pairs {
		whole.Add(p.x, p.y)
		moved.Add(p.x, p.y+1000)
	}
	random.Shuffle(len(pairs), func(i, j int) { pairs[i], pairs[j] = pairs[j], pairs[i] })
	for i, p := range pairs {
		if i < 300 {
			first.Add(p.x, p.y)
		} else {
			second.Add(p.x, p.y)
		}
	}
	second.Merge(&first)
	if second != whole {
		t.Errorf("sums differ: %+v, %+v", second, whole)
	}
	a, _ := whole.Line(1, 1)
	b, _ := moved.Line(1, 1)
	if a.Slope != b.Slope || a.Sigma != b.Sigma {
		t.Errorf("a constant changes %v, %v to %v, %v", a.Slope, a.Sigma, b.Slope, b.Sigma)
	}
	near(t, "difference", b.At(5)-a.At(5), 1000, 1e-3)
	var none Sums
	none.Add(1, 1)
	none.Add(1, 2)
	none.Add(1, 3)
	if _, ok := none.Line(1, 1); ok {
		t.Error("a line through pairs of one x")
	}
}

var shares = []float64{0, 0.05, 0.25, 0.5, 0.75, 0.95, 1}

// TestQuantilesAgainstLibrary holds percentiles against those of another library, in
// any order and however the samples are split.
func TestQuantilesAgainstLibrary(t *testing.T) {
	random := rand.New(rand.NewPCG(16, 5))
	for _, n := range []int{1, 2, 3, 10, 99, 100, 101, 5000, 60_000} {
		parts := []*Levels{new(Levels), new(Levels)}
		rates := []*Rates{new(Rates), new(Rates)}
		for i := range parts {
			*parts[i] = NewLevels(-15600, -3100)
		}
		levels, wide := make([]float64, n), make([]float64, n)
		for i := range n {
			v := int16(-15600 + random.IntN(12501))
			r := int32(random.ExpFloat64() * 1e5)
			parts[min(1, random.IntN(9))].Add(v)
			rates[random.IntN(2)].Add(r)
			levels[i], wide[i] = float64(v), float64(r)
		}
		slices.Sort(levels)
		slices.Sort(wide)
		gotN, level := LevelQuantiles(parts, shares...)
		rateN, rate, exact := RateQuantiles(rates, shares...)
		if gotN != int64(n) || rateN != int64(n) || !exact {
			t.Fatalf("%d and %d samples of %d, exact %v", gotN, rateN, n, exact)
		}
		for i, p := range shares {
			if want := stat.Quantile(p, stat.Empirical, levels, nil); float64(level[i]) != want {
				t.Errorf("%d levels: %v of them up to %d, want %v", n, p, level[i], want)
			}
			if want := stat.Quantile(p, stat.Empirical, wide, nil); float64(rate[i]) != want {
				t.Errorf("%d rates: %v of them up to %d, want %v", n, p, rate[i], want)
			}
		}
	}
}

// TestSketch: beyond a million the error stays below the one published.
func TestSketch(t *testing.T) {
	random := rand.New(rand.NewPCG(16, 6))
	const n = MostExact + 200_000
	var one Rates
	halves := []*Rates{new(Rates), new(Rates)}
	all := make([]int32, n)
	for i := range all {
		all[i] = int32(math.Exp(random.Float64() * 21)) // up to 1.3e9
		one.Add(all[i])
		halves[i%2].Add(all[i])
	}
	slices.Sort(all)
	_, got, exact := RateQuantiles([]*Rates{&one}, shares...)
	_, split, _ := RateQuantiles(halves, shares...)
	if exact || !slices.Equal(got, split) {
		t.Errorf("exact %v, whole %v, split %v", exact, got, split)
	}
	for i, p := range shares[1:] {
		want := float64(all[rank(p, n)-1])
		if d := math.Abs(float64(got[i+1]) - want); d > RelativeError*want {
			t.Errorf("%v of them up to %d, want %v: an error of %.4f %%", p, got[i+1], want, 100*d/want)
		}
	}
}

// TestCoarse: a few numbers are exact, and of many the error stays below the bound.
func TestCoarse(t *testing.T) {
	random := rand.New(rand.NewPCG(16, 10))
	for _, n := range []int{1, 7, coarseFew, coarseFew + 1, 30_000} {
		parts := []*Coarse{new(Coarse), new(Coarse)}
		all := make([]int32, n)
		for i := range all {
			all[i] = int32(math.Exp(random.Float64()*21.4)) - 1
			parts[random.IntN(2)].Add(all[i])
		}
		slices.Sort(all)
		gotN, got := CoarseQuantiles(parts, shares...)
		if gotN != int64(n) {
			t.Fatalf("%d of %d", gotN, n)
		}
		for i, p := range shares {
			want := float64(all[rank(p, int64(n))-1])
			if d := math.Abs(float64(got[i]) - want); d > CoarseError*want || d > 0 && n <= coarseFew {
				t.Errorf("%d numbers, %v of them up to %d, want %v", n, p, got[i], want)
			}
		}
	}
	for _, v := range []int32{0, 1, 63, 64, 65, 127, 128, math.MaxInt32} {
		if m := middle(part(v)); math.Abs(float64(m)-float64(v)) > CoarseError*float64(v) {
			t.Errorf("%d is told as %d", v, m)
		}
	}
}
