package bands

import (
	"strconv"
	"strings"
)

// EARFCN is an E-UTRA (LTE) absolute radio frequency channel number. It names a
// band and a direction besides a frequency.
type EARFCN int32

// earfcnStep is the channel raster of LTE (TS 36.101 clause 5.7.2).
const earfcnStep = 100 * KHz

func (b *Band) addEARFCN(row []string, source Source) {
	for i, d := range []Direction{Downlink, Uplink} {
		low, span := row[1+2*i], row[2+2*i]
		if low == "" {
			continue
		}
		first, last, _ := strings.Cut(span, "-")
		b.rasters = append(b.rasters, Raster{
			Direction: d,
			Spacing:   earfcnStep,
			First:     int32(number(first)),
			Step:      1,
			Last:      int32(number(last)),
			Listed:    b.ID == ID{LTE, 46},
			Note:      row[5],
			Source:    source,
			base:      must(ParseMHz(low)),
		})
	}
}

// earfcnFrequency returns the frequency of an EARFCN of the band.
func (b *Band) earfcnFrequency(n int32) (Frequency, bool) {
	for i := range b.rasters {
		if r := &b.rasters[i]; r.First <= n && n <= r.Last {
			return r.base + earfcnStep*Frequency(n-r.First), true
		}
	}
	return 0, false
}

// Find returns the band, the directions and the frequency of n: both directions
// in a TDD band (TS 36.101 clause 5.7.3).
//
//	F = F_low + 0.1 MHz (N − N_Offs)
func (n EARFCN) Find() (Match, Frequency, error) {
	for _, b := range lteBands.get().all {
		m := Match{Band: b}
		var f Frequency
		for i := range b.rasters {
			r := &b.rasters[i]
			if r.First <= int32(n) && int32(n) <= r.Last {
				f = r.base + earfcnStep*Frequency(int32(n)-r.First)
				m.Downlink = m.Downlink || r.Direction == Downlink
				m.Uplink = m.Uplink || r.Direction == Uplink
			}
		}
		if m.Downlink || m.Uplink {
			return m, f, nil
		}
	}
	return Match{}, 0, &ValueError{
		Param:   "EARFCN",
		Got:     strconv.Itoa(int(n)),
		Allowed: "a number in the range of a band, 0 to 134441",
		Source:  lteBands.get().byNumber[1].rasters[0].Source,
	}
}
