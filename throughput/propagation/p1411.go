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
