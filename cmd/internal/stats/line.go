package stats

import (
	"math"
	"math/big"

	"gonum.org/v1/gonum/mathext"
)

// Line is a straight line fitted to pairs by least squares, with what its residuals say
// of it. Intervals are two-sided, of 95 %, and hold if the residuals are independent
// and normally distributed.
type Line struct {
	N     int64
	Slope float64
	// Sigma is the standard deviation of the residuals, with n - 2 degrees of freedom.
	Sigma float64
	// Least and Most bound the x that were used.
	Least, Most float64

	meanX, meanY float64
	sxx          float64 // sum of squared distances from the mean of x
	t            float64 // quantile of Student's distribution for the intervals
}

// Interval is between two bounds.
type Interval struct{ Low, High float64 }

// Has tells whether a number is within the interval.
func (i Interval) Has(x float64) bool { return i.Low <= x && x <= i.High }

// around is the interval of so many standard deviations on both sides of a number.
func (l *Line) around(middle, deviation float64) Interval {
	return Interval{middle - l.t*deviation, middle + l.t*deviation}
}

const confidence = 0.95

// Line fits a line to the pairs, whose numbers are divided by xUnit and yUnit. It is
// false where there are fewer than three pairs or all have one x.
func (s *Sums) Line(xUnit, yUnit float64) (Line, bool) {
	if s.n < 3 {
		return Line{}, false
	}
	dxx, dxy, dyy := s.spread(s.xx, s.x, s.x), s.spread(s.xy, s.x, s.y), s.spread(s.yy, s.y, s.y)
	if dxx.Sign() == 0 {
		return Line{}, false
	}
	n := float64(s.n)
	rest := new(big.Rat).SetFrac(new(big.Int).Mul(dxy, dxy), dxx) // of dyy, what the line explains
	rest.Sub(new(big.Rat).SetInt(dyy), rest)
	squares, _ := rest.Float64()
	slope, _ := new(big.Rat).SetFrac(dxy, dxx).Float64()
	spread, _ := new(big.Float).SetInt(dxx).Float64()
	return Line{
		N:     s.n,
		Slope: slope * xUnit / yUnit,
		Sigma: math.Sqrt(squares/n/(n-2)) / yUnit,
		Least: float64(s.least) / xUnit, Most: float64(s.utmost) / xUnit,
		meanX: float64(s.x) / n / xUnit, meanY: float64(s.y) / n / yUnit,
		sxx: spread / n / xUnit / xUnit,
		t:   studentQuantile(confidence, n-2),
	}, true
}

// At is the line's value at an x.
func (l *Line) At(x float64) float64 { return l.meanY + l.Slope*(x-l.meanX) }

// deviationAt is the standard deviation of the value at an x.
func (l *Line) deviationAt(x float64) float64 {
	return l.Sigma * math.Sqrt(1/float64(l.N)+(x-l.meanX)*(x-l.meanX)/l.sxx)
}

// IntervalAt is where the value at an x lies.
func (l *Line) IntervalAt(x float64) Interval { return l.around(l.At(x), l.deviationAt(x)) }

// SlopeDeviation is the standard deviation of the slope.
func (l *Line) SlopeDeviation() float64 { return l.Sigma / math.Sqrt(l.sxx) }

// SlopeInterval is where the slope lies.
func (l *Line) SlopeInterval() Interval { return l.around(l.Slope, l.SlopeDeviation()) }

// SigmaInterval is where the standard deviation lies, by the chi-squared distribution.
func (l *Line) SigmaInterval() Interval {
	free := float64(l.N - 2)
	bound := func(p float64) float64 { return l.Sigma * math.Sqrt(free/chiSquaredQuantile(p, free)) }
	return Interval{bound((1 + confidence) / 2), bound((1 - confidence) / 2)}
}

// Difference is how far another line lies above this one at an x, with its interval;
// the lines are taken as independent.
func (l *Line) Difference(o *Line, x float64) (float64, Interval) {
	d := o.At(x) - l.At(x)
	deviation := math.Hypot(l.deviationAt(x), o.deviationAt(x))
	t := max(l.t, o.t)
	return d, Interval{d - t*deviation, d + t*deviation}
}

// manyFree are the degrees of freedom from which on the normal distribution stands in
// for others: it is within 1e-5 of them there.
const manyFree = 100_000

// studentQuantile is the t that a share of Student's distribution lies within, on both
// sides of zero.
func studentQuantile(share, free float64) float64 {
	if free >= manyFree {
		return mathext.NormalQuantile((1 + share) / 2)
	}
	x := mathext.InvRegIncBeta(free/2, 0.5, 1-share)
	return math.Sqrt(free * (1 - x) / x)
}

// chiSquaredQuantile is the value below which a share p of the chi-squared distribution
// lies; for many degrees of freedom by the approximation of Wilson and Hilferty.
func chiSquaredQuantile(p, free float64) float64 {
	if free >= manyFree {
		c := 2 / (9 * free)
		root := 1 - c + mathext.NormalQuantile(p)*math.Sqrt(c)
		return free * root * root * root
	}
	return 2 * mathext.GammaIncRegInv(free/2, p)
}
