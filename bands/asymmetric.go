package bands

import (
	"slices"
	"strings"

	"spectally/data"
)

// WidthPair is a pair of different uplink and downlink widths that a band allows
// (TS 38.101-1 clause 5.3.6, TS 38.101-5 clause 5.3.6).
type WidthPair struct {
	Set              int // asymmetric channel bandwidth combination set; 0 is mandatory where defined
	Uplink, Downlink Frequency
	Duplex           Duplex
	Note             string
	Source           Source
}

var widthPairs = lazy(func() map[ID][]WidthPair {
	m := make(map[ID][]WidthPair)
	for _, id := range []string{"asymmetric-fdd", "asymmetric-tdd", "asymmetric-ntn"} {
		t := data.Find(nrPairingTables(), id)
		duplex := FDD
		if id == "asymmetric-tdd" {
			duplex = TDD
		}
		for _, row := range t.Rows {
			band := must(ParseID(row[0]))
			for w := range strings.SplitSeq(row[3], ",") {
				m[band] = append(m[band], WidthPair{
					Set:      number(row[1]),
					Uplink:   must(ParseMHz(row[2])),
					Downlink: must(ParseMHz(w)),
					Duplex:   duplex,
					Note:     row[4],
					Source:   t.Source,
				})
			}
		}
	}
	return m
})

// WidthPairs lists the asymmetric width pairs of an NR band by set.
func (b *Band) WidthPairs() []WidthPair { return slices.Clone(widthPairs()[b.ID]) }

// AllowsPair tells whether the band allows different widths in its two directions
// as given, and in which set first.
func (b *Band) AllowsPair(downlink, uplink Frequency) (WidthPair, bool) {
	for _, p := range widthPairs()[b.ID] {
		if p.Downlink == downlink && p.Uplink == uplink {
			return p, true
		}
	}
	return WidthPair{}, false
}
