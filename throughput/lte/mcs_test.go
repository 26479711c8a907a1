package lte

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/throughput/internal/printed"
)

// The six tables once more, in short: for each modulation order the indices of
// its rows ("a-b" for a run), then the number of reserved rows. TS 36.213 V19.3.0
// Tables 7.1.7.1-1, -1A, -1B, -1C, 8.6.1-1, 8.6.1-3.
var mcsShort = []struct {
	table        MCSTable
	name         string
	rows         string
	reserved     int
	alternatives string // I_MCS:index
}{
	{PDSCH64QAM, "7.1.7.1-1", "2: 0-9; 4: 9-15; 6: 15-26", 3, "28:26A"},
	{PDSCH256QAM, "7.1.7.1-1A", "2: 0 2 4 6 8; 4: 10-15; 6: 16-24; 8: 25 27-33", 4, "27:33A 27:33B"},
	{PDSCH1024QAM, "7.1.7.1-1B", "2: 0 2 4 6 8; 4: 11 13 15; 6: 16 18 20-24; 8: 25 27-33; 10: 34A 35-37", 5, "22:33A 22:33B 26:37A"},
	{PDSCH6Bit, "7.1.7.1-1C", "2: 0-9; 4: 9-15; 6: 15-25 27-28; 8: 25 27-32 33A 33; 10: 34A 35-36 37A 37; " +
		"2: 0 2; 4: 9 11 13; 6: 15 17 19 21; 8: 25 28 30 32; 10: 34A 36", 5, "38:33B"},
	{PUSCH64QAM, "8.6.1-1", "2: 0-10; 4: 10-19; 6: 19-26", 3, ""},
	{PUSCH256QAM, "8.6.1-3", "2: 0 2 4 6 8 10; 4: 11-14 16-19; 6: 20-25 27-29; 8: 30-32 32A 33-34", 3, ""},
}

func TestMCSTables(t *testing.T) {
	for _, c := range mcsShort {
		rows := c.table.Rows()
		k := 0
		next := func(qm int, index string) {
			if k >= len(rows) {
				t.Fatalf("%s has %d rows only", c.table, len(rows))
			}
			m, err := c.table.MCS(k)
			if err != nil || m.Index != k || m.Qm != qm || m.ITBS.String() != index || m.Reserved() || m.RV != 0 {
				t.Errorf("%s row %d: %+v, %v; want order %d and I_TBS %s", c.table, k, m, err, qm, index)
			}
			if m.Scaled != (c.table == PDSCH6Bit && 44 <= k && k <= 58) {
				t.Errorf("%s row %d: scaled is %t", c.table, k, m.Scaled)
			}
			k++
		}
		for part := range strings.SplitSeq(c.rows, "; ") {
			order, indices, _ := strings.Cut(part, ": ")
			for _, run := range strings.Fields(indices) {
				first, last, isRun := strings.Cut(run, "-")
				if !isRun {
					next(printed.Int(order), run)
					continue
				}
				for i := printed.Int(first); i <= printed.Int(last); i++ {
					next(printed.Int(order), fmt.Sprint(i))
				}
			}
		}
		if len(rows)-k != c.reserved || c.table.Source().Table != c.name || c.table.Source().Spec != "TS 36.213" {
			t.Errorf("%s: %d rows, %d reserved, %s", c.table, len(rows), len(rows)-k, c.table.Source())
		}
		var alternatives []string
		for i, m := range rows {
			for _, a := range m.Alternatives {
				alternatives = append(alternatives, fmt.Sprintf("%d:%s", m.Index, a))
			}
			if i >= k {
				checkReserved(t, c.table, m, i-k)
			}
			if want := secondSlotOrder(c.table, m); m.QmSecondSlot != want {
				t.Errorf("%s row %d: order %d in the second slot, want %d", c.table, i, m.QmSecondSlot, want)
			}
		}
		if got := strings.Join(alternatives, " "); got != c.alternatives {
			t.Errorf("%s: alternatives %s, want %s", c.table, got, c.alternatives)
		}
	}
}

// secondSlotOrder is the modulation order of a PDSCH in the second slot alone, as
// the columns Q'm of TS 36.213 V19.3.0 Tables 7.1.7.1-1 to -1C have it: one step
// up, but not for the lowest indices nor beyond what the table has; the tables of
// 256QAM turn from 16QAM to 256QAM at I_TBS 15.
func secondSlotOrder(table MCSTable, m MCS) int {
	plain := table == PDSCH64QAM || table == PDSCH6Bit
	switch {
	case table.Direction() == bands.Uplink:
		return 0
	case m.Reserved(), m.Qm >= 8, m.Qm == 2 && printed.Int(m.ITBS.String()) < 5, m.Qm == 6 && plain:
		return m.Qm
	case m.Qm == 4 && !plain && m.ITBS.String() == "15":
		return 8
	}
	return m.Qm + 2
}

// Reserved rows count up the modulation orders of the PDSCH, and the redundancy
// versions 1 to 3 of the PUSCH.
func checkReserved(t *testing.T, table MCSTable, m MCS, k int) {
	t.Helper()
	qm, rv := 2*(k+1), 0
	if table.Direction() == bands.Uplink {
		qm, rv = 0, k+1
	}
	if !m.Reserved() || m.Qm != qm || m.RV != rv {
		t.Errorf("%s row %d: %+v is not reserved with order %d and redundancy version %d", table, m.Index, m, qm, rv)
	}
	_, err := table.MCS(m.Index)
	var v *bands.ValueError
	if !errors.As(err, &v) || !strings.Contains(v.Allowed, "reserved for retransmissions") || v.Source != table.Source() {
		t.Errorf("%s row %d: error %v", table, m.Index, err)
	}
}

// TS 36.213 V19.3.0 clauses 7.1.7.1 and 8.6.1: the tables and their names.
func TestMCSTableNames(t *testing.T) {
	for _, c := range []struct {
		dir   bands.Direction
		qm    int
		name  string
		table MCSTable
		order int
	}{
		{bands.Downlink, 2, "64qam", PDSCH64QAM, 6}, {bands.Downlink, 4, "64QAM", PDSCH64QAM, 6},
		{bands.Downlink, 6, "64qam", PDSCH64QAM, 6}, {bands.Downlink, 8, "256qam", PDSCH256QAM, 8},
		{bands.Downlink, 10, "1024qam", PDSCH1024QAM, 10}, {bands.Downlink, 0, "6bit", PDSCH6Bit, 10},
		{bands.Uplink, 6, "64qam", PUSCH64QAM, 6}, {bands.Uplink, 8, "256QAM", PUSCH256QAM, 8},
	} {
		if got, err := ParseMCSTable(c.dir, c.name); err != nil || got != c.table {
			t.Errorf("%s table %s: %s, %v", c.dir, c.name, got, err)
		}
		if c.qm != 0 {
			if got, err := MCSTableFor(c.dir, c.qm); err != nil || got != c.table {
				t.Errorf("%s table of order %d: %s, %v", c.dir, c.qm, got, err)
			}
		}
		if c.table.Order() != c.order || c.table.Direction() != c.dir {
			t.Errorf("%s: order %d, %s", c.table, c.table.Order(), c.table.Direction())
		}
		rest, ok := strings.CutPrefix(c.table.String(), map[bands.Direction]string{bands.Downlink: "PDSCH ", bands.Uplink: "PUSCH "}[c.dir])
		if !ok || !strings.EqualFold(rest, c.name) {
			t.Errorf("%s is the name of %s %s", c.table, c.dir, c.name)
		}
	}
}

func TestMCSErrors(t *testing.T) {
	for index, nearest := range map[int]string{-1: "0", 29: "28", 31: "28", 32: "28", 1000: "28"} {
		_, err := PDSCH64QAM.MCS(index)
		var v *bands.ValueError
		if !errors.As(err, &v) || v.Param != "I_MCS" || v.Nearest != nearest {
			t.Errorf("I_MCS %d: %v", index, err)
		}
	}
	for _, bad := range []MCSTable{0, 7, 255} {
		if _, err := bad.MCS(0); err == nil || bad.Rows() != nil || bad.String() != "none" || bad.Order() != 0 || bad.Direction() != 0 {
			t.Errorf("table %d: %v, %v", bad, err, bad.Rows())
		}
	}
	for _, c := range []struct {
		dir bands.Direction
		s   string
	}{{bands.Uplink, "1024qam"}, {bands.Uplink, "6bit"}, {bands.Downlink, "16qam"}, {bands.Downlink, ""}, {0, "64qam"}} {
		if table, err := ParseMCSTable(c.dir, c.s); err == nil {
			t.Errorf("%s table %q is %s", c.dir, c.s, table)
		}
	}
	for _, c := range []struct {
		dir bands.Direction
		qm  int
	}{{bands.Uplink, 10}, {bands.Downlink, 3}, {bands.Downlink, 0}, {bands.Downlink, 12}, {0, 6}} {
		if table, err := MCSTableFor(c.dir, c.qm); err == nil {
			t.Errorf("%s table of order %d is %s", c.dir, c.qm, table)
		}
	}
}
