package claim

import (
	"math/big"
	"slices"

	"spectally/cmd/internal/quantity"
)

// stated is what a stated figure leaves open.
type stated struct {
	low, claimed, high *big.Rat
	// exact tells that a bound was stated as one: "at most 1 Gbit/s" is no rounded
	// figure. Rough tells that the figure was called so.
	exact, rough bool
}

// digitMargin is how much of a figure its last digit may leave open at most.
var digitMargin = big.NewRat(1, 20)

// statedAs follows the digits: a figure stands for everything that rounds to it, half
// a unit of its last digit to either side, but no more than a twentieth of it: 1 Gbit/s
// is no 560 Mbit/s, and 1000 Mbit/s neither. Zeros at the end of a whole number
// count as stated: 200 is 199.5 to 200.5. A figure called rough has 10 % to either side.
// Both shares are the program's own rules.
func statedAs(d quantity.Decimal, about bool) stated {
	v := d.Rat()
	margin := new(big.Rat).Mul(v, big.NewRat(1, 10))
	if !about {
		margin.Mul(v, digitMargin)
		if half := d.HalfUnit(); half.Cmp(margin) < 0 {
			margin = half
		}
	}
	return stated{low: new(big.Rat).Sub(v, margin), claimed: v, high: new(big.Rat).Add(v, margin), rough: about}
}

// exactlyStated is a figure that leaves nothing open.
func exactlyStated(v *big.Rat) stated { return stated{low: v, claimed: v, high: v, exact: true} }

// boundMargin is how much of a figure its rounding may leave open where it is a bound:
// one digit of it, as in 1 Gbit/s, would else let half of it pass. The program's own rule.
var boundMargin = big.NewRat(1, 200)

// bounds are the least and the most that the figure stands for as a bound.
func (b *stated) bounds() (low, high *big.Rat) {
	switch {
	case b.exact:
		return b.claimed, b.claimed
	case b.rough:
		return b.low, b.high
	}
	margin := new(big.Rat).Mul(b.claimed, boundMargin)
	low, high = new(big.Rat).Sub(b.claimed, margin), new(big.Rat).Add(b.claimed, margin)
	if b.low.Cmp(low) > 0 { // the digits leave less
		low = b.low
	}
	if b.high.Cmp(high) < 0 {
		high = b.high
	}
	return low, high
}

// meets tells whether a value stands to the figure as the relation says. More and less
// are strict, and taken of the figure itself.
func (b *stated) meets(r Relation, value *big.Rat) bool {
	switch r {
	case MoreThan:
		return value.Cmp(b.claimed) > 0
	case LessThan:
		return value.Cmp(b.claimed) < 0
	}
	low, high := b.bounds()
	switch r {
	case AtLeast:
		return value.Cmp(low) >= 0
	case AtMost:
		return value.Cmp(high) <= 0
	}
	return value.Cmp(b.low) >= 0 && value.Cmp(b.high) <= 0
}

// tolerance puts what the figure leaves open for a relation into words; empty if that
// is nothing.
func (b *stated) tolerance(r Relation, unit string) string {
	low, high := b.bounds()
	from := func(word string, bound, digits *big.Rat) string {
		s := word + trim(bound, 10) + " " + unit + ": "
		if bound.Cmp(digits) == 0 {
			return s + "half a unit of the last digit stated"
		}
		return s + "half a per cent for rounding (this program's rule)"
	}
	switch {
	case low.Cmp(high) == 0 || r == MoreThan || r == LessThan:
		return ""
	case b.rough:
		return trim(low, 10) + " to " + trim(high, 10) + " " + unit + ": 10 % to either side of a figure given as rough (this program's rule)"
	case r == AtLeast:
		return from("from ", low, b.low)
	case r == AtMost:
		return from("up to ", high, b.high)
	}
	s := trim(b.low, 10) + " to " + trim(b.high, 10) + " " + unit
	if new(big.Rat).Mul(b.claimed, digitMargin).Cmp(new(big.Rat).Sub(b.claimed, b.low)) == 0 {
		return s + ": 5 % to either side, for its one digit (this program's rule)"
	}
	return s + ": half a unit of the last digit stated"
}

// span is what a value can be over all that was left open: each of values where these
// are listed, else anything between low and high. Usual is the one with the usual
// values for what was left open.
type span struct {
	low, usual, high *big.Rat
	values           []*big.Rat
	unbounded        bool // nothing is above high, which stands for no bound
}

// exactly is a value with nothing left open.
func exactly(v *big.Rat) span { return span{low: v, usual: v, high: v} }

// oneOf is a value that is one of several.
func oneOf(usual *big.Rat, values []*big.Rat) span {
	return span{low: slices.MinFunc(values, (*big.Rat).Cmp), usual: usual, high: slices.MaxFunc(values, (*big.Rat).Cmp), values: values}
}

func (s *span) isExact() bool { return s.low.Cmp(s.high) == 0 }

// verdict tells whether all that the value can be, or nothing of it, stands to the
// figure as the relation says.
func (s *span) verdict(b *stated, r Relation) Verdict {
	if low, high := b.meets(r, s.low), b.meets(r, s.high); low && high {
		return Holds // what meets a figure is convex
	} else if low || high {
		return Undecided
	}
	for _, v := range s.values {
		if b.meets(r, v) {
			return Undecided
		}
	}
	if s.values == nil && r == Equal && s.low.Cmp(b.low) < 0 && s.high.Cmp(b.high) > 0 {
		return Undecided
	}
	return Fails
}

// each maps a value that changes monotonically, rising or falling.
func (s *span) each(f func(*big.Rat) *big.Rat) span {
	m := span{low: f(s.low), usual: f(s.usual), high: f(s.high), unbounded: s.unbounded}
	for _, v := range s.values {
		m.values = append(m.values, f(v))
	}
	if m.low.Cmp(m.high) > 0 {
		m.low, m.high = m.high, m.low
	}
	return m
}
