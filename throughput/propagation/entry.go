package propagation

import (
	"math"
	"sync"

	"spectally/bands"
	"spectally/data"
	"spectally/throughput/internal/printed"
	"spectally/throughput/internal/words"
)

// Entry is what stands round the UE.
type Entry uint8

// The entries. The zero Entry is open air.
const (
	OpenAir           Entry = iota
	LowLossBuilding         // concrete with plain glass
	HighLossBuilding        // concrete with metal-coated glass
	ModelABuilding          // the report's figure up to 6 GHz, whatever the building
	Vehicle                 // a car
	VehicleMetallised       // a car with metal-coated windows
	Wall38901Low            // TR 38.901: concrete with plain glass
	Wall38901LowA           // plywood with plain glass
	Wall38901High           // concrete with metal-coated glass
	EntryTraditional        // ITU-R P.2109: traditional buildings
	EntryEfficient          // thermally efficient ones
)

var entryNames = [...]string{"none", "low-loss", "high-loss", "model-a", "vehicle", "vehicle-metallised",
	"tr38901-low-loss", "tr38901-low-loss-a", "tr38901-high-loss", "p2109-traditional", "p2109-efficient"}

// EntryNames lists the names that [ParseEntry] reads.
func EntryNames() []string { return entryNames[:] }

// String names the entry: "none", "low-loss", "high-loss", "model-a", "vehicle",
// "vehicle-metallised", and with its source in front "tr38901-low-loss" and so on.
func (e Entry) String() string {
	if int(e) >= len(entryNames) {
		return ""
	}
	return entryNames[e]
}

// ParseEntry reads the name of an entry; letter case does not matter.
func ParseEntry(s string) (Entry, error) {
	i, err := words.Parse("entry loss", s, entryNames[:])
	return Entry(max(i, 0)), err
}

// EntryLoss is the loss into a building or a vehicle.
type EntryLoss struct {
	Wall   float64 // mean through the outer wall or into the vehicle, dB
	Inside float64 // mean of the way indoors, dB
	Sigma  float64 // standard deviation of the wall's loss, dB
	Source bands.Source
	// Beyond says what is outside the validity of the model; empty if nothing is.
	Beyond []*bands.ValueError
}

// DB is the mean loss in dB.
func (l *EntryLoss) DB() float64 { return l.Wall + l.Inside }

// Loss is the loss of the entry on a frequency, for a user at a depth in metres
// behind the outer wall; a depth below zero takes the mean of the report's draw.
// Indoor hotspots and free space have no outer wall: buildings there are a
// *bands.ValueError.
func (e Entry) Loss(s Scenario, f bands.Frequency, depth float64) (EntryLoss, error) {
	facts := loadEntryFacts()
	switch {
	case e > EntryEfficient:
		return EntryLoss{}, &bands.ValueError{Param: "entry loss", Got: "an unknown one", Allowed: words.List(entryNames[:])}
	case s < FreeSpace || s > StreetResidential:
		return EntryLoss{}, &bands.ValueError{Param: "path loss model", Got: s.String(), Allowed: words.List(scenarioNames[1:])}
	case f <= 0:
		return EntryLoss{}, &bands.ValueError{Param: "frequency", Got: f.String(), Allowed: "a frequency above zero"}
	case math.IsNaN(depth) || depth > maxDepth:
		return EntryLoss{}, metresError("depth indoors", depth, "0 to "+words.Number(maxDepth)+" m")
	case e == OpenAir:
		return EntryLoss{}, nil
	case e >= EntryTraditional:
		return e.measured(s, f, depth)
	case e == Vehicle || e == VehicleMetallised:
		v := facts.vehicles[e-Vehicle]
		if ghz := (interval{low: 0.6, high: 60}); !ghz.holds(f.InMHz() / 1000) {
			v.Beyond = []*bands.ValueError{{Param: "frequency for the loss into vehicles", Got: f.String(), Allowed: "0.6 to 60 GHz", Source: v.Source}}
		}
		return v, nil
	}
	var i indoorDraw
	if s <= RMa {
		i = facts.indoor[s]
	}
	indoors := i.depth > 0
	if !indoors || (e == HighLossBuilding || e == Wall38901High) && s == RMa {
		allowed := "none or a vehicle in " + s.String()
		if indoors {
			allowed = "an entry other than high-loss in " + s.String()
		}
		return EntryLoss{}, &bands.ValueError{Param: "entry loss", Got: e.String(), Allowed: allowed, Source: facts.walls[0].source}
	}
	var l EntryLoss
	if e == ModelABuilding {
		w := facts.wallsA[s]
		l = EntryLoss{Wall: w.loss, Source: facts.sourceA}
		i = indoorDraw{1, w.depth}
		if f > 6*bands.GHz {
			l.Beyond = []*bands.ValueError{{Param: "frequency for building entry loss of model A", Got: f.String(), Allowed: "up to 6 GHz", Source: facts.sourceA}}
		}
	} else if e >= Wall38901Low {
		l.Wall, l.Sigma, l.Source, _ = WallLoss(wallNames[e-Wall38901Low], f)
	} else {
		w := &facts.walls[e-LowLossBuilding]
		l = EntryLoss{Wall: w.at(f), Sigma: w.sigma, Source: w.source}
	}
	if depth < 0 {
		depth = i.depth / float64(i.draws+1) // mean of the smallest of so many even draws
	}
	l.Inside = 0.5 * depth
	return l, nil
}

// wallNames are the walls of TR 38.901.
var wallNames = [...]string{"low-loss", "low-loss-a", "high-loss"}

// measured is the loss of ITU-R P.2109, which has the way inside the building in it: its
// median, and for the spread how far the loss of five in six places is above.
func (e Entry) measured(s Scenario, f bands.Frequency, depth float64) (EntryLoss, error) {
	switch {
	case s == InH:
		return EntryLoss{}, &bands.ValueError{Param: "entry loss", Got: e.String(), Allowed: "none or a vehicle in " + s.String()}
	case depth >= 0:
		return EntryLoss{}, &bands.ValueError{Param: "depth indoors", Got: words.Number(depth) + " m", Allowed: "none beside " + e.String() + ", which has the way inside in it"}
	}
	class := BuildingClass(e - EntryTraditional)
	median, err := BuildingEntryLoss(class, f, 0, 0.5)
	if err != nil {
		return EntryLoss{}, err
	}
	const oneSigma = 0.8413447460685429 // of a normal spread
	above, err := BuildingEntryLoss(class, f, 0, oneSigma)
	return EntryLoss{Wall: median, Sigma: above - median, Source: EntrySource()}, err
}

// maxDepth bounds the depth indoors in metres.
const maxDepth = 200

// MaterialLoss is the loss of a material in dB on a frequency: "glass", "irr-glass",
// "concrete" or "wood" (Report ITU-R M.2412, annex 1 Table A1-6).
func MaterialLoss(material string, f bands.Frequency) (float64, error) {
	facts := loadEntryFacts()
	i, err := words.Parse("material", material, facts.names)
	if err != nil {
		return 0, err
	}
	return facts.materials[i].at(f), nil
}

type material struct{ constant, slope float64 }

func (m *material) at(f bands.Frequency) float64 {
	return m.constant + m.slope*float64(f)/float64(bands.GHz)
}

type wall struct {
	glass, concrete           material
	glassShare, concreteShare float64
	sigma                     float64
	source                    bands.Source
}

func (w *wall) at(f bands.Frequency) float64 {
	return 5 - 10*math.Log10(w.glassShare*math.Pow(10, -w.glass.at(f)/10)+w.concreteShare*math.Pow(10, -w.concrete.at(f)/10))
}

type indoorDraw struct {
	draws int
	depth float64
}

type entryFacts struct {
	names     []string
	materials []material
	walls     [2]wall // low-loss, high-loss
	indoor    [RMa + 1]indoorDraw
	wallsA    [RMa + 1]struct{ loss, depth float64 }
	sourceA   bands.Source
	vehicles  [2]EntryLoss
}

var loadEntryFacts = sync.OnceValue(func() *entryFacts {
	f := &entryFacts{}
	byName := make(map[string]material)
	for _, row := range data.Find(pathTables(), "materials").Rows {
		m := material{printed.Ratio(row[1]).Float(), printed.Ratio(row[2]).Float()}
		f.names, f.materials, byName[row[0]] = append(f.names, row[0]), append(f.materials, m), m
	}
	t := data.Find(pathTables(), "walls")
	for i, row := range t.Rows {
		f.walls[i] = wall{byName[row[1]], byName["concrete"], printed.Ratio(row[2]).Float(), printed.Ratio(row[3]).Float(), printed.Ratio(row[4]).Float(), t.Source}
	}
	for _, row := range data.Find(pathTables(), "indoor").Rows {
		f.indoor[pathScenario(row[0])] = indoorDraw{printed.Int(row[1]), printed.Ratio(row[2]).Float()}
	}
	t = data.Find(pathTables(), "walls-a")
	f.sourceA = t.Source
	for _, row := range t.Rows {
		w := &f.wallsA[pathScenario(row[0])]
		w.loss, w.depth = printed.Ratio(row[1]).Float(), printed.Ratio(row[2]).Float()
	}
	t = data.Find(pathTables(), "vehicles")
	for i, row := range t.Rows {
		f.vehicles[i] = EntryLoss{Wall: printed.Ratio(row[1]).Float(), Sigma: printed.Ratio(row[2]).Float(), Source: t.Source}
	}
	return f
})
