package propagation

import (
	"math"

	"spectally/bands"
)

// environmentHeight is the effective height h_E of the surroundings in metres: 1 m in
// UMi, and in UMa for users below 13 m (Report ITU-R M.2412, annex 1 section 3).
const environmentHeight = 1

// lightSpeed is the speed of light in metres a second that Report ITU-R M.2412 takes
// for its break point.
const lightSpeed = 3.0e8

var sourceFreeSpace = bands.Source{Spec: "ITU-R P.525", Table: "free-space basic transmission loss, from memory"}

// FreeSpaceLoss is the loss in dB of a path through free space between isotropic
// antennas, 20 log(4 pi d f / c), at a distance in metres. It holds far from the
// antennas, at several wavelengths and more.
func FreeSpaceLoss(f bands.Frequency, distance float64) float64 {
	const c = 299_792_458
	return 20 * math.Log10(4*math.Pi*distance*float64(f)/c)
}

// geometry is a path in the units of the formulas: GHz and metres.
type geometry struct {
	ghz, flat, slant, base, user float64
	street, building             float64 // rural alone; 0 is not given
}

func (g *geometry) breakpoint() float64 {
	return 4 * (g.base - environmentHeight) * (g.user - environmentHeight) * g.ghz * 1e9 / lightSpeed
}

// tabled is the loss by the formulas of the table.
func (g *geometry) tabled(s Scenario, sight Sight) PathLoss {
	facts := loadPathFacts()
	l := PathLoss{Source: facts.source}
	if facts.limits[s].breaks {
		l.Breakpoint = g.breakpoint()
	}
	f := &facts.formulas[s][sight]
	if sight == LineOfSight && l.Breakpoint > 0 && g.flat > l.Breakpoint {
		f = &facts.far[s]
	}
	l.DB, l.Shadow = f.at(g, l.Breakpoint), f.shadow
	if sight == NoLineOfSight {
		l.DB = max(l.DB, g.tabled(s, LineOfSight).DB)
	}
	return l
}

func (f *pathFormula) at(g *geometry, breakpoint float64) float64 {
	loss := f.constant + f.distance*math.Log10(g.slant) + f.frequency*math.Log10(g.ghz) - f.userHeight*(g.user-1.5)
	if f.breakpoint > 0 {
		rise := g.base - g.user
		loss -= f.breakpoint * math.Log10(breakpoint*breakpoint+rise*rise)
	}
	return loss
}

// rural is the loss of rural macro (TR 38.901 V19.4.0 Table 7.4.1-1).
func (g *geometry) rural(sight Sight) PathLoss {
	l := PathLoss{Source: loadPathFacts().ruralSource}
	h := orUsual(g.building, usualBuilding)
	near := func(d float64) float64 {
		return 20*math.Log10(40*math.Pi*d*g.ghz/3) + min(0.03*math.Pow(h, 1.72), 10)*math.Log10(d) -
			min(0.044*math.Pow(h, 1.72), 14.77) + 0.002*math.Log10(h)*d
	}
	l.Breakpoint = 2 * math.Pi * g.base * g.user * g.ghz * 1e9 / lightSpeed
	l.DB, l.Shadow = near(g.slant), 4
	if g.flat > l.Breakpoint {
		l.DB, l.Shadow = near(l.Breakpoint)+40*math.Log10(g.slant/l.Breakpoint), 6
	}
	if sight == LineOfSight {
		return l
	}
	w := orUsual(g.street, usualStreet)
	behind := 161.04 - 7.1*math.Log10(w) + 7.5*math.Log10(h) - (24.37-3.7*(h/g.base)*(h/g.base))*math.Log10(g.base) +
		(43.42-3.1*math.Log10(g.base))*(math.Log10(g.slant)-3) + 20*math.Log10(g.ghz) -
		(3.2*math.Pow(math.Log10(11.75*g.user), 2) - 4.97)
	l.DB, l.Shadow = max(l.DB, behind), 8
	return l
}

// Averages of a rural place in metres (TR 38.901 V19.4.0 Table 7.4.1-1).
const (
	usualStreet   = 20
	usualBuilding = 5
)

func orUsual(given, usual float64) float64 {
	if given == 0 {
		return usual
	}
	return given
}
