package propagation

import (
	"math"
	"strconv"

	"spectally/bands"
	"spectally/throughput/internal/words"
)

// Range is the distance on the map in metres at which the median loss of the path
// reaches a loss in dB; p.Distance does not matter. The loss at that distance comes
// with it.
//
// A loss that the model reaches only outside its distances is a *bands.ValueError, or
// marked if Extrapolate is set.
func (p Path) Range(loss float64) (float64, PathLoss, error) {
	p.Distance = 1
	if err := p.check(); err != nil {
		return 0, PathLoss{}, err
	}
	at := func(d float64) float64 {
		p.Distance = d
		l := p.loss()
		return l.DB
	}
	low, high := rangeLimits[0], rangeLimits[1]
	if !(loss > at(low)) || !(loss < at(high)) {
		return 0, PathLoss{}, &bands.ValueError{Param: "loss to reach", Got: decibels(loss), Allowed: "between " + decibels(at(low)) + " at " + words.Number(low) + " m and " + decibels(at(high)) + " at " + words.Number(high/1000) + " km"}
	}
	// The loss rises with the distance, so halving on a scale of logarithms closes in
	// on the place; both ends meet in the end.
	for {
		middle := math.Sqrt(low * high)
		if middle <= low || middle >= high {
			break
		}
		if at(middle) < loss {
			low = middle
		} else {
			high = middle
		}
	}
	p.Distance = high
	l, err := p.Loss()
	if err != nil {
		return 0, PathLoss{}, err
	}
	return high, l, nil
}

// rangeLimits are the distances in metres between which a range is looked for.
var rangeLimits = [2]float64{0.1, 1e6}

// RelativeRange is how far the path reaches on its frequency for each metre that it
// reaches on another, at the same median loss in dB: what a change of band alone does
// to the range. The loss is that of the way outdoors. Errors are those of
// [Path.Range].
func (p Path) RelativeRange(other bands.Frequency, loss float64) (float64, error) {
	own, _, err := p.Range(loss)
	if err != nil {
		return 0, err
	}
	p.Frequency = other
	reference, _, err := p.Range(loss)
	return own / reference, err
}

// decibels writes a level with one decimal and its unit.
func decibels(v float64) string { return strconv.FormatFloat(v, 'f', 1, 64) + " dB" }
