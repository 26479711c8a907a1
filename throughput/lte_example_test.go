package throughput_test

import (
	"errors"
	"fmt"

	"spectally/bands"
	"spectally/throughput"
)

// The size of 20 MHz with 64QAM on two layers, TS 36.306 Table 4.1-1 category 4.
func ExampleLTETransportBlock() {
	i, _ := throughput.ParseITBS("26")
	fmt.Println(throughput.LTETransportBlock(i, 100, 2))
	// Output: 150752 <nil>
}

// The tables give no size for I_TBS 33B at 100 blocks on four layers of one
// codeword.
func ExampleLTEGapError() {
	i, _ := throughput.ParseITBS("33B")
	_, err := throughput.LTETransportBlock(i, 100, 8)
	var gap *throughput.LTEGapError
	fmt.Println(errors.As(err, &gap), gap.OneBits)
	fmt.Println(err)
	// Output:
	// true 100752
	// the standard gives no transport block size for I_TBS 33B at 100 resource blocks on 4 layers: TS 36.213 Table 7.1.7.2.5-1 has no entry for 100752 bits
}

func ExampleLTELargestBlock() {
	got, err := throughput.LTELargestBlock(bands.Downlink, 8, 4, 100)
	fmt.Println(got.Bits, got.Blocks[0].ITBS, got.Blocks[0].MCS, err)
	// Output: 391632 33 27 <nil>
}

func ExampleParseLTEFrame() {
	f, err := throughput.ParseLTEFrame("2/7")
	for i := range throughput.LTESubframes {
		fmt.Print(f.Subframe(i).Kind)
	}
	s := f.Subframe(1)
	fmt.Println("", s.DownlinkSymbols, s.GuardSymbols, s.UplinkSymbols, s.Column(100), err)
	fmt.Println(throughput.LTEShare(f.Shares().Downlink))
	// Output:
	// DSUDDDSUDD 10 2 2 75 <nil>
	// 1783/2400
}

func ExampleLTEPeakRate() {
	f, _ := throughput.ParseLTEFrame("2/7")
	p, err := throughput.LTEPeakRate(f, bands.Downlink, 6, 2, 100)
	fmt.Println(p.BitsPerSecond(), "bit/s", err)
	// Output: 112473600 bit/s <nil>
}

func ExampleLTECell_Schedule() {
	cell := throughput.LTECell{RB: 100, ControlSymbols: 2}
	s, err := cell.Schedule(bands.Downlink, 6, 2)
	for _, i := range []int{0, 1} {
		sub := s.Subframes[i]
		fmt.Println(sub.PRB, "blocks,", sub.Bits, "bits, code rate", sub.Blocks[0].CodeRate().FloatString(3))
	}
	fmt.Println(s.BitsPerSecond(), "bit/s", err)
	// Output:
	// 94 blocks, 137616 bits, code rate 0.925
	// 97 blocks, 142224 bits, code rate 0.926
	// 141763200 bit/s <nil>
}

func ExampleLTEGrant_Transport() {
	m, _ := throughput.LTEPDSCH256QAM.MCS(27)
	grant := throughput.LTEGrant{Direction: bands.Downlink, ITBS: m.ITBS, Qm: m.Qm, PRB: 50, Layers: 4, Subframe: 1}
	t, err := grant.Transport()
	fmt.Println(t.Bits, t.Codewords[0].Bits, t.Codewords[0].Segmentation, t.Codewords[0].CodeRate().FloatString(4), err)
	// Output: 195792 97896 16 x 6144 0.9000 <nil>
}

func ExampleLTECQITable_Highest() {
	q, ok := throughput.LTECQI256QAM.Highest(6)
	fmt.Println(q.Index, q.Qm, q.CodeRate, q.Printed, ok)
	// Output: 12 8 711 5.5547 true
}

func ExampleLookupLTECategory() {
	c, err := throughput.LookupLTECategory(bands.Downlink, throughput.LTECategoryDownlink, "13")
	fmt.Println(c.MaxBits, c.Layers, c.Source, err)
	// Output: 391632 [2 4] TS 36.306 V19.2.0 Table 4.1A-1 <nil>
}

func ExampleLTEMCSTable_MCS() {
	m, err := throughput.LTEPUSCH256QAM.MCS(28)
	fmt.Println(m.Qm, m.ITBS, err)
	_, err = throughput.LTEPUSCH256QAM.MCS(29)
	fmt.Println(err)
	// Output:
	// 8 34 <nil>
	// I_MCS "29": allowed is 0 to 28; 29 to 31 are reserved for retransmissions; the nearest is 28 (TS 36.213 Table 8.6.1-3)
}

func ExampleLTESegment() {
	s, err := throughput.LTESegment(75376)
	fmt.Println(s, s.C, err)
	// Output: 13 x 5824 13 <nil>
}
