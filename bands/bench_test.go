package bands

import "testing"

func BenchmarkLookup(b *testing.B) {
	id := ID{NR, 78}
	if _, err := Lookup(id); err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Lookup(id); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkLoad measures what the first question about an NR or an LTE band
// costs: reading the tables it rests on.
func BenchmarkLoad(b *testing.B) {
	nrBandTables()
	b.Run("NR", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			loadNR()
		}
	})
	b.Run("LTE", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			loadLTE()
		}
	})
}
