package nr

import (
	"fmt"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/throughput/internal/words"
)

// DefaultSpecialSlot is the special slot that a pattern written without one gets:
// ten downlink, two guard and two uplink symbols, as in the patterns FR1.15-1,
// FR1.30-2, FR1.30-3 and FR2.120-1 of TS 38.101-4.
var DefaultSpecialSlot = TDDSlot{DL: 10, Guard: 2, UL: 2}

// DefaultTDDPattern is the pattern this program assumes for a TDD carrier that is
// given without one: DDDSU with [DefaultSpecialSlot] up to 120 kHz (TS 38.101-4:
// FR1.15-1, FR1.30-2, FR2.120-1; 60 kHz is taken alike); at 480 kHz FR2.480-1 of
// the same specification, at 960 kHz the same directions in slots half as long.
func DefaultTDDPattern(scs bands.Frequency) TDDPattern {
	switch scs {
	case 480 * bands.KHz:
		return TDDPattern{[2]tddPart{{dl: 14, special: 2, ul: 4, dlSymbols: 12, ulSymbols: 8}}}
	case 960 * bands.KHz:
		return TDDPattern{[2]tddPart{{dl: 29, special: 2, ul: 9, dlSymbols: 10, ulSymbols: 2}}}
	}
	return TDDPattern{[2]tddPart{{dl: 3, special: 1, ul: 1, dlSymbols: DefaultSpecialSlot.DL, ulSymbols: DefaultSpecialSlot.UL}}}
}

const (
	tddAllowed = "slots such as DDDSU or 7DS2U, then / and the downlink, guard and uplink symbols of the special slots, such as DDDSU/10:2:2; a second pattern after -, such as DDDSU-DDSUU"
	// tddMaxSlots bounds a part: nrofDownlinkSlots and nrofUplinkSlots reach 320,
	// and 10 ms at 960 kHz are 640 slots.
	tddMaxSlots = 640
)

// ParseTDDPattern reads a pattern:
//
//	DDDSU/10:2:2              letters, or counts and letters: 3DSU/10:2:2
//	7DS2U/6:4:4               D downlink, S special, U uplink slot
//	14D2S4U/12:8:8            several special slots: their symbols together,
//	14D2S4U/12:2:0/0:6:8      or one by one
//	DDDSU/10:2:2-DDSUU/10:2:2 two patterns in turn; DDDSUDDSUU/10:2:2 is the same
//	DDDSU                     the special slot is DefaultSpecialSlot
//
// Letter case does not matter. Whether the period exists at a subcarrier spacing
// is for [TDDPattern.Periods] to say.
func ParseTDDPattern(s string) (TDDPattern, error) {
	bad := func(why string) error {
		return &bands.ValueError{Param: "TDD pattern", Got: s, Allowed: why, Source: bands.Source{Spec: "TS 38.213", Table: "clause 11.1"}}
	}
	text := strings.TrimSpace(s)
	if len(text) > 64 {
		return TDDPattern{}, bad("at most 64 characters: counts and letters such as 7DS2U/6:4:4")
	}
	var parts []tddPart
	for piece := range strings.SplitSeq(text, "-") {
		slots, symbols, given := strings.Cut(piece, "/")
		runs, why := tddRuns(slots)
		special := 0
		for i := range runs {
			if runs[i].special > 0 && why == "" {
				why = runs[i].setSpecial(symbols, given)
				special++
			}
		}
		switch {
		case why != "":
		case special == 0 && given:
			why = "no symbols after / where there is no special slot S"
		case special > 1 && strings.Contains(symbols, "/"):
			why = "a pattern for each set of special slots, with - between them"
		}
		if why != "" {
			return TDDPattern{}, bad(why)
		}
		parts = append(parts, runs...)
	}
	p, ok := tddFold(parts)
	if !ok {
		return TDDPattern{}, bad("at most two different patterns in turn, each of downlink, then special, then uplink slots")
	}
	return p, nil
}

// tddRuns reads slots and cuts them before every slot that cannot follow in one
// pattern: a downlink or special slot after an uplink slot, a downlink slot after
// a special one.
func tddRuns(s string) (parts []tddPart, why string) {
	part, count, rank := tddPart{}, -1, -1
	for i := range len(s) {
		c := s[i]
		if c >= '0' && c <= '9' {
			count = 10*max(count, 0) + int(c-'0')
			if count > tddMaxSlots {
				return nil, "at most " + strconv.Itoa(tddMaxSlots) + " slots in a pattern"
			}
			continue
		}
		r := strings.IndexByte("DSU", c&^('a'-'A')) // in either case
		if r < 0 || count == 0 {
			return nil, tddAllowed
		}
		if r < rank {
			parts, part = append(parts, part), tddPart{}
		}
		n := uint16(max(count, 1))
		switch r {
		case 0:
			part.dl += n
		case 1:
			part.special += n
		case 2:
			part.ul += n
		}
		if part.slots() > tddMaxSlots {
			return nil, "at most " + strconv.Itoa(tddMaxSlots) + " slots in a pattern"
		}
		rank, count = r, -1
	}
	if rank < 0 || count >= 0 {
		return nil, tddAllowed
	}
	return append(parts, part), ""
}

// setSpecial sets the symbols of the special slots, of which there is at least one,
// from D:G:U: one set for all of them or one for each. It returns what would be
// allowed if that fails.
func (p *tddPart) setSpecial(text string, given bool) string {
	all := slotSymbols * int(p.special)
	if !given {
		p.dlSymbols, p.ulSymbols, p.assumed = DefaultSpecialSlot.DL, DefaultSpecialSlot.UL, true
		return ""
	}
	sets := strings.Split(text, "/")
	if len(sets) > 1 && len(sets) != int(p.special) {
		return fmt.Sprintf("one set of symbols D:G:U, or one for each of the %d special slots", p.special)
	}
	var dl, ul int
	for i, set := range sets {
		d, g, u, ok := tddTriple(set)
		if !ok {
			return tddAllowed
		}
		want := all / len(sets)
		if d+g+u != want {
			return fmt.Sprintf("symbols that add up to %d, not %d", want, d+g+u)
		}
		if i > 0 && d > 0 || i < len(sets)-1 && u > 0 {
			return "downlink symbols in the first special slot alone and uplink symbols in the last alone"
		}
		dl, ul = dl+d, ul+u
	}
	if dl >= slotSymbols || ul >= slotSymbols {
		return "at most 13 downlink and 13 uplink symbols in special slots; more make a slot D or U"
	}
	p.dlSymbols, p.ulSymbols = uint8(dl), uint8(ul)
	return ""
}

func tddTriple(s string) (d, g, u int, ok bool) {
	var v [3]int
	fields := strings.Split(s, ":")
	if len(fields) != 3 {
		return 0, 0, 0, false
	}
	for i, f := range fields {
		n, ok := words.Digits(f)
		if !ok || n > slotSymbols*tddMaxSlots {
			return 0, 0, 0, false
		}
		v[i] = int(n)
	}
	return v[0], v[1], v[2], true
}

// tddFold turns parts that repeat into one or two.
func tddFold(parts []tddPart) (TDDPattern, bool) {
	p := TDDPattern{}
	for n := 1; n <= 2; n++ {
		if len(parts)%n != 0 {
			continue
		}
		same := true
		for i, part := range parts {
			same = same && part == parts[i%n]
		}
		if same {
			copy(p.parts[:], parts[:n])
			return p, true
		}
	}
	return p, false
}

// String writes the pattern as [ParseTDDPattern] reads it; the empty string for
// none.
func (p TDDPattern) String() string {
	var b []byte
	for i := range p.parts {
		part := &p.parts[i]
		if part.slots() == 0 {
			break
		}
		if i > 0 {
			b = append(b, '-')
		}
		b = part.append(b)
	}
	return string(b)
}

// append writes short parts letter by letter, longer ones with counts.
func (p *tddPart) append(b []byte) []byte {
	for _, run := range [...]struct {
		n      uint16
		letter byte
	}{{p.dl, 'D'}, {p.special, 'S'}, {p.ul, 'U'}} {
		switch {
		case run.n == 0:
		case p.slots() <= 5:
			for range run.n {
				b = append(b, run.letter)
			}
		default:
			if run.n > 1 {
				b = strconv.AppendUint(b, uint64(run.n), 10)
			}
			b = append(b, run.letter)
		}
	}
	if p.special == 0 || p.assumed {
		return b
	}
	guard := slotSymbols*int(p.special) - int(p.dlSymbols) - int(p.ulSymbols)
	return fmt.Appendf(b, "/%d:%d:%d", p.dlSymbols, guard, p.ulSymbols)
}
