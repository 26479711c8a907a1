package lte

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"

	"spectally/bands"
)

// TS 36.213 V19.3.0 Tables 7.2.3-1 to -6: the modulation order of every index ("."
// for out of range and reserved), and the printed efficiency is order times code
// rate, to four decimals.
func TestCQITables(t *testing.T) {
	for table, want := range map[CQITable]string{
		CQI64QAM:        "7.2.3-1 . 2 2 2 2 2 2 4 4 4 6 6 6 6 6 6",
		CQI256QAM:       "7.2.3-2 . 2 2 2 4 4 4 6 6 6 6 6 8 8 8 8",
		CQICE:           "7.2.3-3 . 2 2 2 2 2 2 2 4 4 4 . . . . .",
		CQI1024QAM:      "7.2.3-4 . 2 2 2 4 4 6 6 6 6 8 8 8 8 10 10",
		CQICE64QAM:      "7.2.3-5 . 2 2 2 2 2 2 2 4 4 4 6 6 6 6 6",
		CQICERepetition: "7.2.3-6 . 2 2 2 2 2 2 2 2 4 4 4 4 6 6 6",
	} {
		got := []string{table.Source().Table}
		last := 0.0
		for i, q := range table.Rows() {
			if q.Qm == 0 {
				got = append(got, ".")
				continue
			}
			got = append(got, strconv.Itoa(q.Qm))
			row, err := table.CQI(i)
			if err != nil || row != q || q.Index != i || q.CodeRate < 1 || q.CodeRate > 1023 {
				t.Errorf("%s CQI %d: %+v, %v", table, i, q, err)
			}
			if table == CQICERepetition {
				if q.Printed != "" || q.Repetition < 1 {
					t.Errorf("%s CQI %d: %+v", table, i, q)
				}
				continue
			}
			printed, err := strconv.ParseFloat(q.Printed, 64)
			if err != nil || math.Abs(printed-q.Efficiency()) > 0.50001e-4 || q.Efficiency() <= last || q.Repetition != 0 {
				t.Errorf("%s CQI %d: %+v, efficiency %.5f, %v", table, i, q, q.Efficiency(), err)
			}
			last = q.Efficiency()
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%s: %s, want %s", table, strings.Join(got, " "), want)
		}
	}
}

func TestCQIHighest(t *testing.T) {
	for _, c := range []struct {
		table      CQITable
		efficiency float64
		index      int
	}{
		{CQI64QAM, 0.1, 0}, {CQI64QAM, 0.1524, 1}, {CQI64QAM, 5.5546875, 15}, {CQI64QAM, 5.5546, 14},
		{CQI64QAM, 100, 15}, {CQI256QAM, 5.6, 12}, {CQI1024QAM, 9.2, 14}, {CQICE, 9, 10}, {CQI64QAM, -1, 0},
		{CQI64QAM, math.NaN(), 0}, {0, 5, 0},
	} {
		q, ok := c.table.Highest(c.efficiency)
		if ok != (c.index > 0) || q.Index != c.index {
			t.Errorf("%s at %v: %+v, %t; want CQI %d", c.table, c.efficiency, q, ok, c.index)
		}
	}
}

func TestCQIErrors(t *testing.T) {
	for _, c := range []struct {
		table   CQITable
		index   int
		nearest string
	}{{CQI64QAM, 0, "1"}, {CQI64QAM, 16, "15"}, {CQICE, 11, "10"}, {CQI256QAM, -1, "1"}, {0, 1, ""}, {7, 1, ""}} {
		q, err := c.table.CQI(c.index)
		var v *bands.ValueError
		if !errors.As(err, &v) || v.Nearest != c.nearest || q.Index != 0 {
			t.Errorf("%s CQI %d: %+v, %v", c.table, c.index, q, err)
		}
	}
	for qm, want := range map[int]CQITable{2: CQI64QAM, 4: CQI64QAM, 6: CQI64QAM, 8: CQI256QAM, 10: CQI1024QAM, 5: 0, 12: 0} {
		if got, err := CQITableFor(qm); got != want || (err == nil) != (want != 0) {
			t.Errorf("order %d: %s, %v", qm, got, err)
		}
	}
}
