package propagation

import (
	"math"
	"sync"

	"spectally/bands"
	"spectally/data"
)

type wallMaterial struct{ constant, slope float64 }

func (m *wallMaterial) at(ghz float64) float64 { return m.constant + m.slope*ghz }

// outerWall is a wall of two materials.
type outerWall struct {
	name         string
	glass, other wallMaterial
	share, sigma float64 // of the glass
}

type wallTable struct {
	materials map[string]wallMaterial
	walls     []outerWall
	source    bands.Source
}

var loadWalls = sync.OnceValue(func() *wallTable {
	t := &wallTable{materials: make(map[string]wallMaterial)}
	for _, row := range data.Find(ituTables(), "materials").Rows {
		t.materials[row[0]] = wallMaterial{tableNumber(row[1]), tableNumber(row[2])}
	}
	walls := data.Find(ituTables(), "walls")
	t.source = walls.Source
	for _, row := range walls.Rows {
		t.walls = append(t.walls, outerWall{row[0], t.materials[row[1]], t.materials[row[2]], tableNumber(row[3]), tableNumber(row[4])})
	}
	return t
})

// WallLoss is the mean loss in dB through the outer wall of a building, and the standard
// deviation of its spread, by TR 38.901 V19.4.0 Tables 7.4.3-1 and 7.4.3-2: "low-loss",
// "low-loss-a" (plywood in place of concrete) or "high-loss". ok is false for another name.
func WallLoss(building string, f bands.Frequency) (loss, sigma float64, source bands.Source, ok bool) {
	t := loadWalls()
	ghz := f.InMHz() / 1000
	for i := range t.walls {
		if w := &t.walls[i]; w.name == building {
			through := w.share*power(-w.glass.at(ghz)) + (1-w.share)*power(-w.other.at(ghz))
			return 5 - 10*math.Log10(through), w.sigma, t.source, true
		}
	}
	return 0, 0, bands.Source{}, false
}
