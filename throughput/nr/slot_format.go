package nr

import (
	"strconv"
	"sync"

	"spectally/bands"
	"spectally/data"
)

type slotFormats struct {
	rows   []string
	source bands.Source
}

var loadSlotFormats = sync.OnceValue(func() *slotFormats {
	t := data.Find(tddTables(), "formats")
	all := &slotFormats{source: t.Source}
	for _, row := range t.Rows {
		all.rows = append(all.rows, row[1])
	}
	return all
})

// SlotFormat is the slot format with a number, 0 to 55, as DCI format 2_0 means
// it: a letter for each of the 14 symbols, D, U or F for flexible (TS 38.213
// Table 11.1.1-1).
func SlotFormat(number int) (string, error) {
	all := loadSlotFormats()
	if number < 0 || number >= len(all.rows) {
		return "", &bands.ValueError{
			Param:   "slot format",
			Got:     strconv.Itoa(number),
			Allowed: "0 to " + strconv.Itoa(len(all.rows)-1),
			Source:  all.source,
		}
	}
	return all.rows[number], nil
}

// Format is the number of the slot format that has exactly these downlink,
// flexible and uplink symbols in this order; false if none has.
func (s TDDSlot) Format() (int, bool) {
	for number, symbols := range loadSlotFormats().rows {
		same := len(symbols) == slotSymbols
		for i := 0; i < len(symbols) && same; i++ {
			want := byte('F')
			switch {
			case i < int(s.DL):
				want = 'D'
			case i >= slotSymbols-int(s.UL):
				want = 'U'
			}
			same = symbols[i] == want
		}
		if same {
			return number, true
		}
	}
	return 0, false
}
