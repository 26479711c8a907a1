package ca

import (
	"math/bits"
	"sync/atomic"

	"spectally/bands"
)

// widthSet is a set of channel bandwidths, a bit for each of channelWidths.
type widthSet uint32

// channelWidths holds every channel bandwidth of the operating bands in units
// of 100 kHz, in rising order.
var channelWidths = [...]int32{
	14, 30, 50, 70, 100, 150, 200, 250, 300, 350, 400, 450, 500, 600, 700, 800, 900,
	1000, 2000, 4000, 8000, 16000, 20000,
}

// widthUnit is the unit in which sums of widths are counted: it makes 1.4 MHz a
// whole number.
const widthUnit = 100 * bands.KHz

// widthBit returns the set of one width, given in units of 100 kHz; empty if no
// band has the width.
func widthBit(units int32) widthSet {
	for i, w := range channelWidths {
		if w >= units {
			if w == units {
				return 1 << i
			}
			break
		}
	}
	return 0
}

// widest returns the widest width of the set in units of 100 kHz; 0 if the set
// is empty.
func (s widthSet) widest() int32 {
	if s == 0 {
		return 0
	}
	return channelWidths[bits.Len32(uint32(s))-1]
}

// list writes the set as widths in rising order.
func (s widthSet) list() []bands.Frequency {
	if s == 0 {
		return nil
	}
	out := make([]bands.Frequency, 0, bits.OnesCount32(uint32(s)))
	for i, w := range channelWidths {
		if s&(1<<i) != 0 {
			out = append(out, bands.Frequency(w)*widthUnit)
		}
	}
	return out
}

// bandWidths returns every width of a band: in the downlink, or in the uplink
// of a supplementary uplink. Empty if there is no such band.
func bandWidths(id bands.ID) widthSet {
	slot := bandSlot(id)
	if s := bandWidthSets[slot].Load(); s != 0 {
		return widthSet(s)
	}
	b, err := bands.Lookup(id)
	if err != nil {
		return 0
	}
	direction := bands.Downlink
	if supplementary(id) {
		direction = bands.Uplink
	}
	var s widthSet
	for _, w := range b.WidthsIn(direction, 0) {
		s |= widthBit(int32(w / widthUnit))
	}
	bandWidthSets[slot].Store(uint32(s))
	return s
}

// bandWidthSets caches bandWidths.
var bandWidthSets [2 * bandSlots]atomic.Uint32
