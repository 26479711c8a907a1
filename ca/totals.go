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
//
// Spectrum that LTE and NR share in time counts once, in the carrier that stands first;
// in a part, once among the carriers of the part.
func (a *Assessment) Totals(downlinkShare func(i int) Share) Totals {
	known := make([]Share, len(a.Carriers)) // each is asked for once
	share := func(i int) Share {
		if known[i] == (Share{}) {
			known[i] = downlinkShare(i)
		}
		return known[i]
	}
	t := Totals{Total: a.Sum(share)}
	for _, by := range [...]struct {
		parts *[]Part
		key   func(p *Placed) string
	}{
		{&t.ByRAT, func(p *Placed) string { return p.Band.RAT.String() }},
		{&t.ByBand, func(p *Placed) string { return p.Band.String() }},
		{&t.ByRange, (*Placed).rangeName},
		{&t.ByDuplex, func(p *Placed) string {
			if p.Info == nil {
				return ""
			}
			return p.Info.Duplex.String()
		}},
		{&t.BySite, func(p *Placed) string {
			if !p.HasPCI {
				return ""
			}
			return p.Band.RAT.String() + " PCI " + strconv.Itoa(int(p.PCI))
		}},
	} {
		for i := range a.Carriers {
			if key := by.key(&a.Carriers[i]); key != "" {
				*by.parts = addPart(*by.parts, key, a.carrierTotal(i, share, func(j int) bool { return by.key(&a.Carriers[j]) == key }))
			}
		}
	}
	for _, parts := range [...][]Part{t.ByRAT, t.ByBand, t.ByRange, t.ByDuplex, t.BySite} {
		slices.SortStableFunc(parts, func(a, b Part) int { return compareKeys(a.Key, b.Key) })
	}
	return t
}

// rangeName is the frequency range of the carrier, "LTE" for bands that have none; empty
// for an unknown band.
func (p *Placed) rangeName() string {
	if p.Info == nil {
		return ""
	}
	if r := p.Info.Range.String(); r != "" {
		return r
	}
	return p.Band.RAT.String()
}

// Sum adds the carriers up as a whole, without the parts.
func (a *Assessment) Sum(downlinkShare func(i int) Share) Total {
	var t Total
	for i := range a.Carriers {
		t.add(a.carrierTotal(i, downlinkShare, func(int) bool { return true }))
	}
	return t
}

// carrierTotal is what carrier i adds to those before it of a set.
func (a *Assessment) carrierTotal(i int, downlinkShare func(i int) Share, inSet func(j int) bool) Total {
	p := &a.Carriers[i]
	down, up := p.DownlinkWidth, p.UplinkWidth
	sent := up
	for j := range i {
		if inSet(j) {
			down -= a.SharedWidth(i, j, bands.Downlink)
			shared := a.SharedWidth(i, j, bands.Uplink)
			if up -= shared; a.Carriers[j].Transmits {
				sent -= shared
			}
		}
	}
	down, up = max(down, 0), max(up, 0)
	u := Total{Downlink: down, DownlinkEquivalent: down}
	if p.Transmits {
		u.Uplink = max(sent, 0)
	}
	u.Occupied = down + up
	if p.Info != nil && p.Info.Duplex == bands.TDD {
		u.Occupied = max(down, up)
		u.DownlinkEquivalent = downlinkShare(i).Of(down)
	}
	return u
}

// SharedWidth is the spectrum that two carriers, counted from 0, of which one is LTE and
// one NR, both have in a direction: they use it in turn. None where a place is not known.
func (a *Assessment) SharedWidth(i, j int, d bands.Direction) bands.Frequency {
	p, q := &a.Carriers[i], &a.Carriers[j]
	x, y := p.Span(d), q.Span(d)
	if p.Band.RAT == q.Band.RAT || x.Width() == 0 || y.Width() == 0 || !p.overlaps(q, d) {
		return 0
	}
	return max(0, min(x.High, y.High)-max(x.Low, y.Low))
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
