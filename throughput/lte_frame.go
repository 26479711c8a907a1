package throughput

import (
	"fmt"
	"strconv"
	"strings"

	"spectally/bands"
)

// LTESubframes is the number of subframes of a frame of 10 ms.
const LTESubframes = 10

// LTEFrame is a frame structure of LTE: FDD (type 1), TDD (type 2) with an
// uplink-downlink configuration and a special subframe configuration, or that of
// licensed-assisted access (type 3), and the cyclic prefix of both links. Frames
// compare with ==; the zero LTEFrame is FDD with normal cyclic prefix.
type LTEFrame struct {
	tdd, assisted   bool
	config, special uint8
	extended        bool
}

// The special subframe configurations that a TDD frame has when only its
// uplink-downlink configuration is given: ten symbols downlink, two guard, two
// uplink with normal cyclic prefix, and eight, two, two with extended. Common
// practice, no source: the standards leave it to the network.
const (
	LTEDefaultSpecial         = 7
	LTEDefaultSpecialExtended = 5
)

const lteExtendedSuffix = "-ext"

const lteType3 = "type3"

// NewLTEType3 is frame structure type 3 of licensed-assisted access, in which every
// subframe may be downlink or uplink and only what is sent fills it (TS 36.211 clause
// 4.3). What is worked out for a direction is the most that it can have: all subframes,
// and no synchronisation signals, which come with discovery signals now and then.
func NewLTEType3() LTEFrame { return LTEFrame{assisted: true} }

// NewLTEFDD is the FDD frame structure.
func NewLTEFDD(extendedCP bool) LTEFrame { return LTEFrame{extended: extendedCP} }

// NewLTETDD is a TDD frame structure with uplink-downlink configuration 0 to 6
// (TS 36.211 Table 4.2-2) and special subframe configuration 0 to 10, or 0 to 7
// with extended cyclic prefix (TS 36.211 Table 4.2-1).
func NewLTETDD(config, special int, extendedCP bool) (LTEFrame, error) {
	t := lteFrames()
	if config < 0 || config >= len(t.configs) {
		return LTEFrame{}, lteRangeError("uplink-downlink configuration", config, 0, len(t.configs)-1, t.configSource)
	}
	cp := lteCyclicPrefix(extendedCP)
	if special < 0 || special >= len(t.special[cp]) {
		name := "special subframe configuration (" + lteCyclicPrefixes[cp] + " cyclic prefix)"
		return LTEFrame{}, lteRangeError(name, special, 0, len(t.special[cp])-1, t.specialSource)
	}
	return LTEFrame{tdd: true, config: uint8(config), special: uint8(special), extended: extendedCP}, nil
}

// LTETDDFrames lists the TDD frame structures with normal cyclic prefix.
func LTETDDFrames() []LTEFrame {
	t := lteFrames()
	var list []LTEFrame
	for config := range t.configs {
		for special := range t.special[lteCyclicPrefix(false)] {
			list = append(list, LTEFrame{tdd: true, config: uint8(config), special: uint8(special)})
		}
	}
	return list
}

// ParseLTEFrame reads a frame structure: "FDD", or for TDD the uplink-downlink
// configuration and the special subframe configuration, "2/7", or the first
// alone, "2", which takes special subframe configuration 7 (5 with extended
// cyclic prefix). The ending "-ext" says extended cyclic prefix. "type3" is that of
// licensed-assisted access. Letter case does not matter.
func ParseLTEFrame(s string) (LTEFrame, error) {
	text, extended := strings.CutSuffix(strings.ToLower(s), lteExtendedSuffix)
	switch {
	case text == "fdd":
		return NewLTEFDD(extended), nil
	case text == lteType3 && !extended:
		return NewLTEType3(), nil
	}
	first, second, both := strings.Cut(text, "/")
	config, ok := lteSmallNumber(first)
	special := LTEDefaultSpecial
	if extended {
		special = LTEDefaultSpecialExtended
	}
	if both && ok {
		special, ok = lteSmallNumber(second)
	}
	if !ok {
		return LTEFrame{}, &bands.ValueError{
			Param: "LTE frame structure", Got: s,
			Allowed: "FDD, or an uplink-downlink configuration 0 to 6 and a special subframe configuration, such as 2/7",
			Source:  lteFrames().configSource,
		}
	}
	return NewLTETDD(config, special, extended)
}

// lteSmallNumber reads one or two digits, without a sign and without a zero in
// front.
func lteSmallNumber(s string) (int, bool) {
	if len(s) == 0 || len(s) > 2 || s[0] < '0' || s[0] > '9' || (len(s) == 2 && s[0] == '0') {
		return 0, false
	}
	n, err := strconv.Atoi(s)
	return n, err == nil
}

// String writes the frame structure so that [ParseLTEFrame] reads it back:
// "FDD", "2/7", "2/5-ext", "type3".
func (f LTEFrame) String() string {
	s := "FDD"
	switch {
	case f.tdd:
		s = fmt.Sprintf("%d/%d", f.config, f.special)
	case f.assisted:
		s = lteType3
	}
	if f.extended {
		s += lteExtendedSuffix
	}
	return s
}

// TDD reports whether the frame is of type 2.
func (f LTEFrame) TDD() bool { return f.tdd }

// Type3 reports whether the frame is that of licensed-assisted access.
func (f LTEFrame) Type3() bool { return f.assisted }

// Config is the uplink-downlink configuration of a TDD frame.
func (f LTEFrame) Config() int { return int(f.config) }

// Special is the special subframe configuration of a TDD frame.
func (f LTEFrame) Special() int { return int(f.special) }

// ExtendedCP reports whether the cyclic prefix is extended: 12 symbols in a
// subframe instead of 14.
func (f LTEFrame) ExtendedCP() bool { return f.extended }

// symbols is the number of symbols of a subframe.
func (f LTEFrame) symbols() int { return lteSymbols[lteCyclicPrefix(f.extended)] }
