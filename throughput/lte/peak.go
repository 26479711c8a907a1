package lte

import "spectally/bands"

// Peak is the standard's maximum over a frame of 10 ms: the largest transport
// blocks of every subframe that carries data.
type Peak struct {
	Ordinary  Largest        // of an ordinary subframe
	Special   Largest        // of a special subframe; zero where it carries nothing
	Subframes [Subframes]int // bits of each subframe
	FrameBits int            // their sum
}

// BitsPerSecond is the rate of the frame over its 10 ms.
func (p *Peak) BitsPerSecond() int64 { return frameRate(p.FrameBits) }

// PeakRate adds up the largest transport blocks ([LargestBlock]) of the
// subframes of a frame on a carrier of nRB resource blocks: all ten in FDD, in TDD
// those that carry data of the direction, special subframes with the column of
// DwPTS. Control channels and reference signals are not taken off.
func PeakRate(frame Frame, dir bands.Direction, qm, layers, nRB int) (Peak, error) {
	var p Peak
	var err error
	if p.Ordinary, err = LargestBlock(dir, qm, layers, nRB); err != nil {
		return Peak{}, err
	}
	for i := range Subframes {
		sub := frame.Subframe(i)
		if !sub.Carries(dir) {
			continue
		}
		p.Subframes[i] = p.Ordinary.Bits
		if sub.Kind == SpecialSubframe {
			if p.Special, err = LargestBlock(dir, qm, layers, sub.Column(nRB)); err != nil {
				return Peak{}, err
			}
			p.Subframes[i] = p.Special.Bits
		}
		p.FrameBits += p.Subframes[i]
	}
	return p, nil
}
