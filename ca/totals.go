package ca

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
)

// Total is spectrum under the four meanings of "total bandwidth", in hertz.
type Total struct {
	// Downlink is the sum of the downlink channel bandwidths: what "aggregated
	// bandwidth" usually means.
	Downlink bands.Frequency
	// Uplink is the sum of the uplink channel bandwidths on which the UE
	// transmits.
	Uplink bands.Frequency
	// Occupied is the spectrum taken up on the air: paired carriers count both
	// directions, TDD once.
	Occupied bands.Frequency
	// DownlinkEquivalent is the downlink bandwidth weighted by the downlink share
	// of time, to the nearest hertz.
	DownlinkEquivalent bands.Frequency
}

func (t *Total) add(u Total) {
	t.Downlink += u.Downlink
	t.Uplink += u.Uplink
	t.Occupied += u.Occupied
	t.DownlinkEquivalent += u.DownlinkEquivalent
}

// Part is the total of the carriers that share a key, such as a band.
type Part struct {
	Key string
	Total
}

// Totals are the totals of a combination, as a whole and in parts.
type Totals struct {
	Total
	ByRAT, ByBand, ByRange, ByDuplex, BySite []Part
}

// Share is a share of time as an exact fraction.
type Share struct{ Part, Whole int64 }

// Of returns the share of f, to the nearest hertz, halves up.
func (s Share) Of(f bands.Frequency) bands.Frequency {
	if s.Whole == 0 {
		return 0
	}
	return bands.Frequency((2*int64(f)*s.Part + s.Whole) / (2 * s.Whole))
}

// Float returns the share as a number between 0 and 1.
func (s Share) Float() float64 {
	if s.Whole == 0 {
		return 0
	}
	return float64(s.Part) / float64(s.Whole)
}

// Totals adds the carriers up. downlinkShare tells the downlink share of time of
// carrier i, counted from 0; it is asked only about TDD carriers.
//
// Parts are by technology ("LTE", "NR"), band, frequency range ("LTE" for bands
// that have none), duplex mode, and site: carriers of one technology with the same
// physical cell identity are taken for one cell group of a site ("NR PCI 17"),
// carriers without one are left out of that sum.
func (a *Assessment) Totals(downlinkShare func(i int) Share) Totals {
	var t Totals
	for i := range a.Carriers {
		p := &a.Carriers[i]
		u := a.carrierTotal(i, downlinkShare)
		t.add(u)
		t.ByRAT = addPart(t.ByRAT, p.Band.RAT.String(), u)
		t.ByBand = addPart(t.ByBand, p.Band.String(), u)
		if p.Info != nil {
			r := p.Info.Range.String()
			if r == "" {
				r = p.Band.RAT.String()
			}
			t.ByRange = addPart(t.ByRange, r, u)
			t.ByDuplex = addPart(t.ByDuplex, p.Info.Duplex.String(), u)
		}
		if p.HasPCI {
			t.BySite = addPart(t.BySite, p.Band.RAT.String()+" PCI "+strconv.Itoa(int(p.PCI)), u)
		}
	}
	for _, parts := range [...][]Part{t.ByRAT, t.ByBand, t.ByRange, t.ByDuplex, t.BySite} {
		slices.SortStableFunc(parts, func(a, b Part) int { return compareKeys(a.Key, b.Key) })
	}
	return t
}

// Sum adds the carriers up as a whole, without the parts.
func (a *Assessment) Sum(downlinkShare func(i int) Share) Total {
	var t Total
	for i := range a.Carriers {
		t.add(a.carrierTotal(i, downlinkShare))
	}
	return t
}

func (a *Assessment) carrierTotal(i int, downlinkShare func(i int) Share) Total {
	p := &a.Carriers[i]
	u := Total{Downlink: p.DownlinkWidth, DownlinkEquivalent: p.DownlinkWidth}
	if p.Transmits {
		u.Uplink = p.UplinkWidth
	}
	u.Occupied = p.DownlinkWidth + p.UplinkWidth
	if p.Info != nil && p.Info.Duplex == bands.TDD {
		u.Occupied = max(p.DownlinkWidth, p.UplinkWidth)
		u.DownlinkEquivalent = downlinkShare(i).Of(p.DownlinkWidth)
	}
	return u
}

func addPart(parts []Part, key string, u Total) []Part {
	for i := range parts {
		if parts[i].Key == key {
			parts[i].add(u)
			return parts
		}
	}
	return append(parts, Part{key, u})
}

// compareKeys orders keys by their words, and by number where they end in one:
// B3 before B20.
func compareKeys(a, b string) int {
	textA, numberA := splitNumber(a)
	textB, numberB := splitNumber(b)
	if c := strings.Compare(textA, textB); c != 0 {
		return c
	}
	return numberA - numberB
}

func splitNumber(s string) (text string, number int) {
	end := len(s)
	for end > 0 && '0' <= s[end-1] && s[end-1] <= '9' {
		end--
	}
	number, err := strconv.Atoi(s[end:])
	if err != nil {
		return s, 0
	}
	return s[:end], number
}
