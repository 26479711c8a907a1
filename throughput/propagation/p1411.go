package propagation

import (
	"math"
	"strings"
	"sync"

	"spectally/bands"
	"spectally/data"
)

// streetFormula is a row of the site-general model of Recommendation ITU-R P.1411.
type streetFormula struct {
	lowGHz, highGHz, shortest, longest float64
	alpha, beta, gamma, sigma          float64
}

// at is the median loss in dB on a frequency in GHz at a distance in metres.
func (f *streetFormula) at(ghz, distance float64) float64 {
	return 10*f.alpha*math.Log10(distance) + f.beta + 10*f.gamma*math.Log10(ghz)
}

type streetTable struct {
	rows   map[[2]string]*streetFormula // by scenario and sight
	source bands.Source
}

var loadStreets = sync.OnceValue(func() *streetTable {
	t := data.Find(ituTables(), "street")
	s := &streetTable{rows: make(map[[2]string]*streetFormula), source: t.Source}
	for _, row := range t.Rows {
		f := &streetFormula{alpha: tableNumber(row[4]), beta: tableNumber(row[5]), gamma: tableNumber(row[6]), sigma: tableNumber(row[7])}
		f.lowGHz, f.highGHz = tableRange(row[2])
		f.shortest, f.longest = tableRange(row[3])
		s.rows[[2]string{row[0], row[1]}] = f
	}
	return s
})

// tableRange reads "0.8-73" of an embedded table.
func tableRange(s string) (low, high float64) {
	l, h, _ := strings.Cut(s, "-")
	return tableNumber(l), tableNumber(h)
}

// StreetLoss is the median loss in dB of a path below the rooftops, and the standard
// deviation of its normal spread, by the site-general model of Recommendation ITU-R P.1411-11:
// in urban streets with line of sight and among high buildings without, or in residential
// ones without. The distance in metres is that from antenna to antenna. beyond says what is
// outside the validity of the model; a residential street with line of sight has no model,
// and ok is false.
func StreetLoss(residential, sight bool, f bands.Frequency, distance float64) (loss, sigma float64, beyond []*bands.ValueError, ok bool) {
	t := loadStreets()
	key := [2]string{"street", "nlos"}
	if residential {
		key[0] = "street-residential"
	}
	if sight {
		key[1] = "los"
	}
	row, ok := t.rows[key]
	if !ok {
		return 0, 0, nil, false
	}
	ghz := f.InMHz() / 1000
	refuse := func(param, got string, low, high float64, unit string) {
		beyond = append(beyond, &bands.ValueError{Param: key[0] + " " + param, Got: got, Allowed: format(low) + " to " + format(high) + " " + unit, Source: t.source})
	}
	if ghz < row.lowGHz || ghz > row.highGHz {
		refuse("frequency", f.String(), row.lowGHz, row.highGHz, "GHz")
	}
	if distance < row.shortest || distance > row.longest {
		refuse("distance from antenna to antenna", format(distance)+" m", row.shortest, row.longest, "m")
	}
	return row.at(ghz, distance), row.sigma, beyond, true
}

// StreetSource is where the model stands.
func StreetSource() bands.Source { return loadStreets().source }
