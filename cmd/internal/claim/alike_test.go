package claim

import (
	"math/big"
	"math/rand/v2"
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/data/pace"
)

// TestAlikeRatio: with the same layers, modulation and pattern drawn for like carriers of
// both sides, the ratio of what they can be sent lies within that with both sides alike.
func TestAlikeRatio(t *testing.T) {
	draw := rand.New(rand.NewPCG(38, 331))
	tried := 0
	for range pace.Times(60, 10) {
		c, other := drawn(draw), drawn(draw)
		for _, side := range []ca.Combination{c, other} {
			for i := range side {
				side[i].Layers, side[i].QAM, side[i].Pattern, side[i].SCS = 0, 0, "", 0
			}
		}
		first, ok := evidenceOf(c)
		second, known := evidenceOf(other)
		if !ok || !known {
			continue
		}
		s, ok := alikeRatio(&first, &second, bands.Downlink)
		if !ok {
			continue
		}
		for range 4 {
			drawnFor := map[class]ca.Carrier{}
			fill := func(e *Evidence) (*big.Rat, bool) {
				filled := e.settle(bands.Downlink, false)
				for i := range filled {
					of := classOf(&e.Assessment.Carriers[i])
					if filled[i].Downlink == 0 {
						continue
					}
					if _, ok := drawnFor[of]; !ok {
						drawnFor[of] = ca.Carrier{Layers: [...]uint8{1, 2, 4}[draw.IntN(3)], QAM: [...]uint16{4, 16, 64, 256}[draw.IntN(4)], Pattern: [...]string{"DDDSU/10:2:2", "DSUUU/2:2:10"}[draw.IntN(2)]}
					}
					filled[i].Layers, filled[i].QAM = drawnFor[of].Layers, drawnFor[of].QAM
					if of.rat == bands.NR && of.duplex == bands.TDD {
						filled[i].Pattern = drawnFor[of].Pattern
					}
				}
				return mostOf(filled, bands.Downlink)
			}
			a, ok := fill(&first)
			b, known := fill(&second)
			if !ok || !known {
				continue
			}
			tried++
			if ratio := new(big.Rat).Quo(a, b); ratio.Cmp(s.low) < 0 || ratio.Cmp(s.high) > 0 {
				t.Errorf("%s over %s with %v: %s, not within %s to %s", c, other, drawnFor, ratio.FloatString(4), s.low.FloatString(4), s.high.FloatString(4))
			}
		}
	}
	if tried < pace.Times(40, 20) {
		t.Errorf("only %d were tried", tried)
	}
}

// TestAdopt: what one side states of like carriers is taken for the other: 4 layers of 256QAM
// in 20 MHz are twice what they are in 10, to the block sizes of TS 36.213 Table 7.1.7.2.1-1
// (75376 bit over 100 blocks and 36696 over 50 with index 26 of 64QAM).
func TestAdopt(t *testing.T) {
	first, second := evidence(t, "B3:20,layers=2,qam=64"), evidence(t, "B7:10")
	s, ok := alikeRatio(&first, &second, bands.Downlink)
	if want := big.NewRat(75376, 36696); !ok || !s.isExact() || s.usual.Cmp(want) != 0 {
		t.Errorf("%v, want %v", s, want)
	}
}
