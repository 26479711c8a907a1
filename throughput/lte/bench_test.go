package lte

import (
	"testing"

	"spectally/bands"
)

func BenchmarkTransportBlock(b *testing.B) {
	i := itbs(b, "26")
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		n = n%MaxPRB + 1
		if _, err := TransportBlock(i, n, 8); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLargestBlock(b *testing.B) {
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		n = n%MaxPRB + 1
		if _, err := LargestBlock(bands.Downlink, 8, 4, n); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPeakRate(b *testing.B) {
	f := frame(b, "2/7")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := PeakRate(f, bands.Downlink, 8, 4, 100); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkGrant(b *testing.B) {
	g := Grant{Direction: bands.Downlink, ITBS: itbs(b, "26"), Qm: 6, PRB: 100, Layers: 4, Subframe: 1}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := g.Transport(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSchedule(b *testing.B) {
	c := Cell{RB: 100, Frame: frame(b, "2/7")}
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

func BenchmarkLoad(b *testing.B) {
	tbsFile()
	b.ReportAllocs()
	for b.Loop() {
		loadSizes()
	}
}

func BenchmarkParseLTEFrame(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ParseFrame("2/7"); err != nil {
			b.Fatal(err)
		}
	}
}
