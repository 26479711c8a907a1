package walk

import (
	"math"

	"spectally/cmd/internal/samples"
	"spectally/cmd/internal/stats"
)

// gathered are the distributions of a cell.
type gathered struct {
	samples           int64
	rsrp, rsrq, sinr  stats.Levels
	down, up, latency stats.Rates
	fit               stats.Sums
}

func newGathered() gathered {
	return gathered{
		rsrp: stats.NewLevels(samples.LowestRSRP, samples.HighestRSRP),
		rsrq: stats.NewLevels(samples.LowestRSRQ, samples.HighestRSRQ),
		sinr: stats.NewLevels(samples.LowestSINR, samples.HighestSINR),
	}
}

// level adds the level of a cell, with the logarithm of its distance if that is known.
func (g *gathered) level(rsrp, sinr int16, x int64, near bool) {
	g.samples++
	if rsrp != samples.None {
		g.rsrp.Add(rsrp)
		if near {
			g.fit.Add(x, int64(rsrp))
		}
	}
	if sinr != samples.None {
		g.sinr.Add(sinr)
	}
}

// phone adds what only the serving cell has.
func (g *gathered) phone(s *samples.Sample) {
	if s.RSRQ != samples.None {
		g.rsrq.Add(s.RSRQ)
	}
	if s.Down != samples.Missing {
		g.down.Add(s.Down)
	}
	if s.Up != samples.Missing {
		g.up.Add(s.Up)
	}
	if s.Latency != samples.Missing {
		g.latency.Add(s.Latency)
	}
}

// Distances are logarithms in millionths of a decade, so that their sums are exact; a
// millionth is two millionths of the distance. Levels are in hundredths of a dB.
const (
	decade    = 1_000_000
	hundredth = 100
	// nearest is the distance in metres below which a sample is no part of a fit: within
	// it the antenna's own height and pattern decide.
	nearest = 1.0
)

func logOf(distance float64) int64 { return int64(math.Round(decade * math.Log10(distance))) }

// Shares are in thousandths, up to ten times what was possible.
const (
	wholeShare = 1000
	mostShare  = 10 * wholeShare
)

func shareOf(part, whole int64) int16 {
	return int16(min((2*part*wholeShare+whole)/(2*whole), mostShare))
}

// Widths of bins in hundredths of a dB.
const (
	sinrStep = 200
	rsrpStep = 500
)

// bins gather rates by a level, from the lowest that there is.
type bins struct {
	low, step int16
	list      []*bin
}

type bin struct {
	down     stats.Coarse
	expected int64 // sum, kbit/s
	known    int64 // of how many
}

// newBins makes bins from a multiple of their width.
func newBins(low, high, step int16) bins {
	low -= (low%step + step) % step
	return bins{low, step, make([]*bin, int(high-low)/int(step)+1)}
}

func (b *bins) add(level int16, down int32, expected int64) {
	one := &b.list[int(level-b.low)/int(b.step)]
	if *one == nil {
		*one = &bin{}
	}
	(*one).down.Add(down)
	if expected > 0 {
		(*one).expected += expected
		(*one).known++
	}
}

// use is what a band's samples were used for: shares and bins.
type use struct {
	ofScheduled, ofExpected stats.Levels
	bySINR, byRSRP          bins
	scatter                 []uint32 // of dots, by distance and level; nil without distances
}

func newUse() use {
	return use{
		ofScheduled: stats.NewLevels(0, mostShare), ofExpected: stats.NewLevels(0, mostShare),
		bySINR: newBins(samples.LowestSINR, samples.HighestSINR, sinrStep), byRSRP: newBins(samples.LowestRSRP, samples.HighestRSRP, rsrpStep),
	}
}

// rate adds a measured downlink rate with what was possible.
func (u *use) rate(s *samples.Sample) {
	if s.Down == samples.Missing {
		return
	}
	expected := int64(0)
	if s.Serving != nil {
		if scheduled := s.Serving.Scheduled(); scheduled > 0 {
			u.ofScheduled.Add(shareOf(int64(s.Down), scheduled))
		}
		if expected = s.Serving.Expected(s.SINR); expected > 0 {
			u.ofExpected.Add(shareOf(int64(s.Down), expected))
		}
	}
	if s.SINR != samples.None {
		u.bySINR.add(s.SINR, s.Down, expected)
	}
	if s.RSRP != samples.None {
		u.byRSRP.add(s.RSRP, s.Down, expected)
	}
}

// The dots of a drawing stand on a grid: hundredths of a decade, and decibels.
const (
	dotsOfDecade = 100
	dotDecades   = 6
	dotLevels    = (int(samples.HighestRSRP)-int(samples.LowestRSRP))/hundredth + 1
)

func (u *use) dot(x int64, rsrp int16) {
	if u.scatter == nil {
		u.scatter = make([]uint32, dotsOfDecade*dotDecades*dotLevels)
	}
	column := min(int(x)*dotsOfDecade/decade, dotsOfDecade*dotDecades-1)
	u.scatter[column*dotLevels+(int(rsrp)-int(samples.LowestRSRP))/hundredth]++
}

func (u *use) dots() []Dot {
	var list []Dot
	for i, n := range u.scatter {
		if n > 0 {
			x := (float64(i/dotLevels) + 0.5) / dotsOfDecade
			level := float64(i%dotLevels) + 0.5 + float64(samples.LowestRSRP)/hundredth
			list = append(list, Dot{math.Pow(10, x), level, int64(n)})
		}
	}
	return list
}
