package throughput

import (
	"strconv"
	"strings"
	"sync"

	"spectally/bands"
	"spectally/data"
)

// NRMCSTable names a table of modulation and coding schemes of TS 38.214. The
// zero NRMCSTable is none.
type NRMCSTable uint8

// The MCS tables. PUSCH without transform precoding uses the first three.
const (
	NRMCS64QAM        NRMCSTable = iota + 1 // Table 5.1.3.1-1
	NRMCS256QAM                             // Table 5.1.3.1-2
	NRMCS64QAMLowSE                         // Table 5.1.3.1-3, low spectral efficiency
	NRMCS1024QAM                            // Table 5.1.3.1-4
	NRMCS64QAMTP                            // Table 6.1.4.1-1, transform precoding
	NRMCS64QAMLowSETP                       // Table 6.1.4.1-2, transform precoding
)

var nrMCSNames = [...]string{
	NRMCS64QAM:        "64qam",
	NRMCS256QAM:       "256qam",
	NRMCS64QAMLowSE:   "64qam-lowse",
	NRMCS1024QAM:      "1024qam",
	NRMCS64QAMTP:      "64qam-tp",
	NRMCS64QAMLowSETP: "64qam-lowse-tp",
}

// NRMCS is a row of an MCS table: a modulation order and a target code rate.
type NRMCS struct {
	Table NRMCSTable
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
func (m NRMCS) Reserved() bool { return m.Rate2048 == 0 }

// Rate is the target code rate.
func (m NRMCS) Rate() Ratio { return Ratio{int64(m.Rate2048), 2048}.Reduced() }

// BitsPerSymbol is the exact spectral efficiency Qm * R in bits for each
// resource element and layer.
func (m NRMCS) BitsPerSymbol() Ratio {
	return Ratio{int64(m.Qm * m.Rate2048), 2048}.Reduced()
}

// nrMCSRows is one table twice: as it stands where tp-pi2BPSK is not configured
// (q = 2) and where it is (q = 1). The two differ in the transform precoding
// tables alone.
type nrMCSRows struct {
	rows   [2][]NRMCS
	cqi    []NRCQI
	source bands.Source
}

var nrMCSTables = data.Lazy("nr_mcs")

var loadNRMCS = sync.OnceValue(func() *[len(nrMCSNames)]nrMCSRows {
	all := new([len(nrMCSNames)]nrMCSRows)
	for t := NRMCS64QAM; t <= NRMCS64QAMLowSETP; t++ {
		rows := &all[t]
		table := data.Find(nrMCSTables(), nrMCSNames[t])
		rows.source = table.Source
		withQ := table.Columns[1] == "q"
		for _, row := range table.Rows {
			q := ""
			if withQ {
				q, row = row[1], append(data.Row{row[0]}, row[2:]...)
			}
			m := NRMCS{
				Table:      t,
				Index:      tableInt(row[0]),
				Qm:         tableInt(row[1]),
				Rate2048:   nrRate2048(row[2]),
				Efficiency: nrEfficiency(row[3]),
			}
			if q != "1" {
				rows.rows[0] = append(rows.rows[0], m)
			}
			if q != "2" {
				rows.rows[1] = append(rows.rows[1], m)
			}
		}
		if t <= NRMCS1024QAM {
			rows.cqi = loadNRCQI(t)
		}
	}
	return all
})

// nrRate2048 reads a target code rate of a table, printed as 1024 times the
// rate.
func nrRate2048(s string) int {
	if s == "" {
		return 0
	}
	r := tableRatio(s).Mul(Ratio{2, 1})
	if r.Den != 1 {
		panic("throughput: code rate " + s + " is not a multiple of 1/2048")
	}
	return int(r.Num)
}

// nrEfficiency reads a spectral efficiency, printed to four decimals.
func nrEfficiency(s string) int {
	if s == "" {
		return 0
	}
	return int(tableRatio(s).Mul(Ratio{10000, 1}).Round())
}

// ParseNRMCSTable reads the name of an MCS table: 64qam, 256qam, 64qam-lowse,
// 1024qam, 64qam-tp or 64qam-lowse-tp; letter case does not matter.
func ParseNRMCSTable(s string) (NRMCSTable, error) {
	for t := NRMCS64QAM; t <= NRMCS64QAMLowSETP; t++ {
		if strings.EqualFold(strings.TrimSpace(s), nrMCSNames[t]) {
			return t, nil
		}
	}
	return 0, &bands.ValueError{
		Param:   "MCS table",
		Got:     s,
		Allowed: strings.Join(nrMCSNames[1:], ", "),
		Source:  bands.Source{Spec: "TS 38.214", Table: "clauses 5.1.3.1 and 6.1.4.1"},
	}
}

// NRMCSTableFor is the table that reaches a modulation order without transform
// precoding: 64qam up to 64QAM, 256qam, 1024qam (downlink alone). For pi/2-BPSK,
// which needs transform precoding, it is 64qam-tp (uplink alone).
func NRMCSTableFor(d bands.Direction, qm int) (NRMCSTable, error) {
	switch {
	case qm == 1 && d == bands.Uplink:
		return NRMCS64QAMTP, nil
	case qm == 2 || qm == 4 || qm == 6:
		return NRMCS64QAM, nil
	case qm == 8:
		return NRMCS256QAM, nil
	case qm == 10 && d == bands.Downlink:
		return NRMCS1024QAM, nil
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

func (t NRMCSTable) valid() bool { return NRMCS64QAM <= t && t <= NRMCS64QAMLowSETP }

// String is the name of the table; the empty string for none.
func (t NRMCSTable) String() string {
	if !t.valid() {
		return ""
	}
	return nrMCSNames[t]
}

// Source is where the table stands.
func (t NRMCSTable) Source() bands.Source {
	if !t.valid() {
		return bands.Source{}
	}
	return loadNRMCS()[t].source
}

// TransformPrecoding tells whether the table is one for PUSCH with transform
// precoding.
func (t NRMCSTable) TransformPrecoding() bool { return t == NRMCS64QAMTP || t == NRMCS64QAMLowSETP }

// Rows lists the rows of the table, reserved ones included. pi2BPSK takes those
// that hold where tp-pi2BPSK is configured (q = 1). The rows are the caller's.
func (t NRMCSTable) Rows(pi2BPSK bool) []NRMCS {
	if !t.valid() {
		return nil
	}
	return append([]NRMCS(nil), loadNRMCS()[t].rows[oneIf(pi2BPSK)]...)
}

// MCS finds a row by its index I_MCS. A reserved index is an error: it has no
// code rate of its own. pi2BPSK is as in [NRMCSTable.Rows].
func (t NRMCSTable) MCS(index int, pi2BPSK bool) (NRMCS, error) {
	if !t.valid() {
		return NRMCS{}, &bands.ValueError{Param: "MCS table", Got: "none", Allowed: strings.Join(nrMCSNames[1:], ", ")}
	}
	table := &loadNRMCS()[t]
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
	return NRMCS{}, &bands.ValueError{
		Param:   "MCS index of table " + t.String(),
		Got:     strconv.Itoa(index),
		Allowed: allowed,
		Nearest: strconv.Itoa(min(max(index, 0), last)),
		Source:  table.source,
	}
}

// Highest is the row with the highest efficiency of a modulation order. For
// order 1 it is the highest pi/2-BPSK row.
func (t NRMCSTable) Highest(qm int) (NRMCS, error) {
	var best NRMCS
	if t.valid() {
		for _, m := range loadNRMCS()[t].rows[oneIf(qm == 1)] {
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
func (t NRMCSTable) Within(efficiency float64) (NRMCS, bool) {
	var best NRMCS
	if t.valid() {
		limit := efficiency * 2048
		for _, m := range loadNRMCS()[t].rows[0] {
			if e := m.Qm * m.Rate2048; float64(e) <= limit && e > best.Qm*best.Rate2048 {
				best = m
			}
		}
	}
	return best, best.Qm != 0
}
