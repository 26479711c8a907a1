package throughput

import (
	"math"

	"spectally/bands"
)

// ThermalNoiseDensity is the thermal noise power density in dBm/Hz at 290 K
// (common practice: 10 log10 of k T in milliwatt, -173.98, rounded).
const ThermalNoiseDensity = -174.0

// DefaultNoiseFigure is the noise figure of a UE receiver in dB that this program
// assumes: 9 dB is usual in coexistence studies (from memory). It depends on band
// and device.
const DefaultNoiseFigure = 9.0

// SubcarrierNoise is the noise power of a subcarrier in dBm: thermal noise in the
// subcarrier spacing plus the noise figure in dB.
func SubcarrierNoise(scs bands.Frequency, noiseFigure float64) float64 {
	return ThermalNoiseDensity + 10*math.Log10(float64(scs)) + noiseFigure
}

// SNRCeiling is the signal-to-noise ratio in dB that a reference signal received
// power in dBm leaves when there is no interference at all. RSRP is the power of
// one resource element, so the noise is that of one subcarrier. A measured SINR
// above it points to a better receiver than the noise figure says.
func SNRCeiling(rsrp float64, scs bands.Frequency, noiseFigure float64) float64 {
	return rsrp - SubcarrierNoise(scs, noiseFigure)
}
