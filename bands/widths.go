package bands

import (
	"fmt"
	"slices"
	"strings"
)

// Mark is a limit on the use of a channel bandwidth.
type Mark uint8

// The marks of the channel bandwidth tables.
const (
	DownlinkOnly   Mark = 1 << iota // not in the uplink
	UplinkOnly                      // not in the downlink
	Optional                        // optional for the UE
	UplinkOptional                  // optional for the UE in the uplink
	SCellOnly                       // requirements only as a secondary cell
)

var markLetters = map[byte]Mark{'d': DownlinkOnly, 'u': UplinkOnly, 'o': Optional, 'v': UplinkOptional, 's': SCellOnly}

// ChannelWidth is a channel bandwidth that a band has at a subcarrier spacing.
type ChannelWidth struct {
	SCS   Frequency
	Width Frequency
	Marks Mark
	// ResourceBlocks is the maximum number of resource blocks N_RB
	// (TS 38.101-1, -2, -5 clause 5.3.2; TS 36.101 Tables 5.6-1 and 5.6H-1).
	ResourceBlocks int
	// GuardBand is the minimum guard band on each side (TS 38.101-1, -2, -5 clause
	// 5.3.3); zero for LTE, whose tables give none.
	GuardBand Frequency
	// Note says what the notes of the table add; usually empty.
	Note string
}

// Allows tells whether the marks of the width allow the direction; whether the band
// has the direction at all, [Band.Has] tells.
func (w ChannelWidth) Allows(d Direction) bool {
	return d == Downlink && w.Marks&UplinkOnly == 0 || d == Uplink && w.Marks&DownlinkOnly == 0
}

func (b *Band) addWidths(scs Frequency, list string, blocks blockTables) {
	b.widths = slices.Grow(b.widths, strings.Count(list, " ")+1)
	for field := range strings.FieldsSeq(list) {
		w := ChannelWidth{SCS: scs}
		for {
			m, ok := markLetters[field[len(field)-1]]
			if !ok {
				break
			}
			w.Marks |= m
			field = field[:len(field)-1]
		}
		w.Width = must(ParseMHz(field))
		key := blockKey{b.Range, scs, w.Width}
		w.ResourceBlocks, w.GuardBand = blocks.blocks[key], blocks.guards[key]
		b.widths = append(b.widths, w)
	}
}

func (b *Band) widthAt(scs, width Frequency) *ChannelWidth {
	for i := range b.widths {
		if w := &b.widths[i]; w.SCS == scs && w.Width == width {
			return w
		}
	}
	return nil
}

// Widths lists the channel bandwidths of the band by subcarrier spacing and
// width. LTE bands have the spacing 15 kHz; the broadcast bands have PMCH widths,
// marked as downlink only; LTE band 103, for NB-IoT alone, has none.
func (b *Band) Widths() []ChannelWidth { return slices.Clone(b.widths) }

// WidthSource is the table the channel bandwidths come from.
func (b *Band) WidthSource() Source { return b.widthSource }

// Width finds the channel bandwidth at a subcarrier spacing.
func (b *Band) Width(scs, width Frequency) (ChannelWidth, bool) {
	if w := b.widthAt(scs, width); w != nil {
		return *w, true
	}
	return ChannelWidth{}, false
}

// WidestSpacing finds the largest subcarrier spacing at which the band has both
// widths, and what the band has there; false if they share none.
func (b *Band) WidestSpacing(width1, width2 Frequency) (w1, w2 ChannelWidth, ok bool) {
	var first, second *ChannelWidth
	for i := len(b.widths) - 1; i >= 0; i-- { // spacings stand in rising order
		w := &b.widths[i]
		if first != nil && first.SCS != w.SCS {
			first = nil
		}
		if second != nil && second.SCS != w.SCS {
			second = nil
		}
		if w.Width == width1 {
			first = w
		}
		if w.Width == width2 {
			second = w
		}
		if first != nil && second != nil {
			return *first, *second, true
		}
	}
	return ChannelWidth{}, ChannelWidth{}, false
}

// HasWidth tells whether the band has the width in the direction at any
// subcarrier spacing.
func (b *Band) HasWidth(d Direction, width Frequency) bool {
	if !b.Has(d) {
		return false
	}
	for i := range b.widths {
		if b.widths[i].Width == width && b.widths[i].Allows(d) {
			return true
		}
	}
	return false
}

// WidthsIn lists the widths the band has in a direction at any subcarrier
// spacing, or at the one given if it is not zero, in rising order.
func (b *Band) WidthsIn(d Direction, scs Frequency) []Frequency {
	if !b.Has(d) {
		return nil
	}
	list := make([]Frequency, 0, len(b.widths))
	for i := range b.widths {
		if w := &b.widths[i]; w.Allows(d) && (scs == 0 || w.SCS == scs) {
			list = append(list, w.Width)
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// Spacings lists the subcarrier spacings of the band, or those at which it has
// the width if that is not zero, in rising order.
func (b *Band) Spacings(width Frequency) []Frequency {
	var list []Frequency
	for _, w := range b.widths {
		if (width == 0 || w.Width == width) && !slices.Contains(list, w.SCS) {
			list = append(list, w.SCS)
		}
	}
	return list
}

// DefaultSpacing is the subcarrier spacing taken when none is given: 15 kHz for
// LTE and in paired and supplementary FR1 bands, 30 kHz in FR1 TDD bands,
// 120 kHz in FR2. Where the band does not have the width at it, the next wider
// spacing that has it, else the next narrower; zero if no spacing has the width.
// The choice is this program's own: common practice, no source.
func (b *Band) DefaultSpacing(width Frequency) Frequency {
	usual := 15 * KHz
	switch {
	case b.Range.IsFR2():
		usual = 120 * KHz
	case b.ID.RAT == NR && b.Duplex == TDD:
		usual = 30 * KHz
	}
	var wider, narrower Frequency
	for i := range b.widths {
		w := &b.widths[i]
		switch {
		case w.Width != width:
		case w.SCS == usual:
			return usual
		case w.SCS > usual && wider == 0: // spacings stand in rising order
			wider = w.SCS
		case w.SCS < usual:
			narrower = w.SCS
		}
	}
	if wider != 0 {
		return wider
	}
	return narrower
}

// CheckWidth returns nil if the band has the width in the direction at the
// subcarrier spacing (at any, if that is zero), else a ValueError that names the
// widths it has.
func (b *Band) CheckWidth(d Direction, width, scs Frequency) error {
	if scs == 0 {
		if b.HasWidth(d, width) {
			return nil
		}
	} else if w := b.widthAt(scs, width); w != nil && w.Allows(d) && b.Has(d) {
		return nil
	}
	have := b.WidthsIn(d, scs)
	e := &ValueError{
		Param:   fmt.Sprintf("%s %s width", b.ID, d),
		Got:     width.String(),
		Allowed: ListMHz(have),
		Source:  b.widthSource,
	}
	if scs != 0 {
		e.Param += " at " + scs.String()
	}
	switch {
	case !b.Has(d):
		e.Allowed = "none: " + b.ID.String() + " is " + b.Duplex.String() + " and has no " + d.String()
		e.Source = b.Source
	case len(b.widths) == 0: // LTE band 103
		e.Allowed = "none: " + b.ID.String() + " has no row of channel bandwidths"
		if b.Note != "" {
			e.Allowed += "; " + b.Note
		}
	case len(have) == 0:
		e.Allowed = "none at this subcarrier spacing; " + b.ID.String() + " has " + listSpacings(b.Spacings(0))
	default:
		e.Nearest = nearestOf(have, width).String()
		if other := b.spacingsIn(d, width); len(other) > 0 {
			e.Nearest += ", or " + width.String() + " at " + listSpacings(other)
		}
	}
	return e
}

// spacingsIn lists the subcarrier spacings at which the band has the width in the
// direction, in rising order.
func (b *Band) spacingsIn(d Direction, width Frequency) []Frequency {
	var list []Frequency
	for i := range b.widths {
		if w := &b.widths[i]; w.Width == width && w.Allows(d) {
			list = append(list, w.SCS)
		}
	}
	return list
}

func nearestOf(list []Frequency, f Frequency) Frequency {
	best := list[0]
	for _, v := range list[1:] {
		if max(v-f, f-v) < max(best-f, f-best) {
			best = v
		}
	}
	return best
}

// ListMHz writes widths as "10, 15, 20 or 100 MHz".
func ListMHz(list []Frequency) string {
	return listWords(list, Frequency.MHz) + " MHz"
}

func listSpacings(list []Frequency) string {
	return listWords(list, Frequency.KHz) + " kHz"
}

func listWords[T any](list []T, word func(T) string) string {
	var s strings.Builder
	for i, v := range list {
		switch {
		case i == 0:
		case i == len(list)-1:
			s.WriteString(" or ")
		default:
			s.WriteString(", ")
		}
		s.WriteString(word(v))
	}
	return s.String()
}
