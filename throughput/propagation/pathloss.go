package propagation

import (
	"math"
	"strconv"

	"spectally/bands"
	"spectally/throughput/internal/words"
)

// Scenario is a model of path loss.
type Scenario uint8

// The scenarios. The zero Scenario is none.
const (
	FreeSpace         Scenario = iota + 1
	UMa                        // urban macro
	UMi                        // urban micro, street canyon
	InH                        // indoor hotspot, office
	RMa                        // rural macro
	Street                     // urban streets below the rooftops (ITU-R P.1411)
	StreetResidential          // residential ones, without line of sight
)

var scenarioNames = [...]string{FreeSpace: "free-space", UMa: "uma", UMi: "umi", InH: "inh", RMa: "rma", Street: "street", StreetResidential: "street-residential"}

// ScenarioNames lists the names that [ParseScenario] reads.
func ScenarioNames() []string { return scenarioNames[1:] }

// String names the scenario as the reports do, in small letters: "uma".
func (s Scenario) String() string {
	if int(s) >= len(scenarioNames) {
		return ""
	}
	return scenarioNames[s]
}

// ParseScenario reads the name of a scenario; letter case does not matter.
func ParseScenario(s string) (Scenario, error) {
	i, err := words.Parse("path loss model", s, scenarioNames[1:])
	return Scenario(i + 1), err
}

// Sight tells whether site and UE see each other.
type Sight uint8

// The sights. The zero Sight is none; free space needs none.
const (
	LineOfSight Sight = iota + 1
	NoLineOfSight
	NoLineOfSightOptional // the reports' simpler formula for it
)

var sightNames = [...]string{LineOfSight: "los", NoLineOfSight: "nlos", NoLineOfSightOptional: "nlos-optional"}

// SightNames lists the names that [ParseSight] reads.
func SightNames() []string { return sightNames[1:] }

// String names the sight: "los", "nlos", "nlos-optional".
func (s Sight) String() string {
	if int(s) >= len(sightNames) {
		return ""
	}
	return sightNames[s]
}

// ParseSight reads the name of a sight; letter case does not matter.
func ParseSight(s string) (Sight, error) {
	i, err := words.Parse("sight", s, sightNames[1:])
	return Sight(i + 1), err
}

// Path is the way from a site to a UE.
type Path struct {
	Scenario  Scenario
	Sight     Sight
	Frequency bands.Frequency
	Distance  float64 // metres on the map
	// BaseHeight and UserHeight are the heights of the antennas in metres; 0 takes
	// those of the report, see [Path.Heights].
	BaseHeight, UserHeight float64
	// StreetWidth and BuildingHeight are the averages of a rural place in metres; 0
	// takes 20 and 5.
	StreetWidth, BuildingHeight float64
	// Clutter adds the loss of buildings and trees round the UE by ITU-R P.2108 clause 3.2.
	// It is for free space alone: the other models have it in them.
	Clutter bool
	// Extrapolate works the loss out beyond what the report allows, and marks it.
	Extrapolate bool
}

// PathLoss is the loss of a path.
type PathLoss struct {
	DB     float64 // the median loss
	Shadow float64 // standard deviation of log-normal shadowing in dB
	Slant  float64 // distance from antenna to antenna in metres
	// Breakpoint is the distance d'BP in metres; 0 where the model has none.
	Breakpoint float64
	// Beyond says what is outside the validity of the model; empty if nothing is.
	Beyond []*bands.ValueError
	// Notes say what else the figure rests on.
	Notes  []string
	Source bands.Source
}

// Heights are the heights of the antennas in metres: those given, else those of the
// report.
func (p *Path) Heights() (base, user float64) {
	base, user = p.BaseHeight, p.UserHeight
	if l := p.limits(); l != nil {
		if base == 0 {
			base = l.base.usual
		}
		if user == 0 {
			user = l.user.usual
		}
	}
	return base, user
}

func (p *Path) limits() *pathLimits {
	if p.Scenario > RMa {
		return nil
	}
	return loadPathFacts().limits[p.Scenario]
}

// Loss works out the loss. Distances, heights and frequencies outside the validity
// of the model are a *bands.ValueError, or marked if Extrapolate is set; values that
// are no distance or frequency at all are always an error.
func (p Path) Loss() (PathLoss, error) {
	if err := p.check(); err != nil {
		return PathLoss{}, err
	}
	l := p.loss()
	if len(l.Beyond) > 0 && !p.Extrapolate {
		return PathLoss{}, l.Beyond[0]
	}
	return l, nil
}

// loss works out the loss and what is outside the validity of the model.
func (p *Path) loss() PathLoss {
	switch p.Scenario {
	case FreeSpace:
		return p.free()
	case Street, StreetResidential:
		return p.street()
	}
	base, user := p.Heights()
	g := geometry{
		ghz: float64(p.Frequency) / float64(bands.GHz), flat: p.Distance, slant: math.Hypot(p.Distance, base-user), base: base, user: user,
		street: p.StreetWidth, building: p.BuildingHeight,
	}
	var l PathLoss
	if p.Scenario == RMa {
		l = g.rural(p.Sight)
	} else {
		l = g.tabled(p.Scenario, p.Sight)
	}
	l.Slant = g.slant
	l.Beyond = p.beyond(&g)
	if p.Scenario == UMa && user >= 13 && p.Sight != NoLineOfSightOptional {
		l.Notes = append(l.Notes, "From 13 m of user height on the report draws the effective environment height at random; 1 m is taken.")
	}
	return l
}

// free is the loss of free space, with that of clutter if there is any.
func (p *Path) free() PathLoss {
	l := PathLoss{DB: FreeSpaceLoss(p.Frequency, p.Distance), Slant: p.Distance, Source: sourceFreeSpace}
	if p.Clutter {
		loss, sigma, beyond := MedianClutter(p.Frequency, p.Distance)
		l.DB, l.Shadow = l.DB+loss, sigma
		if beyond != nil {
			l.Beyond = append(l.Beyond, beyond)
		}
	}
	return l
}

// street is the loss below the rooftops.
func (p *Path) street() PathLoss {
	l := PathLoss{Slant: math.Hypot(p.Distance, p.BaseHeight-p.UserHeight), Source: StreetSource()}
	l.DB, l.Shadow, l.Beyond, _ = StreetLoss(p.Scenario == StreetResidential, p.Sight == LineOfSight, p.Frequency, l.Slant)
	return l
}

// check refuses what no model can take.
func (p *Path) check() error {
	switch {
	case p.Scenario < FreeSpace || p.Scenario > StreetResidential:
		return &bands.ValueError{Param: "path loss model", Got: strconv.Itoa(int(p.Scenario)), Allowed: words.List(scenarioNames[1:])}
	case p.Scenario != FreeSpace && (p.Sight < LineOfSight || p.Sight > NoLineOfSightOptional):
		return &bands.ValueError{Param: "sight", Got: strconv.Itoa(int(p.Sight)), Allowed: words.List(sightNames[1:])}
	case p.Scenario == RMa && p.Sight == NoLineOfSightOptional:
		return &bands.ValueError{Param: "sight", Got: p.Sight.String(), Allowed: "los or nlos in rma"}
	case p.Scenario == Street && p.Sight == NoLineOfSightOptional:
		return &bands.ValueError{Param: "sight", Got: p.Sight.String(), Allowed: "los or nlos in street"}
	case p.Scenario == StreetResidential && p.Sight != NoLineOfSight:
		return &bands.ValueError{Param: "sight", Got: p.Sight.String(), Allowed: "nlos in street-residential"}
	case p.Clutter && p.Scenario != FreeSpace:
		return &bands.ValueError{Param: "clutter", Got: p.Scenario.String(), Allowed: "clutter in free-space alone: " + p.Scenario.String() + " has the surroundings in it"}
	case p.Frequency <= 0:
		return &bands.ValueError{Param: "frequency", Got: p.Frequency.String(), Allowed: "a frequency above zero"}
	case !(p.Distance > 0) || math.IsInf(p.Distance, 0):
		return metresError("distance", p.Distance, "a distance above zero")
	}
	for _, h := range [...]struct {
		name  string
		value float64
	}{
		{"base height", p.BaseHeight}, {"user height", p.UserHeight}, {"street width", p.StreetWidth}, {"building height", p.BuildingHeight},
	} {
		if !(h.value >= 0 && h.value <= 10000) {
			return metresError(h.name, h.value, "from 0 to 10000 m, 0 for that of the report")
		}
	}
	if l := p.limits(); l != nil && l.breaks {
		if base, user := p.Heights(); base <= environmentHeight || user <= environmentHeight {
			return metresError("antenna height", min(base, user), "above 1 m, the effective height of the surroundings")
		}
	}
	return nil
}

func metresError(param string, metres float64, allowed string) *bands.ValueError {
	return &bands.ValueError{Param: param, Got: strconv.FormatFloat(metres, 'g', 6, 64) + " m", Allowed: allowed}
}
