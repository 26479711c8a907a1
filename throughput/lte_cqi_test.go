package throughput

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
func TestLTECQITables(t *testing.T) {
	for table, want := range map[LTECQITable]string{
		LTECQI64QAM:        "7.2.3-1 . 2 2 2 2 2 2 4 4 4 6 6 6 6 6 6",
		LTECQI256QAM:       "7.2.3-2 . 2 2 2 4 4 4 6 6 6 6 6 8 8 8 8",
		LTECQICE:           "7.2.3-3 . 2 2 2 2 2 2 2 4 4 4 . . . . .",
		LTECQI1024QAM:      "7.2.3-4 . 2 2 2 4 4 6 6 6 6 8 8 8 8 10 10",
		LTECQICE64QAM:      "7.2.3-5 . 2 2 2 2 2 2 2 4 4 4 6 6 6 6 6",
		LTECQICERepetition: "7.2.3-6 . 2 2 2 2 2 2 2 2 4 4 4 4 6 6 6",
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
			if table == LTECQICERepetition {
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

func TestLTECQIHighest(t *testing.T) {
	for _, c := range []struct {
		table      LTECQITable
		efficiency float64
		index      int
	}{
		{LTECQI64QAM, 0.1, 0}, {LTECQI64QAM, 0.1524, 1}, {LTECQI64QAM, 5.5546875, 15}, {LTECQI64QAM, 5.5546, 14},
		{LTECQI64QAM, 100, 15}, {LTECQI256QAM, 5.6, 12}, {LTECQI1024QAM, 9.2, 14}, {LTECQICE, 9, 10}, {LTECQI64QAM, -1, 0},
		{LTECQI64QAM, math.NaN(), 0}, {0, 5, 0},
	} {
		q, ok := c.table.Highest(c.efficiency)
		if ok != (c.index > 0) || q.Index != c.index {
			t.Errorf("%s at %v: %+v, %t; want CQI %d", c.table, c.efficiency, q, ok, c.index)
		}
	}
}

func TestLTECQIErrors(t *testing.T) {
	for _, c := range []struct {
		table   LTECQITable
		index   int
		nearest string
	}{{LTECQI64QAM, 0, "1"}, {LTECQI64QAM, 16, "15"}, {LTECQICE, 11, "10"}, {LTECQI256QAM, -1, "1"}, {0, 1, ""}, {7, 1, ""}} {
		q, err := c.table.CQI(c.index)
		var v *bands.ValueError
		if !errors.As(err, &v) || v.Nearest != c.nearest || q.Index != 0 {
			t.Errorf("%s CQI %d: %+v, %v", c.table, c.index, q, err)
		}
	}
	for qm, want := range map[int]LTECQITable{2: LTECQI64QAM, 4: LTECQI64QAM, 6: LTECQI64QAM, 8: LTECQI256QAM, 10: LTECQI1024QAM, 5: 0, 12: 0} {
		if got, err := LTECQITableFor(qm); got != want || (err == nil) != (want != 0) {
			t.Errorf("order %d: %s, %v", qm, got, err)
		}
	}
}
