// Package stats has what a walk's figures need: straight lines fitted with their
// confidence, and percentiles. Both are worked out from whole numbers, so that neither
// the order of the samples nor how they were split changes the last digit.
package stats

import (
	"math/big"
	"math/bits"
)

// Sums are the sums of pairs of whole numbers, without any rounding. The zero Sums has
// no pairs. Neither number may be beyond 2^40 in size.
type Sums struct {
	n             int64
	x, y          int64
	xx, xy, yy    wide
	least, utmost int64 // of x
}

// Add adds a pair.
func (s *Sums) Add(x, y int64) {
	if s.n == 0 || x < s.least {
		s.least = x
	}
	if s.n == 0 || x > s.utmost {
		s.utmost = x
	}
	s.n++
	s.x += x
	s.y += y
	s.xx.addProduct(x, x)
	s.xy.addProduct(x, y)
	s.yy.addProduct(y, y)
}

// Merge adds all pairs of other sums.
func (s *Sums) Merge(o *Sums) {
	if o.n == 0 {
		return
	}
	if s.n == 0 {
		*s = *o
		return
	}
	s.n += o.n
	s.x += o.x
	s.y += o.y
	s.xx.add(o.xx)
	s.xy.add(o.xy)
	s.yy.add(o.yy)
	s.least, s.utmost = min(s.least, o.least), max(s.utmost, o.utmost)
}

// N is the number of pairs.
func (s *Sums) N() int64 { return s.n }

// spread is n times the sum of the products less the product of the sums: n² times a
// variance or a covariance.
func (s *Sums) spread(products wide, a, b int64) *big.Int {
	d := products.big()
	d.Mul(d, big.NewInt(s.n))
	return d.Sub(d, new(big.Int).Mul(big.NewInt(a), big.NewInt(b)))
}

// wide is a whole number of 128 bits in two's complement.
type wide struct{ high, low uint64 }

func (w *wide) add(o wide) {
	var carry uint64
	w.low, carry = bits.Add64(w.low, o.low, 0)
	w.high, _ = bits.Add64(w.high, o.high, carry)
}

func (w *wide) addProduct(a, b int64) {
	high, low := bits.Mul64(uint64(a), uint64(b))
	high -= uint64(a>>63&b) + uint64(b>>63&a) // the signs
	w.add(wide{high, low})
}

func (w wide) big() *big.Int {
	b := new(big.Int).Lsh(big.NewInt(int64(w.high)), 64)
	return b.Add(b, new(big.Int).SetUint64(w.low))
}
