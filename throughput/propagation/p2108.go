package propagation

import (
	"math"
	"strconv"

	"spectally/bands"
)

// The clauses of Recommendation ITU-R P.2108-1; formulas and constants are from memory, and
// reproduce its test values within their rounding of 0.1 dB.
var (
	sourceHeightGain = bands.Source{Spec: "ITU-R P.2108", Version: "1", Table: "clause 3.1"}
	sourceClutter    = bands.Source{Spec: "ITU-R P.2108", Version: "1", Table: "clause 3.2"}
	sourceSkyClutter = bands.Source{Spec: "ITU-R P.2108", Version: "1", Table: "clause 3.3"}
)

// ClutterLoss is the loss in dB by buildings and trees at one end of a terrestrial path that
// is not exceeded at a part of all places above 0 and below 1, for an end below their tops in
// urban or suburban surroundings (Recommendation ITU-R P.2108-1 clause 3.2). The distance in
// metres is that of the path. It holds from 0.5 to 67 GHz and from 250 m on; what lies
// outside is a *bands.ValueError.
func ClutterLoss(f bands.Frequency, distance, places float64) (float64, error) {
	if err := checkClutter(f, distance); err != nil {
		return 0, err
	}
	if !(places > 0 && places < 1) {
		return 0, &bands.ValueError{Param: "part of places", Got: format(places), Allowed: "above 0 and below 1", Source: sourceClutter}
	}
	n := normalQuantile(places)
	at := func(d float64) float64 {
		median, sigma := clutter(f, d)
		return median + sigma*n
	}
	return min(at(distance), at(clutterFull)), nil
}

// clutterFull is the distance in metres whose loss is not exceeded further on.
const clutterFull = 2000

func checkClutter(f bands.Frequency, distance float64) *bands.ValueError {
	switch {
	case f < 500*bands.MHz || f > 67*bands.GHz:
		return &bands.ValueError{Param: "frequency for clutter loss", Got: f.String(), Allowed: "0.5 to 67 GHz", Source: sourceClutter}
	case !(distance >= 250) || math.IsInf(distance, 0):
		return &bands.ValueError{Param: "distance for clutter loss", Got: format(distance) + " m", Allowed: "at least 250 m", Source: sourceClutter}
	}
	return nil
}

// clutter is the median of the loss, and its standard deviation.
func clutter(f bands.Frequency, distance float64) (median, sigma float64) {
	logF := math.Log10(f.InMHz() / 1000)
	far := -2 * math.Log10(math.Pow(10, -5*logF-12.5)+math.Pow(10, -16.5)) // L_l, whatever the distance
	near := 32.98 + 23.9*math.Log10(distance/1000) + 3*logF                // L_s
	l, s := math.Pow(10, -0.2*far), math.Pow(10, -0.2*near)
	return -5 * math.Log10(l+s), math.Sqrt((16*l + 36*s) / (l + s))
}

// MedianClutter is the median of [ClutterLoss] and the standard deviation of its spread over
// places, in dB; beyond says what is outside of where it holds, nil if nothing is. Far below
// 250 m it is no less than zero.
func MedianClutter(f bands.Frequency, distance float64) (loss, sigma float64, beyond *bands.ValueError) {
	loss, sigma = clutter(f, min(distance, clutterFull))
	return max(loss, 0), sigma, checkClutter(f, distance)
}

// Clutter is a category of what stands round an antenna (Recommendation ITU-R P.2108-1
// Table 3).
type Clutter uint8

// The categories.
const (
	Water Clutter = iota + 1
	OpenRural
	Suburban
	Urban // also trees and forest
	DenseUrban
)

// HeightGainLoss is the median loss in dB that the surroundings of a height in metres add to
// a path whose antenna is below them, across a street of a width in metres (Recommendation
// ITU-R P.2108-1 clause 3.1); zero for an antenna above them. It holds from 0.03 to 3 GHz;
// what lies outside is a *bands.ValueError.
func HeightGainLoss(c Clutter, f bands.Frequency, antenna, surroundings, street float64) (float64, error) {
	switch {
	case c < Water || c > DenseUrban:
		return 0, &bands.ValueError{Param: "category of clutter", Got: strconv.Itoa(int(c)), Allowed: "1 to 5", Source: sourceHeightGain}
	case f < 30*bands.MHz || f > 3*bands.GHz:
		return 0, &bands.ValueError{Param: "frequency for clutter loss by height", Got: f.String(), Allowed: "0.03 to 3 GHz", Source: sourceHeightGain}
	case !(antenna > 0 && surroundings > 0 && street > 0) || math.IsInf(antenna+surroundings+street, 0):
		return 0, &bands.ValueError{Param: "height or street width", Got: format(min(antenna, surroundings, street)) + " m", Allowed: "above zero", Source: sourceHeightGain}
	case antenna >= surroundings:
		return 0, nil
	}
	ghz := f.InMHz() / 1000
	if c <= OpenRural {
		return -(21.8 + 6.2*math.Log10(ghz)) * math.Log10(antenna/surroundings), nil
	}
	above := surroundings - antenna
	angle := math.Atan(above/street) * 180 / math.Pi
	nu := 0.342 * math.Sqrt(ghz) * math.Sqrt(above*angle)
	return 6.9 + 20*math.Log10(math.Hypot(nu-0.1, 1)+nu-0.1) - 6.03, nil
}

// SkyClutterLoss is the loss in dB by buildings round an antenna on the ground that is not
// exceeded at a part of all places above 0 and below 1, on a path to a satellite or aircraft
// at an elevation of 0 to 90 degrees (Recommendation ITU-R P.2108-1 clause 3.3). It holds
// from 10 to 100 GHz; what lies outside is a *bands.ValueError.
func SkyClutterLoss(f bands.Frequency, elevation, places float64) (float64, error) {
	switch {
	case f < 10*bands.GHz || f > 100*bands.GHz:
		return 0, &bands.ValueError{Param: "frequency for clutter loss to the sky", Got: f.String(), Allowed: "10 to 100 GHz", Source: sourceSkyClutter}
	case !(elevation >= 0 && elevation <= 90):
		return 0, &bands.ValueError{Param: "elevation", Got: format(elevation), Allowed: "0 to 90 degrees", Source: sourceSkyClutter}
	case !(places > 0 && places < 1):
		return 0, &bands.ValueError{Param: "part of places", Got: format(places), Allowed: "above 0 and below 1", Source: sourceSkyClutter}
	}
	const a1 = 0.05
	k1 := 93 * math.Pow(f.InMHz()/1000, 0.175)
	turn := a1*(1-elevation/90) + math.Pi*elevation/180
	inner := -k1 * math.Log(1-places) / math.Tan(turn)
	return math.Pow(max(inner, 0), 0.5*(90-elevation)/90) - 1 + 0.6*normalQuantile(places), nil
}
