package stats

import (
	"math"
	"slices"

	"github.com/HdrHistogram/hdrhistogram-go"
)

// A percentile here is the smallest sample that no fewer than that share of the samples
// do not exceed: the inverse of the empirical distribution.

// rank is how many samples are up to the percentile p of n, p from 0 to 1.
func rank(p float64, n int64) int64 {
	return min(max(1, int64(math.Ceil(p*float64(n)-1e-9))), n)
}

// Levels gathers whole numbers of a narrow range, such as hundredths of a decibel. Its
// percentiles are exact however many there are.
type Levels struct {
	low    int16
	span   int32
	n      int64
	few    bag
	counts []uint32 // in place of few, once that is as large
}

// NewLevels gathers numbers from low to high.
func NewLevels(low, high int16) Levels {
	return Levels{low: low, span: int32(high) - int32(low) + 1}
}

// Add adds a number within the range.
func (l *Levels) Add(v int16) {
	l.n++
	if l.counts != nil {
		l.counts[int32(v)-int32(l.low)]++
		return
	}
	l.few.add(v)
	if l.n > 2*int64(l.span) { // two bytes each, against four
		l.counts = make([]uint32, l.span)
		for v := range l.few.all {
			l.counts[int32(v)-int32(l.low)]++
		}
		l.few = nil
	}
}

// N is how many there are.
func (l *Levels) N() int64 { return l.n }

// LevelQuantiles are the percentiles of several gatherings of one range taken together,
// in rising order of the shares; nil if there is nothing in them.
func LevelQuantiles(parts []*Levels, shares ...float64) (n int64, quantiles []int32) {
	for _, l := range parts {
		n += l.n
	}
	if n == 0 {
		return 0, nil
	}
	span := parts[0].span
	if n < int64(span)/sortFactor && !slices.ContainsFunc(parts, func(l *Levels) bool { return l.counts != nil }) {
		values := make([]int16, 0, n)
		for _, l := range parts {
			for v := range l.few.all {
				values = append(values, v)
			}
		}
		return n, pick(values, ranksOf(shares, n), nil)
	}
	low := int32(parts[0].low)
	sum := make([]int64, span)
	for _, l := range parts {
		for i, c := range l.counts {
			sum[i] += int64(c)
		}
		for v := range l.few.all {
			sum[int32(v)-low]++
		}
	}
	at, below := int32(-1), int64(0)
	for _, p := range shares {
		for r := rank(p, n); below < r; {
			at++
			below += sum[at]
		}
		quantiles = append(quantiles, low+at)
	}
	return n, quantiles
}

// sortFactor is how many places of a range are looked at in the time that one number
// takes to be sorted in.
const sortFactor = 8

// MostExact is how many rates have exact percentiles; beyond it they come from a
// histogram with a relative error of a thousandth at most.
const MostExact = 1_000_000

// RelativeError bounds the error of percentiles of more than MostExact rates: the
// histogram (high dynamic range, HDR) keeps three significant digits.
const RelativeError = 0.001

const sketchDigits = 3

// Rates gathers whole numbers of a wide range, 0 and above, such as kilobits per
// second.
type Rates struct {
	n      int64
	few    packed
	sketch *hdrhistogram.Histogram // in place of few, if there are too many
}

// Add adds a number.
func (r *Rates) Add(v int32) {
	r.n++
	if r.sketch != nil {
		record(r.sketch, v)
		return
	}
	r.few.add(v)
	if r.n > MostExact {
		r.sketch = newSketch()
		r.fill(r.sketch)
		r.few = nil
	}
}

func newSketch() *hdrhistogram.Histogram { return hdrhistogram.New(1, math.MaxInt32, sketchDigits) }

func record(h *hdrhistogram.Histogram, v int32) {
	if err := h.RecordValue(int64(v)); err != nil {
		panic("stats: " + err.Error()) // the histogram takes every int32 that is not negative
	}
}

// fill adds all that was gathered to a histogram.
func (r *Rates) fill(h *hdrhistogram.Histogram) {
	if r.sketch != nil {
		h.Merge(r.sketch)
	}
	for v := range r.few.all {
		record(h, v)
	}
}

// N is how many there are.
func (r *Rates) N() int64 { return r.n }

// RateQuantiles are the percentiles of several gatherings taken together, in rising
// order of the shares; nil if there is nothing in them. They are exact unless there are
// more than MostExact.
func RateQuantiles(parts []*Rates, shares ...float64) (n int64, quantiles []int32, exact bool) {
	for _, r := range parts {
		n += r.n
	}
	if n == 0 {
		return 0, nil, true
	}
	if n > MostExact {
		h := newSketch()
		for _, r := range parts {
			r.fill(h)
		}
		for _, p := range shares {
			quantiles = append(quantiles, int32(min(h.ValueAtPercentile(100*p), math.MaxInt32)))
		}
		return n, quantiles, false
	}
	values := make([]int32, 0, n)
	for _, r := range parts {
		for v := range r.few.all {
			values = append(values, v)
		}
	}
	return n, pick(values, ranksOf(shares, n), nil), true
}
