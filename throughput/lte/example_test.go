package lte_test

import (
	"errors"
	"fmt"

	"spectally/bands"
	"spectally/throughput/lte"
)

// The size of 20 MHz with 64QAM on two layers, TS 36.306 Table 4.1-1 category 4.
func ExampleTransportBlock() {
	i, _ := lte.ParseITBS("26")
	fmt.Println(lte.TransportBlock(i, 100, 2))
	// Output: 150752 <nil>
}

// The tables give no size for I_TBS 33B at 100 blocks on four layers of one
// codeword.
func ExampleGapError() {
	i, _ := lte.ParseITBS("33B")
	_, err := lte.TransportBlock(i, 100, 8)
	var gap *lte.GapError
	fmt.Println(errors.As(err, &gap), gap.OneBits)
	fmt.Println(err)
	// Output:
	// true 100752
	// the standard gives no transport block size for I_TBS 33B at 100 resource blocks on 4 layers: TS 36.213 Table 7.1.7.2.5-1 has no entry for 100752 bits
}

func ExampleLargestBlock() {
	got, err := lte.LargestBlock(bands.Downlink, 8, 4, 100)
	fmt.Println(got.Bits, got.Blocks[0].ITBS, got.Blocks[0].MCS, err)
	// Output: 391632 33 27 <nil>
}

func ExampleParseFrame() {
	f, err := lte.ParseFrame("2/7")
	for i := range lte.Subframes {
		fmt.Print(f.Subframe(i).Kind)
	}
	s := f.Subframe(1)
	fmt.Println("", s.DownlinkSymbols, s.GuardSymbols, s.UplinkSymbols, s.Column(100), err)
	fmt.Println(lte.Share(f.Shares().Downlink))
	// Output:
	// DSUDDDSUDD 10 2 2 75 <nil>
	// 1783/2400
}

func ExamplePeakRate() {
	f, _ := lte.ParseFrame("2/7")
	p, err := lte.PeakRate(f, bands.Downlink, 6, 2, 100)
	fmt.Println(p.BitsPerSecond(), "bit/s", err)
	// Output: 112473600 bit/s <nil>
}

func ExampleCell_Schedule() {
	cell := lte.Cell{RB: 100, ControlSymbols: 2}
	s, err := cell.Schedule(bands.Downlink, 6, 2)
	for _, i := range []int{0, 1} {
		sub := s.Subframes[i]
		fmt.Println(sub.PRB, "blocks,", sub.Bits, "bits, code rate", sub.Blocks[0].CodeRate().FloatString(3))
	}
	fmt.Println(s.Rate(), "bit/s", err)
	// Output:
	// 100 blocks, 127552 bits, code rate 0.831
	// 100 blocks, 127552 bits, code rate 0.806
	// 127552000 bit/s <nil>
}

func ExampleGrant_Transport() {
	m, _ := lte.PDSCH256QAM.MCS(27)
	grant := lte.Grant{Direction: bands.Downlink, ITBS: m.ITBS, Qm: m.Qm, PRB: 50, Layers: 4, Subframe: 1}
	t, err := grant.Transport()
	fmt.Println(t.Bits, t.Codewords[0].Bits, t.Codewords[0].Segmentation, t.Codewords[0].CodeRate().FloatString(4), err)
	// Output: 195792 97896 16 x 6144 0.9000 <nil>
}

func ExampleCQITable_Highest() {
	q, ok := lte.CQI256QAM.Highest(6)
	fmt.Println(q.Index, q.Qm, q.CodeRate, q.Printed, ok)
	// Output: 12 8 711 5.5547 true
}

func ExampleLookupCategory() {
	c, err := lte.LookupCategory(bands.Downlink, lte.CategoryDownlink, "13")
	fmt.Println(c.MaxBits, c.Layers, c.Source, err)
	// Output: 391632 [2 4] TS 36.306 V19.2.0 Table 4.1A-1 <nil>
}

func ExampleMCSTable_MCS() {
	m, err := lte.PUSCH256QAM.MCS(28)
	fmt.Println(m.Qm, m.ITBS, err)
	_, err = lte.PUSCH256QAM.MCS(29)
	fmt.Println(err)
	// Output:
	// 8 34 <nil>
	// I_MCS "29": must be 0 to 28; 29 to 31 are reserved for retransmissions; closest is 28 (TS 36.213 Table 8.6.1-3)
}

func ExampleSegment() {
	s, err := lte.Segment(75376)
	fmt.Println(s, s.C, err)
	// Output: 13 x 5824 13 <nil>
}
