package nr

import (
	"strconv"
	"strings"
	"sync"

	"spectally/bands"
	"spectally/data"
	"spectally/throughput/exact"
	"spectally/throughput/internal/printed"
)

// MCSTable names a table of modulation and coding schemes of TS 38.214. The
// zero MCSTable is none.
type MCSTable uint8

// The MCS tables. PUSCH without transform precoding uses the first three.
const (
	MCS64QAM        MCSTable = iota + 1 // Table 5.1.3.1-1
	MCS256QAM                           // Table 5.1.3.1-2
	MCS64QAMLowSE                       // Table 5.1.3.1-3, low spectral efficiency
	MCS1024QAM                          // Table 5.1.3.1-4
	MCS64QAMTP                          // Table 6.1.4.1-1, transform precoding
	MCS64QAMLowSETP                     // Table 6.1.4.1-2, transform precoding
)

var mcsNames = [...]string{
	MCS64QAM:        "64qam",
	MCS256QAM:       "256qam",
	MCS64QAMLowSE:   "64qam-lowse",
	MCS1024QAM:      "1024qam",
	MCS64QAMTP:      "64qam-tp",
	MCS64QAMLowSETP: "64qam-lowse-tp",
}

// MCS is a row of an MCS table: a modulation order and a target code rate.
type MCS struct {
	Table MCSTable
	Index int // I_MCS
	Qm    int // modulation order: bits of a modulation symbol
	// Rate2048 is the target code rate R times 2048, so that the half steps of
	// the tables (682.5/1024) are whole; 0 in a reserved row.
	Rate2048 int
	// Efficiency is the spectral efficiency as printed, times 10000.
	Efficiency int
}

// Reserved tells whether the row is one for retransmissions, which keep the size
// of the block they repeat.
func (m MCS) Reserved() bool { return m.Rate2048 == 0 }

// Rate is the target code rate.
func (m MCS) Rate() exact.Ratio { return exact.Of(int64(m.Rate2048), 2048).Reduced() }

// BitsPerSymbol is the exact spectral efficiency Qm * R in bits for each
// resource element and layer.
func (m MCS) BitsPerSymbol() exact.Ratio {
	return exact.Of(int64(m.Qm*m.Rate2048), 2048).Reduced()
}

// mcsRows is one table twice: as it stands where tp-pi2BPSK is not configured
// (q = 2) and where it is (q = 1). The two differ in the transform precoding
// tables alone.
type mcsRows struct {
	rows   [2][]MCS
	cqi    []CQI
	source bands.Source
}

var mcsTables = data.Lazy("nr_mcs")

var loadMCS = sync.OnceValue(func() *[len(mcsNames)]mcsRows {
	all := new([len(mcsNames)]mcsRows)
	for t := MCS64QAM; t <= MCS64QAMLowSETP; t++ {
		rows := &all[t]
		table := data.Find(mcsTables(), mcsNames[t])
		rows.source = table.Source
		withQ := table.Columns[1] == "q"
		for _, row := range table.Rows {
			q := ""
			if withQ {
				q, row = row[1], append(data.Row{row[0]}, row[2:]...)
			}
			m := MCS{
				Table:      t,
				Index:      printed.Int(row[0]),
				Qm:         printed.Int(row[1]),
				Rate2048:   rate2048(row[2]),
				Efficiency: efficiency(row[3]),
			}
			if q != "1" {
				rows.rows[0] = append(rows.rows[0], m)
			}
			if q != "2" {
				rows.rows[1] = append(rows.rows[1], m)
			}
		}
		if t <= MCS1024QAM {
			rows.cqi = loadCQI(t)
		}
	}
	return all
})

// rate2048 reads a target code rate of a table, printed as 1024 times the
// rate.
func rate2048(s string) int {
	if s == "" {
		return 0
	}
	r := printed.Ratio(s).Mul(exact.Whole(2))
	if r.Den != 1 {
		panic("throughput: code rate " + s + " is not a multiple of 1/2048")
	}
	return int(r.Num)
}

// efficiency reads a spectral efficiency, printed to four decimals.
func efficiency(s string) int {
	if s == "" {
		return 0
	}
	return int(printed.Ratio(s).Mul(exact.Whole(10000)).Round())
}

// ParseMCSTable reads the name of an MCS table: 64qam, 256qam, 64qam-lowse,
// 1024qam, 64qam-tp or 64qam-lowse-tp; letter case does not matter.
func ParseMCSTable(s string) (MCSTable, error) {
	for t := MCS64QAM; t <= MCS64QAMLowSETP; t++ {
		if strings.EqualFold(strings.TrimSpace(s), mcsNames[t]) {
			return t, nil
		}
	}
	return 0, &bands.ValueError{
		Param:   "MCS table",
		Got:     s,
		Allowed: strings.Join(mcsNames[1:], ", "),
		Source:  bands.Source{Spec: "TS 38.214", Table: "clauses 5.1.3.1 and 6.1.4.1"},
	}
}

// MCSTableFor is the table that reaches a modulation order without transform
// precoding: 64qam up to 64QAM, 256qam, 1024qam (downlink alone). For pi/2-BPSK,
// which needs transform precoding, it is 64qam-tp (uplink alone).
func MCSTableFor(d bands.Direction, qm int) (MCSTable, error) {
	switch {
	case qm == 1 && d == bands.Uplink:
		return MCS64QAMTP, nil
	case qm == 2 || qm == 4 || qm == 6:
		return MCS64QAM, nil
	case qm == 8:
		return MCS256QAM, nil
	case qm == 10 && d == bands.Downlink:
		return MCS1024QAM, nil
	}
	allowed := "2, 4, 6, 8 or 10"
	if d == bands.Uplink {
		allowed = "1, 2, 4, 6 or 8"
	}
	return 0, &bands.ValueError{
		Param:   d.String() + " modulation order",
		Got:     strconv.Itoa(qm),
		Allowed: allowed,
		Source:  bands.Source{Spec: "TS 38.214", Table: "clauses 5.1.3.1 and 6.1.4.1"},
	}
}

func (t MCSTable) valid() bool { return MCS64QAM <= t && t <= MCS64QAMLowSETP }

// String is the name of the table; the empty string for none.
func (t MCSTable) String() string {
	if !t.valid() {
		return ""
	}
	return mcsNames[t]
}

// Source is where the table stands.
func (t MCSTable) Source() bands.Source {
	if !t.valid() {
		return bands.Source{}
	}
	return loadMCS()[t].source
}

// TransformPrecoding tells whether the table is one for PUSCH with transform
// precoding.
func (t MCSTable) TransformPrecoding() bool { return t == MCS64QAMTP || t == MCS64QAMLowSETP }

// Rows lists the rows of the table, reserved ones included. pi2BPSK takes those
// that hold where tp-pi2BPSK is configured (q = 1). The rows are the caller's.
func (t MCSTable) Rows(pi2BPSK bool) []MCS {
	if !t.valid() {
		return nil
	}
	return append([]MCS(nil), loadMCS()[t].rows[oneIf(pi2BPSK)]...)
}

// MCS finds a row by its index I_MCS. A reserved index is an error: it has no
// code rate of its own. pi2BPSK is as in [MCSTable.Rows].
func (t MCSTable) MCS(index int, pi2BPSK bool) (MCS, error) {
	if !t.valid() {
		return MCS{}, &bands.ValueError{Param: "MCS table", Got: "none", Allowed: strings.Join(mcsNames[1:], ", ")}
	}
	table := &loadMCS()[t]
	rows := table.rows[oneIf(pi2BPSK)]
	if index >= 0 && index < len(rows) && !rows[index].Reserved() {
		return rows[index], nil
	}
	last := len(rows) - 1
	for rows[last].Reserved() {
		last--
	}
	allowed := "0 to " + strconv.Itoa(last)
	if index > last && index < len(rows) {
		allowed += " (higher ones are reserved for retransmissions)"
	}
	return MCS{}, &bands.ValueError{
		Param:   "MCS index of table " + t.String(),
		Got:     strconv.Itoa(index),
		Allowed: allowed,
		Nearest: strconv.Itoa(min(max(index, 0), last)),
		Source:  table.source,
	}
}

// Highest is the row with the highest efficiency of a modulation order. For
// order 1 it is the highest pi/2-BPSK row.
func (t MCSTable) Highest(qm int) (MCS, error) {
	var best MCS
	if t.valid() {
		for _, m := range loadMCS()[t].rows[oneIf(qm == 1)] {
			if m.Qm == qm && m.Rate2048 > best.Rate2048 {
				best = m
			}
		}
	}
	if best.Qm == 0 {
		return best, &bands.ValueError{
			Param:   "modulation order in MCS table " + t.String(),
			Got:     strconv.Itoa(qm),
			Allowed: "an order of the table",
			Source:  t.Source(),
		}
	}
	return best, nil
}

// Within is the row with the highest efficiency Qm * R that is not above the one
// given (bits for each resource element and layer); false if even the lowest row
// is above it.
func (t MCSTable) Within(efficiency float64) (MCS, bool) {
	var best MCS
	if t.valid() {
		limit := efficiency * 2048
		for _, m := range loadMCS()[t].rows[0] {
			if e := m.Qm * m.Rate2048; float64(e) <= limit && e > best.Qm*best.Rate2048 {
				best = m
			}
		}
	}
	return best, best.Qm != 0
}
