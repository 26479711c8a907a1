package claim

import (
	"math/big"
	"slices"

	"spectally/cmd/internal/quantity"
)

// stated is what a stated figure leaves open, and why.
type stated struct {
	low, claimed, high *big.Rat
	why                string
	rough              bool // the figure was called so
}

// Why a figure leaves something open. The shares are the program's own rules.
const (
	byLastDigit = "half a unit of the last digit stated"
	byOneDigit  = "5 % to either side, for its one digit (this program's rule)"
	byAbout     = "10 % to either side of a figure given as rough (this program's rule)"
)

// statedAs follows the digits: a figure stands for everything that rounds to it, half
// a unit of its last digit to either side, but no more than a twentieth of it: 1 Gbit/s
// is no 560 Mbit/s, and 1000 Mbit/s neither. Zeros at the end of a whole number
// count as stated: 200 is 199.5 to 200.5. A figure called rough has 10 % to either side.
func statedAs(d quantity.Decimal, about bool) stated {
	v := d.Rat()
	if about {
		return within(v, new(big.Rat).Mul(v, big.NewRat(1, 10)), byAbout, true)
	}
	half, twentieth := d.HalfUnit(), new(big.Rat).Mul(v, big.NewRat(1, 20))
	if half.Cmp(twentieth) > 0 {
		return within(v, twentieth, byOneDigit, false)
	}
	return within(v, half, byLastDigit, false)
}

func within(v, margin *big.Rat, why string, rough bool) stated {
	return stated{low: new(big.Rat).Sub(v, margin), claimed: v, high: new(big.Rat).Add(v, margin), why: why, rough: rough}
}

// exactlyStated is a figure that leaves nothing open.
func exactlyStated(v *big.Rat) stated { return stated{low: v, claimed: v, high: v} }

// as is the figure as a stated relation takes it: a bound that was stated as one is no
// rounded figure, "at most 1 Gbit/s" is 1 Gbit/s, unless it was called rough.
func (b *stated) as(r Relation) *stated {
	if r == Equal || b.rough {
		return b
	}
	exact := exactlyStated(b.claimed)
	return &exact
}

// meets tells whether a value stands to the figure as the relation says. More and less
// are strict, and taken of the figure itself.
func (b *stated) meets(r Relation, value *big.Rat) bool {
	switch r {
	case MoreThan:
		return value.Cmp(b.claimed) > 0
	case LessThan:
		return value.Cmp(b.claimed) < 0
	case AtLeast:
		return value.Cmp(b.low) >= 0
	case AtMost:
		return value.Cmp(b.high) <= 0
	}
	return value.Cmp(b.low) >= 0 && value.Cmp(b.high) <= 0
}

// tolerance puts what the figure leaves open for a relation into words; empty if that
// is nothing.
func (b *stated) tolerance(r Relation, unit string) string {
	low, high := trim(b.low, 10), trim(b.high, 10)+" "+unit
	switch {
	case b.why == "" || r == MoreThan || r == LessThan:
		return ""
	case r == AtLeast:
		return "from " + low + " " + unit + ": " + b.why
	case r == AtMost:
		return "up to " + high + ": " + b.why
	}
	return low + " to " + high + ": " + b.why
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
