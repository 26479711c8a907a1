package interference

import (
	"testing"

	"spectally/bands"
)

// five are five carriers that all transmit.
func five(tb testing.TB) []Carrier {
	tb.Helper()
	return []Carrier{
		placed(tb, "B1", 20, 2140), placed(tb, "B3", 20, 1842.5), placed(tb, "B20", 10, 806),
		placed(tb, "n28", 10, 773), placed(tb, "n78", 100, 3550),
	}
}

// placed is a carrier of a width in MHz, the same both ways, with its downlink centre.
func placed(tb testing.TB, band string, width, centre float64) Carrier {
	tb.Helper()
	id, err := bands.ParseID(band)
	if err != nil {
		tb.Fatal(err)
	}
	b, err := bands.Lookup(id)
	if err != nil {
		tb.Fatal(err)
	}
	w := hertz(width)
	return Of(b, w, w).Receiving(hertz(centre))
}

func hertz(mhz float64) bands.Frequency { return bands.Frequency(mhz*1e6 + 0.5) }

var kept []Product

// The aim is 20 µs for five carriers with every product up to order 5.
func BenchmarkFind(b *testing.B) {
	carriers := five(b)
	b.Run("placed", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			kept = Find(carriers, Options{})
		}
	})
	b.Run("order 9", func(b *testing.B) {
		for b.Loop() {
			kept = Find(carriers, Options{Order: 9})
		}
	})
	var free []Carrier
	for _, c := range carriers {
		info, err := bands.Lookup(c.Band)
		if err != nil {
			b.Fatal(err)
		}
		free = append(free, Of(info, c.Downlink.Width, c.Uplink.Width))
	}
	b.Run("anywhere", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			kept = Find(free, Options{})
		}
	})
}
