package lte

import (
	"strconv"
	"strings"
	"sync"

	"spectally/bands"
	"spectally/data"
	"spectally/throughput/internal/printed"
)

// MCSTable names one of the tables that turn an MCS index I_MCS into a
// modulation order and a transport block size index. The zero value is none.
type MCSTable uint8

// The tables of TS 36.213.
const (
	PDSCH64QAM   MCSTable = iota + 1 // Table 7.1.7.1-1, the default
	PDSCH256QAM                      // Table 7.1.7.1-1A, altCQI-Table-r12
	PDSCH1024QAM                     // Table 7.1.7.1-1B, altCQI-Table-1024QAM-r15
	PDSCH6Bit                        // Table 7.1.7.1-1C, altMCS-Table: a field of six bits
	PUSCH64QAM                       // Table 8.6.1-1, the default
	PUSCH256QAM                      // Table 8.6.1-3
)

var mcsNames = [...]struct {
	id, channel, name string
	order             int // highest modulation order
}{
	PDSCH64QAM:   {"pdsch-64qam", "PDSCH", "64qam", 6},
	PDSCH256QAM:  {"pdsch-256qam", "PDSCH", "256qam", 8},
	PDSCH1024QAM: {"pdsch-1024qam", "PDSCH", "1024qam", 10},
	PDSCH6Bit:    {"pdsch-6bit", "PDSCH", "6bit", 10},
	PUSCH64QAM:   {"pusch-64qam", "PUSCH", "64qam", 6},
	PUSCH256QAM:  {"pusch-256qam", "PUSCH", "256qam", 8},
}

// MCS is a row of an MCS table.
type MCS struct {
	Index        int    // I_MCS
	Qm           int    // modulation order; 0 where the row gives none
	QmSecondSlot int    // replaces Qm where the PDSCH has the second slot alone (licensed-assisted access); 0 in the uplink
	ITBS         ITBS   // none in a reserved row
	Alternatives []ITBS // may replace ITBS by configuration (tbsIndexAlt, tbsIndexAlt2, tbsIndexAlt3)
	RV           int    // redundancy version, PUSCH only
	Scaled       bool   // the number of blocks is scaled by altMCS-Table-scaling
}

// Reserved reports whether the row is for retransmissions and gives no size.
func (m *MCS) Reserved() bool { return m.ITBS == 0 }

type mcsTables struct {
	rows   [len(mcsNames)][]MCS
	source [len(mcsNames)]data.Source
}

var (
	mcsFile = data.Lazy("lte_mcs")
	mcs     = sync.OnceValue(loadMCS)
)

func loadMCS() *mcsTables {
	tables := new(mcsTables)
	for i := PDSCH64QAM; i.valid(); i++ {
		t := data.Find(mcsFile(), mcsNames[i].id)
		tables.source[i] = t.Source
		for _, row := range t.Rows {
			tables.rows[i] = append(tables.rows[i], mcsRow(i, row))
		}
	}
	return tables
}

// scaledMCS is the first of the rows of the six-bit table that scale the
// number of blocks (TS 36.213 clause 7.1.7).
const scaledMCS = 44

func mcsRow(t MCSTable, row data.Row) MCS {
	m := MCS{Index: printed.Int(row[0])}
	if row[1] != "" {
		m.Qm = printed.Int(row[1])
	}
	index := row[2]
	if t.Direction() == bands.Uplink {
		m.RV = printed.Int(row[3])
	} else {
		m.QmSecondSlot, index = printed.Int(row[2]), row[3]
		if row[4] != "" {
			for name := range strings.SplitSeq(row[4], "|") {
				m.Alternatives = append(m.Alternatives, readITBS(name))
			}
		}
	}
	if index != "" {
		m.ITBS = readITBS(index)
	}
	m.Scaled = t == PDSCH6Bit && m.Index >= scaledMCS && !m.Reserved()
	return m
}

// readITBS reads an index of an embedded table.
func readITBS(s string) ITBS {
	i, err := ParseITBS(s)
	if err != nil {
		panic("throughput: table of LTE: " + err.Error())
	}
	return i
}

// ParseMCSTable reads the name of a table: 64qam, 256qam or 1024qam (downlink
// only), or 6bit for the table of the six-bit field. Letter case does not
// matter.
func ParseMCSTable(dir bands.Direction, s string) (MCSTable, error) {
	var have []string
	for t := PDSCH64QAM; t.valid(); t++ {
		if t.Direction() != dir {
			continue
		}
		if strings.EqualFold(s, mcsNames[t].name) {
			return t, nil
		}
		have = append(have, mcsNames[t].name)
	}
	return 0, &bands.ValueError{
		Param: "LTE " + dir.String() + " MCS table", Got: s, Allowed: strings.Join(have, ", "),
		Source: data.Source{Spec: "TS 36.213", Version: "19.3.0", Table: "clauses 7.1.7.1 and 8.6.1"},
	}
}

// MCSTableFor is the table that a modulation order calls for: the default one
// up to 64QAM, those of 256QAM and 1024QAM above.
func MCSTableFor(dir bands.Direction, qm int) (MCSTable, error) {
	switch {
	case dir == bands.Downlink && (qm == 2 || qm == 4 || qm == 6):
		return PDSCH64QAM, nil
	case dir == bands.Downlink && qm == 8:
		return PDSCH256QAM, nil
	case dir == bands.Downlink && qm == 10:
		return PDSCH1024QAM, nil
	case dir == bands.Uplink && (qm == 2 || qm == 4 || qm == 6):
		return PUSCH64QAM, nil
	case dir == bands.Uplink && qm == 8:
		return PUSCH256QAM, nil
	}
	allowed := "2 (QPSK), 4 (16QAM), 6 (64QAM), 8 (256QAM)"
	if dir != bands.Uplink {
		allowed += ", 10 (1024QAM)"
	}
	return 0, &bands.ValueError{
		Param: "LTE " + dir.String() + " modulation order", Got: strconv.Itoa(qm), Allowed: allowed,
		Source: data.Source{Spec: "TS 36.213", Version: "19.3.0", Table: "clauses 7.1.7.1 and 8.6.1"},
	}
}

func (t MCSTable) valid() bool { return 1 <= t && int(t) < len(mcsNames) }

// Direction is the direction that the table is for.
func (t MCSTable) Direction() bands.Direction {
	switch {
	case !t.valid():
		return 0
	case mcsNames[t].channel == "PUSCH":
		return bands.Uplink
	}
	return bands.Downlink
}

// Order is the highest modulation order of the table.
func (t MCSTable) Order() int {
	if !t.valid() {
		return 0
	}
	return mcsNames[t].order
}

// String names the table by channel and modulation: "PDSCH 256qam".
func (t MCSTable) String() string {
	if !t.valid() {
		return "none"
	}
	return mcsNames[t].channel + " " + mcsNames[t].name
}

// Source says where the table stands.
func (t MCSTable) Source() data.Source {
	if !t.valid() {
		return data.Source{}
	}
	return mcs().source[t]
}

// Rows lists the rows of the table in order of index, the reserved ones too.
// The rows are shared: don't change them.
func (t MCSTable) Rows() []MCS {
	if !t.valid() {
		return nil
	}
	return mcs().rows[t]
}

// MCS is the row of an index that schedules a new transport block. An index
// that the table does not have, or reserves for retransmissions, is a
// [*bands.ValueError].
func (t MCSTable) MCS(index int) (MCS, error) {
	rows := t.Rows()
	if len(rows) == 0 {
		return MCS{}, &bands.ValueError{Param: "LTE MCS table", Got: t.String(), Allowed: "a table of TS 36.213"}
	}
	last := len(rows) - 1
	for rows[last].Reserved() {
		last--
	}
	if index < 0 || index > last {
		err := &bands.ValueError{
			Param: "I_MCS", Got: strconv.Itoa(index), Allowed: "0 to " + strconv.Itoa(last),
			Nearest: strconv.Itoa(min(max(index, 0), last)), Source: t.Source(),
		}
		if 0 <= index && index < len(rows) {
			err.Allowed += "; " + strconv.Itoa(last+1) + " to " + strconv.Itoa(len(rows)-1) + " are reserved for retransmissions"
		}
		return MCS{}, err
	}
	return rows[index], nil
}
