package bands

import (
	"fmt"
	"slices"
	"strconv"
)

// ChannelFrequency returns the frequency of a channel number of the band: an
// NR-ARFCN or an EARFCN. The number must belong to the band in some direction;
// it need not lie on the channel raster.
func (b *Band) ChannelFrequency(n int32) (Frequency, error) {
	if b.ID.RAT == LTE {
		if f, ok := b.earfcnFrequency(n); ok {
			return f, nil
		}
		return 0, b.channelError(n)
	}
	f, err := ARFCN(n).Frequency()
	if err != nil {
		return 0, err
	}
	if !b.Downlink.Contains(f) && !b.Uplink.Contains(f) {
		return 0, b.channelError(n)
	}
	return f, nil
}

// Directions tells in which directions of the band a channel number lies.
func (b *Band) Directions(n int32) (downlink, uplink bool) {
	if b.ID.RAT == LTE {
		for i := range b.rasters {
			if r := &b.rasters[i]; r.First <= n && n <= r.Last {
				downlink = downlink || r.Direction == Downlink
				uplink = uplink || r.Direction == Uplink
			}
		}
		return downlink, uplink
	}
	f, err := ARFCN(n).Frequency()
	return err == nil && b.Downlink.Contains(f), err == nil && b.Uplink.Contains(f)
}

func (b *Band) channelError(n int32) error {
	param := "NR-ARFCN of "
	if b.ID.RAT == LTE {
		param = "EARFCN of "
	}
	e := &ValueError{Param: param + b.ID.String(), Got: strconv.Itoa(int(n)), Source: b.rasterSource()}
	for _, d := range []Direction{Downlink, Uplink} {
		first, last, ok := b.NumberRange(d)
		if !ok || d == Uplink && b.Duplex == TDD {
			continue
		}
		if e.Allowed != "" {
			e.Allowed += ", "
		}
		e.Allowed += fmt.Sprintf("%d to %d (%s)", first, last, d)
		if b.Duplex == TDD {
			e.Allowed = fmt.Sprintf("%d to %d", first, last)
		}
	}
	e.Nearest = b.otherNumber(n)
	if f := Frequency(n) * MHz; b.Downlink.Contains(f) || b.Uplink.Contains(f) { // a frequency without its unit
		e.Nearest = f.MHz() + " MHz"
	}
	return e
}

// otherNumber says what the number is in the band of the same spectrum of the other
// technology, whose numbers are easily taken for those of this one; empty if nothing.
func (b *Band) otherNumber(n int32) string {
	rat, name := NR, "NR-ARFCN "
	if b.ID.RAT == NR {
		rat, name = LTE, "EARFCN "
	}
	for _, m := range ByChannel(rat, n) {
		same := m.Band.Downlink == b.Downlink && m.Band.Uplink == b.Uplink
		if m.Band.ID.Number != b.ID.Number && !same {
			continue
		}
		if f, err := m.Band.ChannelFrequency(n); err == nil {
			return name + strconv.Itoa(int(n)) + " of " + m.Band.ID.String() + ", " + f.MHz() + " MHz"
		}
	}
	return ""
}

func (b *Band) rasterSource() Source {
	if len(b.rasters) == 0 {
		return b.Source
	}
	return b.rasters[0].Source
}

// NumberRange returns the first and last channel number of the band in a
// direction; false if it has none.
func (b *Band) NumberRange(d Direction) (first, last int32, ok bool) {
	for i := range b.rasters {
		r := &b.rasters[i]
		if r.Direction != d || r.Step == 0 {
			continue
		}
		if !ok || r.First < first {
			first = r.First
		}
		last = max(last, r.Last)
		ok = true
	}
	if ok || b.Span(d).IsZero() {
		return first, last, ok
	}
	for _, c := range b.listed() {
		if !ok || c.Number < first {
			first = c.Number
		}
		last = max(last, c.Number)
		ok = true
	}
	return first, last, ok
}

// ChannelNumber returns the channel number of the band nearest to a frequency in a
// direction, and whether it is exact. It is a ValueError if the frequency lies
// outside the band. The number need not lie on the channel raster.
func (b *Band) ChannelNumber(d Direction, f Frequency) (n int32, exact bool, err error) {
	span := b.Span(d)
	if !span.Contains(f) {
		allowed := span.String()
		if span.IsZero() {
			allowed = "none: the band has no " + d.String()
		}
		return 0, false, &ValueError{Param: b.ID.String() + " " + d.String() + " frequency", Got: f.String(), Allowed: allowed, Source: b.Source}
	}
	if b.ID.RAT == NR {
		n, exact, err := ARFCNNear(f)
		if err != nil || exact {
			return int32(n), exact, err
		}
		switch at, _ := n.Frequency(); { // of two neighbours the one inside the band
		case at < span.Low:
			n++
		case at > span.High:
			n--
		}
		return int32(n), false, nil
	}
	for i := range b.rasters {
		r := &b.rasters[i]
		if r.Direction != d {
			continue
		}
		steps := (f - r.base + (earfcnStep-1)/2) / earfcnStep
		n := min(r.First+int32(steps), r.Last)
		return n, r.base+earfcnStep*Frequency(n-r.First) == f, nil
	}
	return 0, false, &ValueError{Param: "band with channel numbers", Got: b.ID.String(), Allowed: "a band of the EARFCN table", Source: b.rasterSource()}
}

// OnRaster tells whether the channel number lies on a channel raster of the band,
// or in its list where channels of the width stand only at listed numbers. A zero
// width stands for any. Whether a channel of the width stays inside the band is not
// asked. The subcarrier spacing picks the raster where a band has two: the wider one
// is meant for channels that use the wider spacing alone (TS 38.101-1 clause
// 5.4.2.3), the narrower one holds for all, so a number of any raster counts here;
// see [Band.OnOwnRaster].
func (b *Band) OnRaster(d Direction, n int32, width Frequency) bool {
	if b.hasList(width) {
		return b.isListed(d, n, width)
	}
	for i := range b.rasters {
		if r := &b.rasters[i]; r.Direction == d && r.Has(n) {
			return true
		}
	}
	return false
}

// OnOwnRaster tells whether the channel number lies on the raster that applies to
// a channel whose only subcarrier spacing is scs, with a synchronisation block of
// the same spacing. It differs from OnRaster where the band has a 15 and a 30 kHz
// raster, or a 60 and a 120 kHz one: of those the widest not above scs applies.
// In a band whose channels stand only at listed numbers it is the list.
func (b *Band) OnOwnRaster(d Direction, n int32, scs Frequency) bool {
	var own *Raster
	for i := range b.rasters {
		r := &b.rasters[i]
		if r.Direction != d {
			continue
		}
		if r.Listed {
			return b.OnRaster(d, n, 0)
		}
		if r.Spacing == 100*KHz { // not bound to a subcarrier spacing
			if r.Has(n) {
				return true
			}
			continue
		}
		if r.Spacing <= scs && (own == nil || r.Spacing > own.Spacing) {
			own = r
		}
	}
	return own != nil && own.Has(n)
}

// OnEnhancedRaster tells whether the channel number lies on the enhanced 10 kHz
// raster of the band.
func (b *Band) OnEnhancedRaster(d Direction, n int32) bool {
	return slices.ContainsFunc(enhancedRasters()[b.ID], func(r Raster) bool {
		return r.Direction == d && r.Has(n)
	})
}

// NearestOnRaster lists the channel numbers nearest to n at which the band allows
// a carrier of the width, in rising order: one on each side where there is one,
// n alone if it is allowed itself.
func (b *Band) NearestOnRaster(d Direction, n int32, width Frequency) []int32 {
	if b.OnRaster(d, n, width) {
		return []int32{n}
	}
	var below, above int32
	var hasBelow, hasAbove bool
	take := func(m int32) {
		switch {
		case m < n && (!hasBelow || m > below):
			below, hasBelow = m, true
		case m > n && (!hasAbove || m < above):
			above, hasAbove = m, true
		}
	}
	if b.hasList(width) {
		for _, c := range b.listed() {
			if (width == 0 || c.Width == width) && (directions{c.Downlink, c.Uplink}).has(d) {
				take(c.Number)
			}
		}
	} else {
		for i := range b.rasters {
			r := &b.rasters[i]
			if r.Direction != d || r.Step == 0 {
				continue
			}
			m := r.upTo(n)
			take(m)
			if m += r.Step; m <= r.Last {
				take(m)
			}
		}
	}
	var list []int32
	if hasBelow {
		list = append(list, below)
	}
	if hasAbove {
		list = append(list, above)
	}
	return list
}
