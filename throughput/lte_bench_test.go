package throughput

import (
	"testing"

	"spectally/bands"
)

func BenchmarkLTETransportBlock(b *testing.B) {
	i := lteITBS(b, "26")
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		n = n%LTEMaxPRB + 1
		if _, err := LTETransportBlock(i, n, 8); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLTELargestBlock(b *testing.B) {
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		n = n%LTEMaxPRB + 1
		if _, err := LTELargestBlock(bands.Downlink, 8, 4, n); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLTEPeakRate(b *testing.B) {
	f := lteFrame(b, "2/7")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := LTEPeakRate(f, bands.Downlink, 8, 4, 100); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLTEGrant(b *testing.B) {
	g := LTEGrant{Direction: bands.Downlink, ITBS: lteITBS(b, "26"), Qm: 6, PRB: 100, Layers: 4, Subframe: 1}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := g.Transport(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLTESchedule(b *testing.B) {
	c := LTECell{RB: 100, Frame: lteFrame(b, "2/7")}
	b.Run("kept", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := c.Schedule(bands.Downlink, 8, 4); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("new", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := c.schedule(bands.Downlink, 8, 4); err != nil {
				b.Fatal(err)
			}
		}
	})
}

func BenchmarkLTELoad(b *testing.B) {
	lteTBSFile()
	b.ReportAllocs()
	for b.Loop() {
		loadLTESizes()
	}
}

func BenchmarkParseLTEFrame(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ParseLTEFrame("2/7"); err != nil {
			b.Fatal(err)
		}
	}
}
