package claim

import (
	"math/big"
	"strconv"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput"
)

// alikeWords say what it means that both sides of a comparison are alike.
const alikeWords = "the same layers, modulation and TDD pattern on like carriers, and the usual subcarrier spacings and uplinks"

// class tells like carriers: those of one technology, frequency range and duplex mode.
type class struct {
	rat    bands.RAT
	fr     bands.Range
	duplex bands.Duplex
}

func classOf(p *ca.Placed) class { return class{p.Band.RAT, p.Info.Range, p.Info.Duplex} }

// alikeRatio is what one side can be sent in a direction over what the other can, both with
// the same values for what they leave open on like carriers, over all that these can be.
// What one side alone states of like carriers is taken for the other. False where that
// cannot be worked out.
func alikeRatio(first, second *Evidence, d bands.Direction) (span, bool) {
	if first.Rates == nil || second.Rates == nil {
		return span{}, false
	}
	a, usualA, ok := first.optionsLike(second, d)
	b, usualB, known := second.optionsLike(first, d)
	if !ok || !known || usualB.Sign() == 0 {
		return span{}, false
	}
	s := span{low: extremeRatio(a, b, false), usual: new(big.Rat).Quo(usualA, usualB), high: extremeRatio(a, b, true)}
	if s.low == nil || s.high == nil {
		return span{}, false
	}
	// Bands of one class can differ in their usual layers.
	if s.usual.Cmp(s.low) < 0 {
		s.usual = s.low
	} else if s.usual.Cmp(s.high) > 0 {
		s.usual = s.high
	}
	return s, true
}

// extremeRatio is the least or the most that a sum of a over a sum of b can be, where each
// class takes the same option in both: the classes are chosen apart for the ratio found so
// far, until it changes no more (Dinkelbach's method). Nil where b can be zero.
func extremeRatio(a, b map[class][]*big.Rat, most bool) *big.Rat {
	ratio := new(big.Rat)
	for first := true; ; first = false {
		over, under := new(big.Rat), new(big.Rat)
		add := func(x, y []*big.Rat) {
			var best, bestX, bestY *big.Rat
			for i := range max(len(x), len(y)) {
				p, q := new(big.Rat), new(big.Rat)
				if x != nil {
					p = x[i]
				}
				if y != nil {
					q = y[i]
				}
				gain := new(big.Rat).Sub(p, new(big.Rat).Mul(ratio, q))
				if best == nil || (gain.Cmp(best) > 0) == most {
					best, bestX, bestY = gain, p, q
				}
			}
			over.Add(over, bestX)
			under.Add(under, bestY)
		}
		for c, x := range a {
			add(x, b[c])
		}
		for c, y := range b {
			if a[c] == nil {
				add(nil, y)
			}
		}
		if under.Sign() == 0 {
			return nil
		}
		next := over.Quo(over, under)
		if !first && next.Cmp(ratio) == 0 {
			return next
		}
		ratio = next
	}
}

// optionsLike are the sums in Mbit/s of each class of carriers under each option for what
// is open, options in the same order for everyone, and the sum with the usual values. False
// where carriers do not add up: an uplink beside its supplementary uplink.
func (e *Evidence) optionsLike(other *Evidence, d bands.Direction) (sums map[class][]*big.Rat, usual *big.Rat, ok bool) {
	base := e.settle(d, false)
	for i := range base {
		if e.Assessment.Carriers[i].Info == nil || d == bands.Uplink && e.Assessment.Carriers[i].Info.Duplex == bands.SUL {
			return nil, nil, false
		}
		e.adopt(other, &base[i], i, d)
	}
	if usual, ok = mostOf(base, d); !ok {
		return nil, nil, false
	}
	open := append(ca.Combination{}, base...)
	known := map[ca.Carrier]*big.Rat{}
	sums = map[class][]*big.Rat{}
	option := 0
	for _, l := range levels() {
		raised := e.raise(open, d, l)
		for _, pattern := range [...]func(bands.RAT, bands.Direction, bands.Frequency) string{nil, generous, sparing} {
			for i := range raised {
				c, p := raised[i], &e.Assessment.Carriers[i]
				if !e.hasLink(i, d) {
					continue
				}
				if pattern != nil && e.Rates.Carriers[i].Frame.Assumed && c.Pattern == e.Rates.Carriers[i].Frame.String() {
					c.Pattern = pattern(c.Band.RAT, d, e.Rates.Carriers[i].Link(d).SCS)
				}
				if known[c] == nil {
					if known[c], ok = mostOf(ca.Combination{c}, d); !ok {
						return nil, nil, false
					}
				}
				list := sums[classOf(p)]
				for len(list) <= option {
					list = append(list, new(big.Rat))
				}
				list[option].Add(list[option], known[c])
				sums[classOf(p)] = list
			}
			option++
		}
	}
	return sums, usual, true
}

// adopt takes for what carrier i leaves open what the like carriers of the other side state,
// if they agree and the carrier can have it.
func (e *Evidence) adopt(other *Evidence, c *ca.Carrier, i int, d bands.Direction) {
	own, like := &e.Stated[i], []*ca.Carrier(nil)
	of := classOf(&e.Assessment.Carriers[i])
	for k := range other.Stated {
		if p := &other.Assessment.Carriers[k]; p.Info != nil && classOf(p) == of && other.hasLink(k, d) {
			like = append(like, &other.Stated[k])
		}
	}
	agreed(c, own, like, func(x *ca.Carrier) *uint8 { layers, _ := linkOf(x, d); return layers })
	agreed(c, own, like, func(x *ca.Carrier) *uint16 { _, qam := linkOf(x, d); return qam })
	agreed(c, own, like, func(x *ca.Carrier) *string { return &x.Pattern })
}

// agreed gives a carrier what all like ones state of a part, if it states nothing itself and
// can have it.
func agreed[T comparable](c, own *ca.Carrier, like []*ca.Carrier, part func(*ca.Carrier) *T) {
	var none T
	if len(like) == 0 || *part(own) != none || *part(like[0]) == none {
		return
	}
	for _, x := range like[1:] {
		if *part(x) != *part(like[0]) {
			return
		}
	}
	next := *c
	*part(&next) = *part(like[0])
	if _, err := throughput.Rate(ca.Assess(ca.Combination{next})); err == nil {
		*c = next
	}
}

// mostOf is what carriers can be sent at most with the usual values for what they leave
// open, in Mbit/s.
func mostOf(c ca.Combination, d bands.Direction) (*big.Rat, bool) {
	r, err := throughput.Rate(ca.Assess(c))
	if err == nil {
		err = r.Schedule(throughput.Settings{})
	}
	if err != nil {
		return nil, false
	}
	return mbps(r.Sum(d).Schedulable), true
}

// sparing is a pattern with as little time for a direction as a cell that has it can do
// with: one slot in a frame, without which a cell has no synchronisation signals in the
// downlink and no random access in the uplink.
func sparing(rat bands.RAT, d bands.Direction, scs bands.Frequency) string {
	if rat == bands.LTE {
		return map[bool]string{true: "5", false: "0"}[d == bands.Uplink]
	}
	most := strconv.Itoa(int(10*scs/(15*bands.KHz)) - 1)
	if d == bands.Uplink {
		return most + "DU"
	}
	return "D" + most + "U"
}
