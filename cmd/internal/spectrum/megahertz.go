package spectrum

import "spectally/bands"

// InMegahertz returns the frequency of a band that a number was meant as if its unit was
// forgotten; empty if that is not in the band.
func InMegahertz(b *bands.Band, n int32) string {
	if f := bands.Frequency(n) * bands.MHz; b.Downlink.Contains(f) || b.Uplink.Contains(f) {
		return f.MHz() + " MHz"
	}
	return ""
}
