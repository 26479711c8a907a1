package throughput

import (
	"fmt"
	"strconv"
	"strings"

	"spectally/bands"
)

// LTESubframes is the number of subframes of a frame of 10 ms.
const LTESubframes = 10

// LTEFrame is a frame structure of LTE: FDD (type 1), or TDD (type 2) with an
// uplink-downlink configuration and a special subframe configuration, and the
// cyclic prefix of both links. Frames compare with ==; the zero LTEFrame is FDD
// with normal cyclic prefix.
type LTEFrame struct {
	tdd             bool
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
	return LTEFrame{true, uint8(config), uint8(special), extendedCP}, nil
}

// ParseLTEFrame reads a frame structure: "FDD", or for TDD the uplink-downlink
// configuration and the special subframe configuration, "2/7", or the first
// alone, "2", which takes special subframe configuration 7 (5 with extended
// cyclic prefix). The ending "-ext" says extended cyclic prefix. Letter case does
// not matter.
func ParseLTEFrame(s string) (LTEFrame, error) {
	text, extended := strings.CutSuffix(strings.ToLower(s), lteExtendedSuffix)
	if text == "fdd" {
		return NewLTEFDD(extended), nil
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
// "FDD", "2/7", "2/5-ext".
func (f LTEFrame) String() string {
	s := "FDD"
	if f.tdd {
		s = fmt.Sprintf("%d/%d", f.config, f.special)
	}
	if f.extended {
		s += lteExtendedSuffix
	}
	return s
}

// TDD reports whether the frame is of type 2; otherwise it is FDD.
func (f LTEFrame) TDD() bool { return f.tdd }

// Config is the uplink-downlink configuration of a TDD frame.
func (f LTEFrame) Config() int { return int(f.config) }

// Special is the special subframe configuration of a TDD frame.
func (f LTEFrame) Special() int { return int(f.special) }

// ExtendedCP reports whether the cyclic prefix is extended: 12 symbols in a
// subframe instead of 14.
func (f LTEFrame) ExtendedCP() bool { return f.extended }

// symbols is the number of symbols of a subframe.
func (f LTEFrame) symbols() int { return lteSymbols[lteCyclicPrefix(f.extended)] }
