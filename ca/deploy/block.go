package deploy

import (
	"cmp"
	"slices"
	"strings"

	"spectally/bands"
)

// Block is a piece of spectrum that somebody holds.
type Block struct {
	// Downlink is the range of a paired block towards the UE, or the only range of
	// an unpaired one; Uplink is none there.
	Downlink, Uplink bands.Span
	// Bands are the bands that the block is for; none leaves it to the tables.
	Bands []bands.ID
}

// ParseBlock reads a block: a range in megahertz ("3410-3500"), or two with the
// downlink first ("1805-1825/1710-1730"). The unit may stand behind: "MHz".
func ParseBlock(s string) (Block, error) {
	text := strings.TrimSpace(s)
	if n := len(text) - len("MHz"); n > 0 && strings.EqualFold(text[n:], "MHz") {
		text = text[:n]
	}
	down, up, paired := strings.Cut(text, "/")
	var b Block
	var err error
	if b.Downlink, err = parseRange(down); err == nil && paired {
		b.Uplink, err = parseRange(up)
	}
	switch {
	case err != nil:
		e := &bands.ValueError{Param: "block", Got: strings.TrimSpace(s), Allowed: "a range in MHz, low-high, or downlink/uplink such as 1805-1825/1710-1730"}
		if b.Downlink.High != 0 && b.Downlink.High < b.Downlink.Low && !paired {
			e.Nearest = b.Downlink.High.MHz() + "-" + b.Downlink.Low.MHz()
		}
		return Block{}, e
	case b.Downlink.Overlaps(b.Uplink):
		return Block{}, &bands.ValueError{Param: "block", Got: strings.TrimSpace(s), Allowed: "two ranges that do not overlap, downlink first; a TDD block is one range"}
	}
	return b, nil
}

func parseRange(s string) (bands.Span, error) {
	low, high, _ := strings.Cut(s, "-")
	l, err := bands.ParseMHz(strings.TrimSpace(low))
	if err != nil {
		return bands.Span{}, err
	}
	h, err := bands.ParseMHz(strings.TrimSpace(high))
	if err == nil && l >= h {
		err = &bands.ValueError{Param: "range", Got: s, Allowed: "the lower edge first"}
	}
	return bands.Span{Low: l, High: h}, err
}

// String writes the block as [ParseBlock] reads it, without a unit.
func (b Block) String() string {
	s := b.Downlink.Low.MHz() + "-" + b.Downlink.High.MHz()
	if !b.Uplink.IsZero() {
		s += "/" + b.Uplink.Low.MHz() + "-" + b.Uplink.High.MHz()
	}
	return s
}

// Spectrum is the spectrum of the block, both directions of a paired one.
func (b Block) Spectrum() bands.Frequency { return b.Downlink.Width() + b.Uplink.Width() }

// Overlaps tells whether two blocks share spectrum in a direction of either.
func (b Block) Overlaps(c Block) bool {
	return b.Downlink.Overlaps(c.Downlink) || b.Downlink.Overlaps(c.Uplink) || b.Uplink.Overlaps(c.Downlink) || b.Uplink.Overlaps(c.Uplink)
}

// Merge joins blocks that follow each other without a gap, in both directions where
// they are paired, and returns them in order of frequency.
func Merge(list []Block) []Block {
	merged := slices.Clone(list)
	slices.SortFunc(merged, func(a, b Block) int {
		return cmp.Or(cmp.Compare(a.Downlink.Low, b.Downlink.Low), cmp.Compare(a.Uplink.Low, b.Uplink.Low))
	})
	n := 0
	for _, b := range merged {
		if n > 0 && merged[n-1].meets(b) {
			merged[n-1].Downlink.High = b.Downlink.High
			if !b.Uplink.IsZero() {
				merged[n-1].Uplink.High = b.Uplink.High
			}
			continue
		}
		merged[n] = b
		n++
	}
	return merged[:n]
}

// meets tells whether c goes on where b ends.
func (b Block) meets(c Block) bool {
	return b.Downlink.High == c.Downlink.Low && b.Uplink.IsZero() == c.Uplink.IsZero() &&
		(b.Uplink.IsZero() || b.Uplink.High == c.Uplink.Low) && slices.Equal(b.Bands, c.Bands)
}
