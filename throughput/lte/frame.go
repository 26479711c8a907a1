package lte

import (
	"fmt"
	"strconv"
	"strings"

	"spectally/bands"
)

// Subframes is the number of subframes of a frame of 10 ms.
const Subframes = 10

// Frame is a frame structure of LTE: FDD (type 1), TDD (type 2) with an
// uplink-downlink configuration and a special subframe configuration, or that of
// licensed-assisted access (type 3), and the cyclic prefix of both links. Frames
// compare with ==; the zero Frame is FDD with normal cyclic prefix.
type Frame struct {
	tdd, assisted   bool
	config, special uint8 // of type 3: config is how many subframes are downlink
	extended        bool
}

// The special subframe configurations that a TDD frame has when only its
// uplink-downlink configuration is given: ten symbols downlink, two guard, two
// uplink with normal cyclic prefix, and eight, two, two with extended. Common
// practice, no source: the standards leave it to the network.
const (
	DefaultSpecial         = 7
	DefaultSpecialExtended = 5
)

const extendedSuffix = "-ext"

const type3 = "type3"

// NewType3 is frame structure type 3 of licensed-assisted access, in which every
// subframe may be downlink or uplink (TS 36.211 clause 4.3): so many of the ten of a
// frame are downlink, 0 to 10, and the others uplink. There are no synchronisation
// signals, which come with discovery signals now and then.
func NewType3(downlink int) (Frame, error) {
	if downlink < 0 || downlink > Subframes {
		return Frame{}, rangeError("downlink subframes of a frame of type 3", downlink, 0, Subframes, frames().configSource)
	}
	return Frame{assisted: true, config: uint8(downlink)}, nil
}

// NewFDD is the FDD frame structure.
func NewFDD(extendedCP bool) Frame { return Frame{extended: extendedCP} }

// NewTDD is a TDD frame structure with uplink-downlink configuration 0 to 6
// (TS 36.211 Table 4.2-2) and special subframe configuration 0 to 10, or 0 to 7
// with extended cyclic prefix (TS 36.211 Table 4.2-1).
func NewTDD(config, special int, extendedCP bool) (Frame, error) {
	t := frames()
	if config < 0 || config >= len(t.configs) {
		return Frame{}, rangeError("uplink-downlink configuration", config, 0, len(t.configs)-1, t.configSource)
	}
	cp := cyclicPrefix(extendedCP)
	if special < 0 || special >= len(t.special[cp]) {
		name := "special subframe configuration (" + cyclicPrefixes[cp] + " cyclic prefix)"
		return Frame{}, rangeError(name, special, 0, len(t.special[cp])-1, t.specialSource)
	}
	return Frame{tdd: true, config: uint8(config), special: uint8(special), extended: extendedCP}, nil
}

// TDDFrames lists the TDD frame structures with normal cyclic prefix.
func TDDFrames() []Frame {
	t := frames()
	var list []Frame
	for config := range t.configs {
		for special := range t.special[cyclicPrefix(false)] {
			list = append(list, Frame{tdd: true, config: uint8(config), special: uint8(special)})
		}
	}
	return list
}

// ParseFrame reads a frame structure: "FDD", or for TDD the uplink-downlink
// configuration and the special subframe configuration, "2/7", or the first
// alone, "2", which takes special subframe configuration 7 (5 with extended
// cyclic prefix). The ending "-ext" says extended cyclic prefix. "type3/8" is that of
// licensed-assisted access with 8 downlink subframes, "type3" with 10. Letter case does
// not matter.
func ParseFrame(s string) (Frame, error) {
	text, extended := strings.CutSuffix(strings.ToLower(s), extendedSuffix)
	switch {
	case text == "fdd":
		return NewFDD(extended), nil
	case text == type3 && !extended:
		return NewType3(Subframes)
	}
	first, second, both := strings.Cut(text, "/")
	if down, ok := smallNumber(second); ok && first == type3 && !extended {
		return NewType3(down)
	}
	config, ok := smallNumber(first)
	special := DefaultSpecial
	if extended {
		special = DefaultSpecialExtended
	}
	if both && ok {
		special, ok = smallNumber(second)
	}
	if !ok {
		return Frame{}, &bands.ValueError{
			Param: "LTE frame structure", Got: s,
			Allowed: "FDD, or an uplink-downlink configuration 0 to 6 and a special subframe configuration, such as 2/7",
			Source:  frames().configSource,
		}
	}
	return NewTDD(config, special, extended)
}

// smallNumber reads one or two digits, without a sign and without a zero in
// front.
func smallNumber(s string) (int, bool) {
	if len(s) == 0 || len(s) > 2 || s[0] < '0' || s[0] > '9' || (len(s) == 2 && s[0] == '0') {
		return 0, false
	}
	n, err := strconv.Atoi(s)
	return n, err == nil
}

// String writes the frame structure so that [ParseFrame] reads it back:
// "FDD", "2/7", "2/5-ext", "type3/8".
func (f Frame) String() string {
	s := "FDD"
	switch {
	case f.tdd:
		s = fmt.Sprintf("%d/%d", f.config, f.special)
	case f.assisted:
		s = type3 + "/" + strconv.Itoa(int(f.config))
	}
	if f.extended {
		s += extendedSuffix
	}
	return s
}

// TDD reports whether the frame is of type 2.
func (f Frame) TDD() bool { return f.tdd }

// Type3 reports whether the frame is that of licensed-assisted access.
func (f Frame) Type3() bool { return f.assisted }

// Config is the uplink-downlink configuration of a TDD frame; of one of type 3 the number
// of its downlink subframes.
func (f Frame) Config() int { return int(f.config) }

// Special is the special subframe configuration of a TDD frame.
func (f Frame) Special() int { return int(f.special) }

// ExtendedCP reports whether the cyclic prefix is extended: 12 symbols in a
// subframe instead of 14.
func (f Frame) ExtendedCP() bool { return f.extended }

// symbols is the number of symbols of a subframe.
func (f Frame) symbols() int { return subframeSymbols[cyclicPrefix(f.extended)] }
