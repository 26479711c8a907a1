package lte

import (
	"math"
	"testing"

	"spectally/bands"
)

// reportBlock is the largest block of one codeword on the layers given that TR
// 37.910 would put into so many resource elements: any index up to the last one of
// the modulation, uplink indices too, at a code rate of at most 0.932, in all n
// blocks. That is inferred from its figures; the report names the size tables of TS
// 36.213 and no more.
func reportBlock(t *testing.T, last string, qm, n, layers int, elements float64) float64 {
	t.Helper()
	best := 0
	for _, i := range ITBSValues() {
		if i > itbs(t, last) || i.String() == "33B" {
			continue
		}
		size, err := CodewordSize(i, n, layers)
		if err == nil && float64(size+24) <= 0.932*elements*float64(qm*layers) {
			best = max(best, size)
		}
	}
	return float64(best)
}

// TR 37.910 V1.0.0 Tables 5.1.2.1-1 to -3 (peak spectral efficiency of the LTE
// downlink, bit/s/Hz) and 5.2.2.1-1 (peak rate of a carrier, Gbit/s) with clause
// B.3.2: eight layers, one control symbol, one port of cell-specific reference signals
// outside MBSFN subframes, 24 elements of UE-specific ones; 6, 4 and 2 MBSFN
// subframes. Inferred: synchronisation signals and PBCH are spread over the other
// four whole or special subframes, and DwPTS takes the highest index.
//
// Not here: 5 MHz, 256QAM, TDD (36.28 and 35.85), which come out 2 % higher.
func TestReportDownlink(t *testing.T) {
	for _, c := range []struct {
		mhz, qm, mbsfn, ordinary int
		special                  int // DwPTS of special subframe configuration 8
		share                    float64
		want, unit               float64
	}{
		{5, 8, 6, 4, 0, 1, 37.56, 0.01}, {15, 8, 6, 4, 0, 1, 36.72, 0.01},
		{5, 10, 6, 4, 0, 1, 46.38, 0.01}, {15, 10, 6, 4, 0, 1, 47.15, 0.01},
		{15, 8, 4, 2, 2, 53.5 / 70, 36.51, 0.01}, {15, 8, 2, 2, 2, 39.5 / 70, 36.44, 0.01},
		{5, 10, 4, 2, 2, 53.5 / 70, 45.82, 0.01}, {15, 10, 4, 2, 2, 53.5 / 70, 46.79, 0.01},
		{5, 10, 2, 2, 2, 39.5 / 70, 45.07, 0.01}, {15, 10, 2, 2, 2, 39.5 / 70, 46.21, 0.01},
		{20, 8, 6, 4, 0, 1, 751.0 / 20, 1.0 / 20},
	} {
		n, err := bands.LTEResourceBlocks(bands.Frequency(c.mhz) * bands.MHz)
		if err != nil {
			t.Fatal(err)
		}
		last := map[int]string{8: "33A", 10: "37A"}[c.qm]
		inMBSFN := float64(n * (13*12 - 24))
		elsewhere := float64(n*(13*12-24-6)) - (2*144+4*72-12)/4.0
		frame := float64(c.mbsfn)*reportBlock(t, last, c.qm, n, 4, inMBSFN) +
			float64(c.ordinary)*reportBlock(t, last, c.qm, n, 4, elsewhere)
		if c.special > 0 {
			dwpts := Subframe{}
			if f, err := NewTDD(2, 8, false); err == nil {
				dwpts = f.Subframe(1)
			}
			top, err := CodewordSize(itbs(t, map[int]string{8: "33", 10: "37"}[c.qm]), dwpts.Column(n), 4)
			if err != nil {
				t.Fatal(err)
			}
			frame += float64(c.special * top)
		}
		got := 2 * frame * 100 / (float64(c.mhz) * 1e6 * c.share)
		if math.Abs(got-c.want) > 0.5001*c.unit {
			t.Errorf("%d MHz, order %d, %d MBSFN subframes: %.4f bit/s/Hz, printed %.2f", c.mhz, c.qm, c.mbsfn, got, c.want)
		}
	}
}

// TR 37.910 V1.0.0 Tables 5.1.2.2-1 to -3 (uplink) and 5.2.2.2-1 with clause B.3.2: four
// layers, 256QAM, two blocks of PUCCH, two symbols of reference signal, in FDD one
// symbol of sounding every 10 ms. The report uses all other blocks, though their
// number is no product of 2, 3 and 5.
func TestReportUplink(t *testing.T) {
	for _, c := range []struct {
		mhz, subframes, sounding int
		share                    float64
		want, unit               float64
	}{
		{5, 10, 1, 1, 19.31, 0.01}, {15, 10, 1, 1, 20.25, 0.01},
		{5, 2, 0, 16.5 / 70, 16.61, 0.01}, {15, 2, 0, 16.5 / 70, 17.31, 0.01},
		{5, 4, 0, 30.5 / 70, 17.97, 0.01}, {15, 4, 0, 30.5 / 70, 18.72, 0.01},
		{20, 10, 1, 1, 403.0 / 20, 1.0 / 20},
	} {
		n, err := bands.LTEResourceBlocks(bands.Frequency(c.mhz) * bands.MHz)
		if err != nil {
			t.Fatal(err)
		}
		n -= 2
		frame := float64(c.subframes-c.sounding)*reportBlock(t, "34", 8, n, 2, float64(n*12*12)) +
			float64(c.sounding)*reportBlock(t, "34", 8, n, 2, float64(n*12*11))
		got := 2 * frame * 100 / (float64(c.mhz) * 1e6 * c.share)
		if math.Abs(got-c.want) > 0.5001*c.unit {
			t.Errorf("%d MHz, %d uplink subframes: %.4f bit/s/Hz, printed %.2f", c.mhz, c.subframes, got, c.want)
		}
	}
}
