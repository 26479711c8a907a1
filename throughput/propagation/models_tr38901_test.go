package propagation

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"spectally/bands"
)

// TestPathLossTR38901 holds the models against figures that were worked out apart from
// the formulas of TR 38.901 V19.4.0 Table 7.4.1-1, to three decimals. Distances are
// horizontal, in inh those from antenna to antenna.
func TestPathLossTR38901(t *testing.T) {
	f, err := os.Open("../../testdata/propagation/tr38901_pathloss_computed.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil || len(rows) != 196 {
		t.Fatal(len(rows), err)
	}
	for _, row := range rows[1:] {
		v := make([]float64, len(row))
		for i, s := range row[1:] {
			if s != "" {
				if v[i+1], err = strconv.ParseFloat(s, 64); err != nil {
					t.Fatal(err)
				}
			}
		}
		s, err := ParseScenario(row[0])
		if err != nil {
			t.Fatal(err)
		}
		p := Path{Scenario: s, Sight: NoLineOfSight, Frequency: bands.Frequency(math.Round(v[2] * 1e9)), Distance: v[3],
			BaseHeight: v[4], UserHeight: v[5], BuildingHeight: v[6], StreetWidth: v[7], Extrapolate: true}
		if v[1] == 1 {
			p.Sight = LineOfSight
		}
		if base, user := p.Heights(); s == InH {
			p.Distance = math.Sqrt(v[3]*v[3] - (base-user)*(base-user))
		}
		l, err := p.Loss()
		if err != nil || math.Abs(l.DB-v[8]) > 0.000501 {
			t.Errorf("%v: %.4f, %v", row, l.DB, err)
		}
	}
}
