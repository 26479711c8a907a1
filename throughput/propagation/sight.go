package propagation

import (
	"math"

	"spectally/bands"
	"spectally/throughput/internal/words"
)

// SightProbability is how likely line of sight is at a distance on the map in metres
// (Report ITU-R M.2412, annex 1 Table A1-9). The height of the user in metres counts
// in UMa alone, up to 23 m; for users indoors the distance is that outdoors. Free
// space has no such figure: it is an error, as are distances and heights that are
// none.
func SightProbability(s Scenario, distance, userHeight float64) (float64, error) {
	switch {
	case s < UMa || s > RMa:
		return 0, &bands.ValueError{Param: "path loss model", Got: s.String(), Allowed: words.List(scenarioNames[UMa:])}
	case !(distance >= 0) || math.IsInf(distance, 0):
		return 0, metresError("distance", distance, "zero or above")
	case s == UMa && !(userHeight >= 0 && userHeight <= 23):
		return 0, metresError("user height", userHeight, "0 to 23 m")
	}
	d := distance
	switch s {
	case UMi:
		return streetSight(d, 36), nil
	case UMa:
		tall := 0.0
		if userHeight > 13 {
			tall = math.Pow((userHeight-13)/10, 1.5)
		}
		p := streetSight(d, 63)
		if d > streetSure {
			p *= 1 + tall*1.25*math.Pow(d/100, 3)*math.Exp(-d/150)
		}
		return min(p, 1), nil
	case InH:
		switch {
		case d <= 5:
			return 1, nil
		case d <= 49:
			return math.Exp(-(d - 5) / 70.8), nil
		}
		return 0.54 * math.Exp(-(d-49)/211.7), nil
	}
	if d <= 10 {
		return 1, nil
	}
	return math.Exp(-(d - 10) / 1000), nil
}

// streetSure is the distance in metres up to which line of sight is sure outdoors.
const streetSure = 18

func streetSight(d, decay float64) float64 {
	if d <= streetSure {
		return 1
	}
	return streetSure/d + math.Exp(-d/decay)*(1-streetSure/d)
}
