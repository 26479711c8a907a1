package throughput

import (
	"sync"

	"spectally/bands"
	"spectally/data"
)

// NRNumerology is a row of the numerology tables of TS 38.211.
type NRNumerology struct {
	Mu               int // the subcarrier spacing is 15 kHz times 2^Mu
	SCS              bands.Frequency
	Extended         bool // extended cyclic prefix
	SymbolsPerSlot   int
	SlotsPerFrame    int // a frame is 10 ms
	SlotsPerSubframe int // a subframe is 1 ms
}

// nrSymbols is the number of symbols in a slot with normal cyclic prefix
// (TS 38.211 Table 4.3.2-1).
const nrSymbols = 14

// nrMaxBlocks is the most resource blocks a carrier can have (TS 38.211 clause
// 4.4.2).
const nrMaxBlocks = 275

var nrNumerologyTables = data.Lazy("nr_numerology")

type nrNumerologies struct {
	rows   []NRNumerology
	source bands.Source
}

var loadNRNumerologies = sync.OnceValue(func() nrNumerologies {
	t := data.Find(nrNumerologyTables(), "numerology")
	n := nrNumerologies{source: t.Source}
	for _, row := range t.Rows {
		n.rows = append(n.rows, NRNumerology{
			Mu:               tableInt(row[0]),
			SCS:              bands.Frequency(tableInt(row[1])) * bands.KHz,
			Extended:         row[2] == "extended",
			SymbolsPerSlot:   tableInt(row[3]),
			SlotsPerFrame:    tableInt(row[4]),
			SlotsPerSubframe: tableInt(row[5]),
		})
	}
	return n
})

// NRNumerologies lists the numerologies of TS 38.211 Tables 4.3.2-1 and
// 4.3.2-2. The rows are the caller's.
func NRNumerologies() []NRNumerology {
	return append([]NRNumerology(nil), loadNRNumerologies().rows...)
}

// NRNumerologyOf finds the numerology with normal cyclic prefix that carries
// data at a subcarrier spacing: 15, 30, 60, 120, 480 or 960 kHz.
func NRNumerologyOf(scs bands.Frequency) (NRNumerology, error) {
	all := loadNRNumerologies()
	for i := range all.rows {
		if n := &all.rows[i]; n.SCS == scs && !n.Extended && n.Mu != muSSBOnly {
			return *n, nil
		}
	}
	return NRNumerology{}, &bands.ValueError{
		Param:   "subcarrier spacing",
		Got:     scs.String(),
		Allowed: "15, 30, 60, 120, 480 or 960 kHz",
		Source:  all.source,
	}
}

// muSSBOnly is the numerology of 240 kHz, for SS/PBCH blocks alone.
const muSSBOnly = 4
