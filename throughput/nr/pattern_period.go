package nr

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"spectally/bands"
	"spectally/data"
	"spectally/throughput/exact"
	"spectally/throughput/internal/printed"
	"spectally/throughput/internal/words"
)

// tddPeriod is a period of tdd-UL-DL-ConfigurationCommon.
type tddPeriod struct {
	text  string // in ms, as printed
	units int    // in 1/64 ms, the length of a slot at 960 kHz
	mu    uint8  // the numerologies mu_ref it may be written in, a bit for each
}

type tddPeriods struct {
	rows   []tddPeriod
	source bands.Source
}

var (
	tddTables      = data.Lazy("nr_tdd")
	loadTDDPeriods = sync.OnceValue(func() *tddPeriods {
		t := data.Find(tddTables(), "periods")
		all := &tddPeriods{source: t.Source}
		for _, row := range t.Rows {
			p := tddPeriod{text: row[0], units: int(printed.Ratio(row[0]).Mul(exact.Whole(unitsPerMS)).Num)}
			for mu := range strings.FieldsSeq(row[1]) {
				p.mu |= 1 << printed.Int(mu)
			}
			all.rows = append(all.rows, p)
		}
		return all
	})
)

const (
	unitsPerMS = 64
	// A pattern begins with a frame of even number: its period divides 20 ms.
	tddAlignment = 20 * unitsPerMS
	// tddMaxRef is the largest nrofDownlinkSlots and nrofUplinkSlots.
	tddMaxRef = 320
)

// Periods checks the pattern against a subcarrier spacing and returns the periods
// of its parts in ms. One part alone must last a period P of TS 38.213 clause
// 11.1 that divides 20 ms; two parts must last such periods P and P2 whose sum
// divides 20 ms. A pattern of one part that is longer than any P (such as
// 30D4S6U/0:56:0 at 30 kHz, 20 ms) is cut in two where that gives two such
// periods. Where the common configuration has no such periods, a dedicated one makes any
// pattern as long as some period P that fits a whole number of times into one of the
// spacing; the period is then that of the whole. The pattern may be one written at a wider reference spacing, in slots
// of the carrier's own. Without a pattern both periods are not given.
func (p *TDDPattern) Periods(scs bands.Frequency) (periods [2]exact.Ratio, err error) {
	n, err := NumerologyOf(scs)
	if err != nil || p.IsZero() {
		return periods, err
	}
	all := loadTDDPeriods()
	slot := unitsPerMS >> n.Mu
	first, second := p.parts[0].slots()*slot, p.parts[1].slots()*slot
	total := first + second
	if tddAlignment%total == 0 {
		switch {
		case second == 0 && p.parts[0].fits(n.Mu, first, all):
			return [2]exact.Ratio{inMS(first)}, nil
		case second != 0 && p.parts[0].fits(n.Mu, first, all) && p.parts[1].fits(n.Mu, second, all):
			return [2]exact.Ratio{inMS(first), inMS(second)}, nil
		case second == 0:
			for i := range all.rows {
				cut := all.rows[i].units
				if cut%slot != 0 || cut >= first {
					continue
				}
				a, b := p.parts[0].cut(cut / slot)
				if a.fits(n.Mu, cut, all) && b.fits(n.Mu, first-cut, all) {
					return [2]exact.Ratio{inMS(cut), inMS(first - cut)}, nil
				}
			}
		}
	}
	if p.dedicated(n.Mu, total, all) {
		return [2]exact.Ratio{inMS(total)}, nil
	}
	return periods, p.periodError(n, all)
}

// dedicated tells whether the pattern can be set up slot by slot: a common configuration
// of flexible symbols alone over a period that holds the pattern, itself as long as some
// period P, a whole number of times,
// and tdd-UL-DL-ConfigurationDedicated for each slot of it (TS 38.213 clause 11.1). TR
// 37.910 clause 5.1.1 takes DSUUD at 60 and 120 kHz so.
func (p *TDDPattern) dedicated(mu, total int, all *tddPeriods) bool {
	if !slices.ContainsFunc(all.rows, func(row tddPeriod) bool { return row.units == total }) {
		return false
	}
	for i := range all.rows {
		row := &all.rows[i]
		if row.mu&(2<<mu-1) != 0 && tddAlignment%row.units == 0 && row.units%total == 0 && row.units/(unitsPerMS>>mu) <= tddMaxRef {
			return true
		}
	}
	return false
}

func inMS(units int) exact.Ratio { return exact.Of(int64(units), unitsPerMS).Reduced() }

// fits tells whether the part can be written at some reference spacing mu_ref not
// above mu for which its period is allowed.
func (p *tddPart) fits(mu, units int, all *tddPeriods) bool {
	for i := range all.rows {
		row := &all.rows[i]
		if row.units != units {
			continue
		}
		for ref := mu; ref >= 0; ref-- {
			k := 1 << (mu - ref) // slots and symbols of the carrier for each of the reference
			dl := slotSymbols*int(p.dl) + int(p.dlSymbols)
			ul := slotSymbols*int(p.ul) + int(p.ulSymbols)
			if row.mu>>ref&1 == 1 && dl%k == 0 && ul%k == 0 && p.slots()%k == 0 &&
				dl/k/slotSymbols <= tddMaxRef && ul/k/slotSymbols <= tddMaxRef {
				return true
			}
		}
	}
	return false
}

// cut splits a part after a number of slots.
func (p *tddPart) cut(slots int) (a, b tddPart) {
	for i := range p.slots() {
		part := &a
		if i >= slots {
			part = &b
		}
		s := p.slot(i)
		switch s.Letter() {
		case 'D':
			part.dl++
		case 'U':
			part.ul++
		default:
			part.special++
			part.dlSymbols += s.DL
			part.ulSymbols += s.UL
		}
	}
	return a, b
}

func (p *TDDPattern) periodError(n Numerology, all *tddPeriods) error {
	slot := unitsPerMS >> n.Mu
	var allowed []string
	for _, row := range all.rows {
		if row.units%slot == 0 && row.mu&(2<<n.Mu-1) != 0 && tddAlignment%row.units == 0 {
			allowed = append(allowed, row.text+" ms ("+words.Plural(row.units/slot, "slot")+")")
		}
	}
	total := p.Slots() * slot
	return &bands.ValueError{
		Param:   "TDD pattern at " + n.SCS.String(),
		Got:     p.String() + " (" + words.Plural(p.Slots(), "slot") + ", " + decimalMS(total) + " ms)",
		Allowed: "a period of " + strings.Join(allowed, ", ") + ", or two periods whose sum divides 20 ms",
		Source:  all.source,
	}
}

// decimalMS writes units of 1/64 ms as a decimal number of milliseconds.
func decimalMS(units int) string {
	s := fmt.Sprintf("%d.%06d", units/unitsPerMS, units%unitsPerMS*(1e6/unitsPerMS))
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}
