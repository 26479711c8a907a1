package lte

import (
	"strconv"
	"sync"

	"spectally/bands"
	"spectally/data"
	"spectally/throughput/internal/printed"
)

// CQITable names one of the tables of channel quality indicators of TS
// 36.213. The zero value is none.
type CQITable uint8

// The tables of TS 36.213 clause 7.2.3.
const (
	CQI64QAM        CQITable = iota + 1 // Table 7.2.3-1, the default
	CQI256QAM                           // Table 7.2.3-2
	CQICE                               // Table 7.2.3-3, coverage enhancement
	CQI1024QAM                          // Table 7.2.3-4
	CQICE64QAM                          // Table 7.2.3-5, coverage enhancement
	CQICERepetition                     // Table 7.2.3-6, coverage enhancement with repetition
)

var cqiNames = [...]string{
	CQI64QAM: "64qam", CQI256QAM: "256qam", CQICE: "ce", CQI1024QAM: "1024qam",
	CQICE64QAM: "ce-64qam", CQICERepetition: "ce-repetition",
}

// CQI is a row of a CQI table. Index 0 means out of range and has no
// modulation order; nor has a reserved index.
type CQI struct {
	Index      int
	Qm         int    // modulation order; 0: out of range, or reserved
	CodeRate   int    // in 1/1024
	Printed    string // efficiency as the table prints it; empty where it prints none
	Repetition int    // subframes over which the block is repeated; 0 where the table has none
}

// Efficiency is Qm times the code rate, in information bits a resource element.
func (q CQI) Efficiency() float64 { return float64(q.Qm*q.CodeRate) / 1024 }

type cqiTables struct {
	rows   [len(cqiNames)][]CQI
	source [len(cqiNames)]data.Source
}

var (
	cqiFile = data.Lazy("lte_cqi")
	cqi     = sync.OnceValue(loadCQI)
)

func loadCQI() *cqiTables {
	tables := new(cqiTables)
	for i := CQI64QAM; i.valid(); i++ {
		t := data.Find(cqiFile(), cqiNames[i])
		tables.source[i] = t.Source
		for _, row := range t.Rows {
			q := CQI{Index: printed.Int(row[0]), Printed: row[3]}
			for field, value := range map[*int]string{&q.Qm: row[1], &q.CodeRate: row[2], &q.Repetition: row[4]} {
				if value != "" {
					*field = printed.Int(value)
				}
			}
			tables.rows[i] = append(tables.rows[i], q)
		}
	}
	return tables
}

func (t CQITable) valid() bool { return 1 <= t && int(t) < len(cqiNames) }

// String names the table by its modulation or use: "256qam", "ce".
func (t CQITable) String() string {
	if !t.valid() {
		return "none"
	}
	return cqiNames[t]
}

// Source says where the table stands.
func (t CQITable) Source() data.Source {
	if !t.valid() {
		return data.Source{}
	}
	return cqi().source[t]
}

// Rows lists the rows of the table in order of index, out of range and reserved
// ones too. The rows are shared: don't change them.
func (t CQITable) Rows() []CQI {
	if !t.valid() {
		return nil
	}
	return cqi().rows[t]
}

// CQI is the row of an index, 1 to 15. An index that the table does not have or
// reserves, and 0, are a [*bands.ValueError].
func (t CQITable) CQI(index int) (CQI, error) {
	rows := t.Rows()
	if len(rows) == 0 {
		return CQI{}, &bands.ValueError{Param: "LTE CQI table", Got: t.String(), Allowed: "a table of TS 36.213 clause 7.2.3"}
	}
	last := len(rows) - 1
	for rows[last].Qm == 0 {
		last--
	}
	if index < 1 || index > last {
		return CQI{}, rangeError("CQI", index, 1, last, t.Source())
	}
	return rows[index], nil
}

// Highest is the row of greatest efficiency that is at most the given number of
// bits a resource element; false if even the lowest is above it, which is CQI 0.
// A repeated block counts as if it were sent once.
func (t CQITable) Highest(efficiency float64) (CQI, bool) {
	var best CQI
	for _, q := range t.Rows() {
		if q.Qm != 0 && q.Efficiency() <= efficiency && q.Efficiency() >= best.Efficiency() {
			best = q
		}
	}
	return best, best.Qm != 0
}

// CQITableFor is the table that a modulation order calls for in the downlink:
// the default one up to 64QAM, those of 256QAM and 1024QAM above.
func CQITableFor(qm int) (CQITable, error) {
	switch qm {
	case 2, 4, 6:
		return CQI64QAM, nil
	case 8:
		return CQI256QAM, nil
	case 10:
		return CQI1024QAM, nil
	}
	return 0, &bands.ValueError{
		Param: "LTE downlink modulation order", Got: strconv.Itoa(qm),
		Allowed: "2 (QPSK), 4 (16QAM), 6 (64QAM), 8 (256QAM), 10 (1024QAM)",
		Source:  data.Source{Spec: "TS 36.213", Version: "19.3.0", Table: "clause 7.2.3"},
	}
}
