package nr

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"testing"

	"spectally/bands"
)

// TestMCSTables checks what holds for every row of TS 38.214 V19.3.0 Tables
// 5.1.3.1-1 to -4, 6.1.4.1-1 and -2: the printed efficiency is Qm * R to four
// decimals, indices rise, reserved rows stand last.
func TestMCSTables(t *testing.T) {
	last := map[MCSTable]int{MCS64QAM: 28, MCS256QAM: 27, MCS64QAMLowSE: 28, MCS1024QAM: 26, MCS64QAMTP: 27, MCS64QAMLowSETP: 27}
	for table := MCS64QAM; table <= MCS64QAMLowSETP; table++ {
		if got, err := ParseMCSTable(table.String()); got != table || err != nil {
			t.Errorf("%v is read as %v, %v", table, got, err)
		}
		for _, pi2 := range []bool{false, true} {
			rows := table.Rows(pi2)
			if len(rows) != 32 {
				t.Fatalf("%s: %d rows", table, len(rows))
			}
			for i, m := range rows {
				// The two printed efficiencies that are not rounded to the nearest are
				// exact halves, which the table rounds up.
				exact := float64(m.Qm*m.Rate2048) / 2048 * 10000
				if m.Index != i || m.Table != table || math.Abs(exact-float64(m.Efficiency)) > 0.5 {
					t.Errorf("%s row %d: %+v, Qm * R = %.1f", table, i, m, exact)
				}
				if m.Reserved() != (i > last[table]) {
					t.Errorf("%s row %d: %+v", table, i, m)
				}
				got, err := table.MCS(i, pi2)
				if m.Reserved() != (err != nil) || err == nil && got != m {
					t.Errorf("%s.MCS(%d) = %+v, %v", table, i, got, err)
				}
				low := i <= map[MCSTable]int{MCS64QAMTP: 1, MCS64QAMLowSETP: 5}[table] || m.Reserved() && i == 28
				if want := pi2 && table.TransformPrecoding() && low; want != (m.Qm == 1) {
					t.Errorf("%s row %d with tp-pi2BPSK %v: %+v", table, i, pi2, m)
				}
			}
		}
		for _, index := range []int{-1, 32, last[table] + 1} {
			_, err := table.MCS(index, false)
			var e *bands.ValueError
			if !errors.As(err, &e) || e.Got != strconv.Itoa(index) {
				t.Errorf("%s.MCS(%d): %v", table, index, err)
			}
		}
	}
}

// TestMCSWithin checks [MCSTable.Within] at each efficiency and just below it
// against all rows.
func TestMCSWithin(t *testing.T) {
	for table := MCS64QAM; table <= MCS64QAMLowSETP; table++ {
		for _, m := range table.Rows(false) {
			if m.Reserved() {
				continue
			}
			e := m.BitsPerSymbol().Float()
			for _, limit := range []float64{e, math.Nextafter(e, 0)} {
				got, ok := table.Within(limit)
				found := false
				for _, other := range table.Rows(false) {
					o := other.BitsPerSymbol().Float()
					if !other.Reserved() && o <= limit {
						found = true
						if o > got.BitsPerSymbol().Float() {
							t.Errorf("%s within %v: %+v, but %+v fits too", table, limit, got, other)
						}
					}
				}
				if ok != found || ok && got.BitsPerSymbol().Float() > limit {
					t.Errorf("%s within %v: %+v, %v", table, limit, got, ok)
				}
			}
		}
		if _, ok := table.Within(math.NaN()); ok {
			t.Errorf("%s within no number", table)
		}
	}
}

func TestMCSHighest(t *testing.T) {
	for _, c := range []struct {
		d     bands.Direction
		qm    int
		table MCSTable
		index int
	}{ // TS 38.214 V19.3.0 Tables 5.1.3.1-1, -2, -4, 6.1.4.1-1
		{bands.Downlink, 2, MCS64QAM, 9}, {bands.Downlink, 4, MCS64QAM, 16}, {bands.Downlink, 6, MCS64QAM, 28},
		{bands.Downlink, 8, MCS256QAM, 27}, {bands.Downlink, 10, MCS1024QAM, 26},
		{bands.Uplink, 1, MCS64QAMTP, 1}, {bands.Uplink, 8, MCS256QAM, 27},
	} {
		table, err := MCSTableFor(c.d, c.qm)
		if err != nil || table != c.table {
			t.Errorf("%s Qm %d: table %s, %v", c.d, c.qm, table, err)
			continue
		}
		if m, err := table.Highest(c.qm); err != nil || m.Index != c.index || m.Qm != c.qm {
			t.Errorf("%s Qm %d: %+v, %v; want index %d", c.d, c.qm, m, err, c.index)
		}
	}
	for _, c := range []struct {
		d  bands.Direction
		qm int
	}{{bands.Downlink, 1}, {bands.Uplink, 10}, {bands.Downlink, 7}, {bands.Uplink, 0}} {
		if table, err := MCSTableFor(c.d, c.qm); err == nil {
			t.Errorf("%s Qm %d: table %s", c.d, c.qm, table)
		}
	}
	if _, err := MCS64QAM.Highest(8); err == nil {
		t.Error("256QAM in the 64QAM table")
	}
}

// TestCQITables checks TS 38.214 V19.3.0 Tables 5.2.2.1-2 to -5: 16 rows that
// rise, the first out of range, the printed efficiency Qm * R to four decimals.
func TestCQITables(t *testing.T) {
	for table := MCS64QAM; table <= MCS1024QAM; table++ {
		rows := table.CQIRows()
		if len(rows) != 16 || rows[0].Qm != 0 || table.CQISource().Table == "" {
			t.Fatalf("%s: %+v", table, rows)
		}
		for i, c := range rows {
			exact := float64(c.Qm*c.Rate2048) / 2048 * 10000
			if c.Index != i || c.Table != table || math.Abs(exact-float64(c.Efficiency)) > 0.5 || i > 0 && c.Efficiency <= rows[i-1].Efficiency {
				t.Errorf("%s CQI %d: %+v, Qm * R = %.1f", table, i, c, exact)
			}
			e := c.BitsPerSymbol().Float()
			if got := table.CQIWithin(e); got != c {
				t.Errorf("%s within %v: %+v, want CQI %d", table, e, got, i)
			}
			if got := table.CQIWithin(math.Nextafter(e, -1)); i > 0 && got != rows[i-1] {
				t.Errorf("%s below %v: %+v, want CQI %d", table, e, got, i-1)
			}
		}
		for _, index := range []int{-1, 16} {
			if _, err := table.CQI(index); err == nil {
				t.Errorf("%s has CQI %d", table, index)
			}
		}
	}
	if _, err := MCS64QAMTP.CQI(1); err == nil {
		t.Error("a transform precoding table has a CQI")
	}
}

func TestParseNRMCSTableErrors(t *testing.T) {
	for _, s := range []string{"", "64", "qam256", "256-qam", "none"} {
		if table, err := ParseMCSTable(s); err == nil {
			t.Errorf("%q is %s", s, table)
		}
	}
	if table, err := ParseMCSTable(" 64QAM-LowSE "); err != nil || table != MCS64QAMLowSE {
		t.Errorf("%s, %v", table, err)
	}
}

func ExampleMCSTable_MCS() {
	m, err := MCS256QAM.MCS(20, false)
	fmt.Println(m.Qm, m.Rate(), m.BitsPerSymbol().Float(), err)
	_, err = MCS256QAM.MCS(28, false)
	fmt.Println(err)
	// Output:
	// 8 1365/2048 5.33203125 <nil>
	// MCS index of table 256qam "28": must be 0 to 27 (higher ones are reserved for retransmissions); closest is 27 (TS 38.214 Table 5.1.3.1-2)
}
