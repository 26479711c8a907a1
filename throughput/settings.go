package throughput

import (
	"spectally/bands"
	"spectally/ca"
	"spectally/throughput/exact"
	"spectally/throughput/lte"
	"spectally/throughput/nr"
)

// Settings are what a schedule assumes beyond the carriers. The zero value takes
// the default of each.
type Settings struct {
	// ControlSymbols is the number of symbols of the control region (PDCCH) in a
	// downlink slot of NR, CFI of LTE; 0 takes the default, NoControl none.
	ControlSymbols int
	// Signals are the control and reference signals of NR carriers as they are set up.
	Signals nr.Signals
	// LTE is what of LTE cells is not as usual; its resource blocks are those of the carrier,
	// and so is its frame, but for an extended cyclic prefix in FDD.
	LTE lte.Cell
	// DMRS replaces the demodulation reference signals of NR.
	DMRS *nr.DMRS
	// XOverhead is the xOverhead of NR: 0, 6, 12 or 18.
	XOverhead int
	// NoBroadcast counts slots as if none were kept for SS/PBCH blocks and
	// broadcast.
	NoBroadcast bool
	// Airtime is the share of time in which the network has the channel of carriers in bands
	// for shared-spectrum channel access, both directions together; not given, it is
	// DefaultAirtime.
	Airtime exact.Ratio
	// SINR holds for downlink carriers that do not say.
	SINR ca.Level
	// NoiseFigure of the receiver in dB; 0 takes DefaultNoiseFigure.
	NoiseFigure float64
}

// NoControl is the value of Settings.ControlSymbols for no control region.
const NoControl = -1

func (s *Settings) noiseFigure() float64 {
	if s.NoiseFigure == 0 {
		return DefaultNoiseFigure
	}
	return s.NoiseFigure
}

// airtime is the share of time in which a band is on the air: 1 where others are kept off it.
func (s *Settings) airtime(b *bands.Band) exact.Ratio {
	switch {
	case !b.IsUnlicensed():
		return exact.Whole(1)
	case s.Airtime.IsZero():
		return DefaultAirtime()
	}
	return s.Airtime
}
