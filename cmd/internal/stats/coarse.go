package stats

import (
	"math/bits"
	"slices"
)

// Coarse gathers whole numbers, 0 and above, in little memory: the first few as they
// are, more of them by octaves in 64 parts.
type Coarse struct {
	few    []int32
	counts []uint32 // in place of few
	n      int64
}

// CoarseError bounds the relative error of percentiles of more numbers than are kept.
const CoarseError = 1.0 / 128

const (
	coarseFew   = 250
	octaveParts = 6 // bits
)

// part is the part of an octave that a number lies in; those below 64 have their own.
func part(v int32) int {
	octave := max(0, bits.Len32(uint32(v))-octaveParts-1)
	return octave<<octaveParts + int(v>>octave)
}

// middle is the number in the middle of a part.
func middle(part int) int32 {
	octave := max(0, part>>octaveParts-1)
	low := int32(part-octave<<octaveParts) << octave
	return low + int32(1)<<octave/2
}

// Add adds a number.
func (c *Coarse) Add(v int32) {
	c.n++
	if c.counts != nil {
		c.counts[part(v)]++
		return
	}
	c.few = append(c.few, v)
	if len(c.few) > coarseFew {
		c.counts = make([]uint32, part(1<<31-1)+1)
		for _, v := range c.few {
			c.counts[part(v)]++
		}
		c.few = nil
	}
}

// CoarseQuantiles are the percentiles of several gatherings taken together, in rising
// order of the shares; nil if there is nothing in them.
func CoarseQuantiles(parts []*Coarse, shares ...float64) (n int64, quantiles []int32) {
	var values []int32
	for _, c := range parts {
		n += c.n
		values = append(values, c.few...)
	}
	if n == 0 {
		return 0, nil
	}
	if n <= coarseFew {
		slices.Sort(values)
		for _, p := range shares {
			quantiles = append(quantiles, values[rank(p, n)-1])
		}
		return n, quantiles
	}
	sum := make([]int64, part(1<<31-1)+1)
	for _, v := range values {
		sum[part(v)]++
	}
	for _, c := range parts {
		for i, count := range c.counts {
			sum[i] += int64(count)
		}
	}
	at, below := -1, int64(0)
	for _, p := range shares {
		for r := rank(p, n); below < r; {
			at++
			below += sum[at]
		}
		quantiles = append(quantiles, middle(at))
	}
	return n, quantiles
}
