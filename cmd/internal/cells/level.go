package cells

import (
	"fmt"
	"math"

	"spectally/bands"
	"spectally/ca"
)

// LevelMargin is how far, in dB, the levels of two carriers may be from the offset
// that frequency alone lets expect before this program speaks of it. Antenna gain,
// tilt, transmit power for each resource element and the phone's own antennas differ
// between bands by about as much: common practice, no source.
const LevelMargin = 10.0

// Offset compares the RSRP of a carrier with that of one lower in frequency.
type Offset struct {
	Carrier, Reference int // places in the assessment
	// Measured is how far the carrier lies below the reference, in dB.
	Measured float64
	// Expected is 20 log10 of the ratio of their frequencies, in dB: what
	// free-space loss alone would make it.
	Expected float64
	// Approximate tells that the middle of the band stands for a place that is not
	// known.
	Approximate bool
}

// Difference is measured less expected.
func (o *Offset) Difference() float64 { return o.Measured - o.Expected }

// Within tells whether the difference is no more than LevelMargin.
func (o *Offset) Within() bool { return math.Abs(o.Difference()) <= LevelMargin }

// Offsets compares the levels of all pairs of carriers that give one. From one site the
// higher frequency arrives weaker by 20 log10(f/f_ref) dB if both are sent alike: common
// practice, no source.
func Offsets(a *ca.Assessment) []Offset {
	var list []Offset
	for i := range a.Carriers {
		for k := i + 1; k < len(a.Carriers); k++ {
			higher, lower := i, k
			f, rough := frequencyOf(&a.Carriers[higher])
			g, roughly := frequencyOf(&a.Carriers[lower])
			if f == 0 || g == 0 {
				continue
			}
			if f < g || f == g && higher < lower {
				higher, lower, f, g = lower, higher, g, f
			}
			list = append(list, Offset{
				Carrier: higher, Reference: lower,
				Measured:    float64(a.Carriers[lower].RSRP.Hundredths()-a.Carriers[higher].RSRP.Hundredths()) / 100,
				Expected:    20 * math.Log10(float64(f)/float64(g)),
				Approximate: rough || roughly,
			})
		}
	}
	return list
}

// frequencyOf is where a carrier with a level is received, and whether that is only
// the middle of its band; zero for a carrier without a level or a downlink.
func frequencyOf(p *ca.Placed) (f bands.Frequency, approximate bool) {
	switch {
	case !p.RSRP.IsGiven() || p.Info == nil || !p.Info.Has(bands.Downlink):
		return 0, false
	case p.DownlinkCentre != 0:
		return p.DownlinkCentre, false
	}
	s := p.Info.Span(bands.Downlink)
	return (s.Low + s.High) / 2, true
}

// Statement says in one sentence what the offset tells.
func (o *Offset) Statement(a *ca.Assessment) string {
	if o.Within() {
		return o.text(a) + ": consistent with one site."
	}
	return fmt.Sprintf("%s: %.1f dB off, which other antennas, other power or another site can cause.", o.text(a), math.Abs(o.Difference()))
}

// text says how the levels lie and what of it frequency explains.
func (o *Offset) text(a *ca.Assessment) string {
	p, r := &a.Carriers[o.Carrier], &a.Carriers[o.Reference]
	if o.Measured < 0 {
		return fmt.Sprintf("%s is %.1f dB above %s, though frequency alone puts it %.1f dB below", p.Band, -o.Measured, r.Band, o.Expected)
	}
	if o.Measured < o.Expected {
		return fmt.Sprintf("%s is %.1f dB below %s, and frequency alone explains %.1f dB", p.Band, o.Measured, r.Band, o.Expected)
	}
	return fmt.Sprintf("%s is %.1f dB below %s, %.1f dB of it from frequency alone", p.Band, o.Measured, r.Band, o.Expected)
}
