package propagation

import (
	"math"
	"strconv"

	"spectally/bands"
	"spectally/throughput"
	"spectally/throughput/internal/words"
)

// OccupiedWidth is the spectrum that a number of resource blocks fill: twelve
// subcarriers each.
func OccupiedWidth(blocks int, scs bands.Frequency) bands.Frequency {
	return 12 * bands.Frequency(blocks) * scs
}

// PowerPerElement is the power in dBm that a resource element has when a power in dBm
// is spread evenly over all subcarriers of a number of resource blocks.
func PowerPerElement(power float64, blocks int) float64 {
	return power - 10*math.Log10(12*float64(blocks))
}

// RSRP is the reference signal received power in dBm behind a path, by an EIRP in dBm
// spread evenly over the resource blocks of a carrier: that of one resource element.
// The antenna of the UE has no gain. Where the reference signal is sent on one of
// several ports with its part of the power, the EIRP is that of the port.
func RSRP(eirp float64, blocks int, loss float64) float64 {
	return PowerPerElement(eirp, blocks) - loss
}

// LinkBudget is what decides how much loss a link stands.
type LinkBudget struct {
	Power       float64 // of the sender, dBm, over Blocks
	Blocks      int     // resource blocks that are sent
	SCS         bands.Frequency
	NoiseFigure float64 // of the receiver, dB
	SINR        float64 // that the receiver needs, dB
}

// Sensitivity is the power in dBm that the receiver needs over all blocks: thermal
// noise in the spectrum they fill, noise figure and SINR.
func (b *LinkBudget) Sensitivity() float64 {
	return throughput.ThermalNoiseDensity + 10*math.Log10(float64(OccupiedWidth(b.Blocks, b.SCS))) + b.NoiseFigure + b.SINR
}

// MaxCouplingLoss is the largest loss in dB from one antenna connector to the other,
// antenna gains included, that the link stands: the power less the sensitivity
// (common practice, no source).
//
// It is an error if there are no resource blocks or no subcarrier spacing.
func (b *LinkBudget) MaxCouplingLoss() (float64, error) {
	switch {
	case b.Blocks < 1:
		return 0, &bands.ValueError{Param: "resource blocks", Got: strconv.Itoa(b.Blocks), Allowed: "at least one"}
	case b.SCS <= 0:
		return 0, &bands.ValueError{Param: "subcarrier spacing", Got: b.SCS.String(), Allowed: "a spacing above zero"}
	}
	return b.Power - b.Sensitivity(), nil
}

// ShadowMargin is the margin in dB that a part of all places at a distance needs, by
// independent log-normal spreads with the standard deviations given: 0.9 leaves one
// place in ten without. The part lies between 0 and 1, both excluded; outside it is a
// *bands.ValueError.
func ShadowMargin(part float64, sigmas ...float64) (float64, error) {
	if !(part > 0 && part < 1) {
		return 0, &bands.ValueError{Param: "part of places", Got: words.Number(part), Allowed: "above 0 and below 1"}
	}
	variance := 0.0
	for _, s := range sigmas {
		variance += s * s
	}
	return math.Sqrt(2*variance) * math.Erfinv(2*part-1), nil
}
