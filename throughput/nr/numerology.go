package nr

import (
	"sync"

	"spectally/bands"
	"spectally/data"
	"spectally/throughput/internal/printed"
)

// Numerology is a row of the numerology tables of TS 38.211.
type Numerology struct {
	Mu               int // the subcarrier spacing is 15 kHz times 2^Mu
	SCS              bands.Frequency
	Extended         bool // extended cyclic prefix
	SymbolsPerSlot   int
	SlotsPerFrame    int // a frame is 10 ms
	SlotsPerSubframe int // a subframe is 1 ms
}

// slotSymbols is the number of symbols in a slot with normal cyclic prefix
// (TS 38.211 Table 4.3.2-1).
const slotSymbols = 14

// maxBlocks is the most resource blocks a carrier can have (TS 38.211 clause
// 4.4.2).
const maxBlocks = 275

var numerologyTables = data.Lazy("nr_numerology")

type numerologies struct {
	rows   []Numerology
	source bands.Source
}

var loadNumerologies = sync.OnceValue(func() numerologies {
	t := data.Find(numerologyTables(), "numerology")
	n := numerologies{source: t.Source}
	for _, row := range t.Rows {
		n.rows = append(n.rows, Numerology{
			Mu:               printed.Int(row[0]),
			SCS:              bands.Frequency(printed.Int(row[1])) * bands.KHz,
			Extended:         row[2] == "extended",
			SymbolsPerSlot:   printed.Int(row[3]),
			SlotsPerFrame:    printed.Int(row[4]),
			SlotsPerSubframe: printed.Int(row[5]),
		})
	}
	return n
})

// Numerologies lists the numerologies of TS 38.211 Tables 4.3.2-1 and
// 4.3.2-2. The rows are the caller's.
func Numerologies() []Numerology {
	return append([]Numerology(nil), loadNumerologies().rows...)
}

// NumerologyOf finds the numerology with normal cyclic prefix that carries
// data at a subcarrier spacing: 15, 30, 60, 120, 480 or 960 kHz.
func NumerologyOf(scs bands.Frequency) (Numerology, error) {
	all := loadNumerologies()
	for i := range all.rows {
		if n := &all.rows[i]; n.SCS == scs && !n.Extended && n.Mu != muSSBOnly {
			return *n, nil
		}
	}
	return Numerology{}, &bands.ValueError{
		Param:   "subcarrier spacing",
		Got:     scs.String(),
		Allowed: "15, 30, 60, 120, 480 or 960 kHz",
		Source:  all.source,
	}
}

// muSSBOnly is the numerology of 240 kHz, for SS/PBCH blocks alone.
const muSSBOnly = 4
