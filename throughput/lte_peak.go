package throughput

import "spectally/bands"

// LTEPeak is the standard's maximum over a frame of 10 ms: the largest transport
// blocks of every subframe that carries data.
type LTEPeak struct {
	Ordinary  LTELargest        // of an ordinary subframe
	Special   LTELargest        // of a special subframe; zero where it carries nothing
	Subframes [LTESubframes]int // bits of each subframe
	FrameBits int               // their sum
}

// BitsPerSecond is the rate of the frame over its 10 ms.
func (p *LTEPeak) BitsPerSecond() int64 { return lteFrameRate(p.FrameBits) }

// LTEPeakRate adds up the largest transport blocks ([LTELargestBlock]) of the
// subframes of a frame on a carrier of nRB resource blocks: all ten in FDD, in TDD
// those that carry data of the direction, special subframes with the column of
// DwPTS. Control channels and reference signals are not taken off.
func LTEPeakRate(frame LTEFrame, dir bands.Direction, qm, layers, nRB int) (LTEPeak, error) {
	var p LTEPeak
	var err error
	if p.Ordinary, err = LTELargestBlock(dir, qm, layers, nRB); err != nil {
		return LTEPeak{}, err
	}
	for i := range LTESubframes {
		sub := frame.Subframe(i)
		if !sub.Carries(dir) {
			continue
		}
		p.Subframes[i] = p.Ordinary.Bits
		if sub.Kind == LTESpecialSubframe {
			if p.Special, err = LTELargestBlock(dir, qm, layers, sub.Column(nRB)); err != nil {
				return LTEPeak{}, err
			}
			p.Subframes[i] = p.Special.Bits
		}
		p.FrameBits += p.Subframes[i]
	}
	return p, nil
}
