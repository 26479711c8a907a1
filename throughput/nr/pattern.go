package nr

import (
	"spectally/bands"
	"spectally/throughput/exact"
)

// TDDPattern is an uplink-downlink pattern of NR as tdd-UL-DL-ConfigurationCommon
// describes it: one or two parts, each of downlink slots, slots with downlink,
// flexible and uplink symbols ("special" slots), and uplink slots (TS 38.213
// clause 11.1). Its slots are those of the carrier's own subcarrier spacing.
//
// Patterns compare with ==. The zero TDDPattern is none: every slot carries both
// directions, as in paired spectrum.
type TDDPattern struct{ parts [2]tddPart }

// tddPart is pattern1 or pattern2: dl slots, special slots that begin with
// dlSymbols and end with ulSymbols, ul slots.
type tddPart struct {
	dl, special, ul      uint16
	dlSymbols, ulSymbols uint8
	assumed              bool // the symbols of the special slots were not given
}

func (p tddPart) slots() int { return int(p.dl) + int(p.special) + int(p.ul) }

// TDDSlot counts the symbols of a slot; they add up to 14.
type TDDSlot struct {
	DL    uint8 // downlink symbols at the start
	Guard uint8 // flexible symbols: the guard period
	UL    uint8 // uplink symbols at the end
}

// Letter is D for a downlink slot, U for an uplink slot, else S.
func (s TDDSlot) Letter() byte {
	switch {
	case s.DL == slotSymbols:
		return 'D'
	case s.UL == slotSymbols:
		return 'U'
	}
	return 'S'
}

// Symbols is the number of symbols of a direction.
func (s TDDSlot) Symbols(d bands.Direction) int {
	if d == bands.Uplink {
		return int(s.UL)
	}
	return int(s.DL)
}

// IsZero tells whether p is no pattern.
func (p TDDPattern) IsZero() bool { return p == TDDPattern{} }

// Slots is the number of slots of the pattern, both parts together; 0 if it is
// none.
func (p *TDDPattern) Slots() int { return p.parts[0].slots() + p.parts[1].slots() }

// SpecialAssumed tells whether the pattern was written without the symbols of its
// special slots and [DefaultSpecialSlot] was taken.
func (p *TDDPattern) SpecialAssumed() bool { return p.parts[0].assumed || p.parts[1].assumed }

// Slot is the slot with a number counted from the start of a frame in which the
// pattern begins.
func (p *TDDPattern) Slot(number int) TDDSlot {
	n := p.Slots()
	if n == 0 || number < 0 {
		return TDDSlot{}
	}
	number %= n
	part := &p.parts[0]
	if first := part.slots(); number >= first {
		part, number = &p.parts[1], number-first
	}
	return part.slot(number)
}

func (p *tddPart) slot(i int) TDDSlot {
	special := i - int(p.dl)
	switch {
	case special < 0:
		return TDDSlot{DL: slotSymbols}
	case special >= int(p.special):
		return TDDSlot{UL: slotSymbols}
	}
	s := TDDSlot{}
	if special == 0 {
		s.DL = p.dlSymbols
	}
	if special == int(p.special)-1 {
		s.UL = p.ulSymbols
	}
	s.Guard = slotSymbols - s.DL - s.UL
	return s
}

// Expand lists the first n slots.
func (p *TDDPattern) Expand(n int) []TDDSlot {
	list := make([]TDDSlot, max(n, 0))
	for i := range list {
		list[i] = p.Slot(i)
	}
	return list
}

// symbols counts the downlink, flexible and uplink symbols of the pattern.
func (p *TDDPattern) symbols() (dl, guard, ul int64) {
	for i := range p.parts {
		part := &p.parts[i]
		d := slotSymbols*int64(part.dl) + int64(part.dlSymbols)
		u := slotSymbols*int64(part.ul) + int64(part.ulSymbols)
		dl, ul, guard = dl+d, ul+u, guard+slotSymbols*int64(part.slots())-d-u
	}
	return dl, guard, ul
}

// Share is the part of all symbols that a direction has: 1 for either if there is
// no pattern. Flexible symbols belong to neither.
func (p *TDDPattern) Share(d bands.Direction) exact.Ratio {
	dl, guard, ul := p.symbols()
	all := dl + guard + ul
	switch {
	case all == 0:
		return exact.Whole(1)
	case d == bands.Uplink:
		return exact.Of(ul, all).Reduced()
	}
	return exact.Of(dl, all).Reduced()
}

// GuardShare is the part of all symbols that is flexible: 0 if there is no
// pattern.
func (p *TDDPattern) GuardShare() exact.Ratio {
	dl, guard, ul := p.symbols()
	if guard == 0 {
		return exact.Whole(0)
	}
	return exact.Of(guard, dl+guard+ul).Reduced()
}
