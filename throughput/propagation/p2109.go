package propagation

import (
	"math"
	"strconv"
	"sync"

	"spectally/bands"
	"spectally/data"
)

var ituTables = data.Lazy("propagation")

// BuildingClass is a class of buildings of Recommendation ITU-R P.2109.
type BuildingClass uint8

// The classes.
const (
	Traditional        BuildingClass = iota // without metallised glass and foil
	ThermallyEfficient                      // with them
)

type entryConstants struct{ r, s, t, u, v, w, x, y, z float64 }

type entryTable struct {
	classes [2]entryConstants
	source  bands.Source
}

var loadEntryTable = sync.OnceValue(func() *entryTable {
	t := data.Find(ituTables(), "entry")
	e := &entryTable{source: t.Source}
	for i, row := range t.Rows {
		c := &e.classes[i]
		for k, to := range [...]*float64{&c.r, &c.s, &c.t, &c.u, &c.v, &c.w, &c.x, &c.y, &c.z} {
			*to = tableNumber(row[k+1])
		}
	}
	return e
})

// tableNumber reads a number of an embedded table.
func tableNumber(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic("propagation: embedded table: " + err.Error())
	}
	return v
}

// BuildingEntryLoss is the loss in dB between the outside of a building and a place inside
// it that is not exceeded with a probability above 0 and below 1, for a path that arrives
// at an elevation of -90 to 90 degrees (Recommendation ITU-R P.2109-1). It holds from 80 MHz
// to 100 GHz; what lies outside is a *bands.ValueError.
func BuildingEntryLoss(c BuildingClass, f bands.Frequency, elevation, probability float64) (float64, error) {
	t := loadEntryTable()
	switch {
	case c > ThermallyEfficient:
		return 0, &bands.ValueError{Param: "class of buildings", Got: strconv.Itoa(int(c)), Allowed: "traditional or efficient", Source: t.source}
	case f < 80*bands.MHz || f > 100*bands.GHz:
		return 0, &bands.ValueError{Param: "frequency for building entry loss", Got: f.String(), Allowed: "0.08 to 100 GHz", Source: t.source}
	case !(math.Abs(elevation) <= 90):
		return 0, &bands.ValueError{Param: "elevation", Got: format(elevation), Allowed: "-90 to 90 degrees", Source: t.source}
	case !(probability > 0 && probability < 1):
		return 0, &bands.ValueError{Param: "probability", Got: format(probability), Allowed: "above 0 and below 1", Source: t.source}
	}
	k := &t.classes[c]
	log := math.Log10(f.InMHz() / 1000)
	wall := k.r + k.s*log + k.t*log*log + 0.212*math.Abs(elevation)
	inside := k.w + k.x*log
	n := normalQuantile(probability)
	a, b := n*(k.u+k.v*log)+wall, n*(k.y+k.z*log)+inside
	const floor = -3
	return 10 * math.Log10(power(a)+power(b)+power(floor)), nil
}

// EntrySource is where [BuildingEntryLoss] stands.
func EntrySource() bands.Source { return loadEntryTable().source }

// normalQuantile is the value below which a standard normal variable lies with a
// probability.
func normalQuantile(p float64) float64 { return -math.Sqrt2 * math.Erfcinv(2*p) }

// power is a level in decibels as a ratio of powers.
func power(db float64) float64 { return math.Pow(10, db/10) }

func format(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
