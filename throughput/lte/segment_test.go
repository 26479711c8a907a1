package lte

import (
	"slices"
	"testing"
)

// interleaverSizes are the 188 sizes of TS 36.212 Table 5.1.3-3, written down
// from memory as its four runs.
func interleaverSizes() []int {
	var sizes []int
	for k := 40; k <= 512; k += 8 {
		sizes = append(sizes, k)
	}
	for k := 528; k <= 1024; k += 16 {
		sizes = append(sizes, k)
	}
	for k := 1056; k <= 2048; k += 32 {
		sizes = append(sizes, k)
	}
	for k := 2112; k <= 6144; k += 64 {
		sizes = append(sizes, k)
	}
	return sizes
}

// The steps of TS 36.212 clause 5.1.2 on the list of sizes, for every number of
// bits up to several code blocks.
func TestSegment(t *testing.T) {
	sizes := interleaverSizes()
	if len(sizes) != 188 {
		t.Fatalf("%d sizes of the interleaver, Table 5.1.3-3 has 188", len(sizes))
	}
	for bits := 1; bits <= 40000; bits++ {
		b, blocks := bits+24, 1
		if b > 6144 {
			for blocks*(6144-24) < b {
				blocks++
			}
			b += 24 * blocks
		}
		plus, _ := slices.BinarySearchFunc(sizes, b, func(k, b int) int { return blocks*k - b })
		want := Segmentation{C: blocks, CPlus: blocks, KPlus: sizes[plus]}
		if blocks > 1 {
			minus := sizes[plus-1]
			want.CMinus = (blocks*want.KPlus - b) / (want.KPlus - minus)
			want.CPlus -= want.CMinus
			if want.CMinus > 0 {
				want.KMinus = minus
			}
		}
		want.F = want.CPlus*want.KPlus + want.CMinus*want.KMinus - b
		got, err := Segment(bits)
		if err != nil || got != want || got.F < 0 {
			t.Fatalf("%d bits: %+v, %v; want %+v", bits, got, err, want)
		}
	}
	for _, bits := range []int{0, -8} {
		if _, err := Segment(bits); err == nil {
			t.Errorf("%d bits were cut into code blocks", bits)
		}
	}
}

// Every size of TS 36.213 V19.3.0 clause 7.1.7.2 fills equal code blocks of the
// turbo coder without filler bits, but for five cells of Table 7.1.7.2.5-1.
func TestSizesFillCodeBlocks(t *testing.T) {
	exceptions := map[int]bool{422232: true, 452832: true, 471192: true, 501792: true}
	met := make(map[int]bool)
	for _, i := range ITBSValues() {
		for n := 1; n <= MaxPRB; n++ {
			for layers := 1; layers <= 4; layers++ {
				bits, err := CodewordSize(i, n, layers)
				if err != nil {
					continue // a gap: TestLTEGaps
				}
				s, err := Segment(bits)
				if err != nil {
					t.Fatal(err)
				}
				odd := s.F != 0 || s.CMinus != 0
				if odd != exceptions[bits] {
					t.Errorf("I_TBS %s, %d blocks, %d layers: %d bits as %s with %d filler bits", i, n, layers, bits, s, s.F)
				}
				if odd {
					met[bits] = true
				}
			}
		}
	}
	if len(met) != len(exceptions) {
		t.Errorf("sizes that do not fill code blocks: %v", met)
	}
}

func TestSegmentationString(t *testing.T) {
	for bits, want := range map[int]string{
		75376: "13 x 5824", // 13 x (5824 - 24) = 75376 + 24
		6120:  "1 x 6144",
		6200:  "2 x 3136",
		6216:  "1 x 3200 + 1 x 3136",
	} {
		if s, err := Segment(bits); err != nil || s.String() != want {
			t.Errorf("%d bits: %s, %v; want %s", bits, s, err, want)
		}
	}
}
