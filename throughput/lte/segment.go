package lte

import "strconv"

// CRCBits is the length of the CRC of a transport block and of a code block
// (TS 36.212 clauses 5.1.1, 5.1.2, 5.3.2.1).
const CRCBits = 24

// maxCodeBlock is Z, the greatest code block in bits (TS 36.212 clause 5.1.2).
const maxCodeBlock = 6144

// Segmentation is how a transport block with its CRC is cut into code blocks
// for the turbo coder (TS 36.212 clause 5.1.2). The names are the clause's.
type Segmentation struct {
	C      int // number of code blocks
	CPlus  int // of these, the number with KPlus bits
	KPlus  int // bits of the larger code blocks, their CRC included
	CMinus int // number with KMinus bits
	KMinus int // bits of the smaller code blocks; 0 where there are none
	F      int // filler bits
}

// Segment cuts a transport block of the given bits, its CRC not counted,
// into code blocks. It is an error if bits is not positive.
func Segment(bits int) (Segmentation, error) {
	if bits < 1 || bits > 1<<30 {
		return Segmentation{}, rangeError("transport block size", bits, 1, 1<<30, oneLayer().source)
	}
	return segment(bits), nil
}

func segment(bits int) Segmentation {
	b := bits + CRCBits
	s := Segmentation{C: 1}
	if b > maxCodeBlock {
		s.C = (b + maxCodeBlock - CRCBits - 1) / (maxCodeBlock - CRCBits)
		b += s.C * CRCBits
	}
	s.KPlus = interleaverAtLeast((b + s.C - 1) / s.C)
	if s.C > 1 {
		smaller := interleaverBelow(s.KPlus)
		s.CMinus = (s.C*s.KPlus - b) / (s.KPlus - smaller)
		if s.CMinus > 0 {
			s.KMinus = smaller
		}
	}
	s.CPlus = s.C - s.CMinus
	s.F = s.CPlus*s.KPlus + s.CMinus*s.KMinus - b
	return s
}

// String writes the code blocks as sizes: "13 x 5824", "5 x 6144 + 2 x 6080".
func (s Segmentation) String() string {
	out := strconv.Itoa(s.CPlus) + " x " + strconv.Itoa(s.KPlus)
	if s.CMinus > 0 {
		out += " + " + strconv.Itoa(s.CMinus) + " x " + strconv.Itoa(s.KMinus)
	}
	return out
}

// interleaver are the sizes that the turbo code's internal interleaver has
// (TS 36.212 Table 5.1.3-3): from each first, in steps, to the last before the
// next.
var interleaver = [...]struct{ first, step int }{{40, 8}, {512, 16}, {1024, 32}, {2048, 64}}

// interleaverAtLeast is the smallest size of the interleaver that holds n
// bits, n being at most Z.
func interleaverAtLeast(n int) int {
	row := interleaver[0]
	for _, r := range interleaver[1:] {
		if n > r.first {
			row = r
		}
	}
	steps := max(0, n-row.first+row.step-1) / row.step
	return row.first + steps*row.step
}

// interleaverBelow is the greatest size below k, itself a size.
func interleaverBelow(k int) int {
	step := interleaver[0].step
	for _, r := range interleaver[1:] {
		if k > r.first {
			step = r.step
		}
	}
	return k - step
}
