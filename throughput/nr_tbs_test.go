package throughput

import "testing"

func BenchmarkNRTransportBlock(b *testing.B) {
	a := NRAllocation{PRB: 273, Symbols: 12, DMRSRE: 24, Layers: 4, Qm: 8, Rate2048: 2 * 948}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := a.TransportBlock(); err != nil {
			b.Fatal(err)
		}
	}
}
func BenchmarkNRTransportBlockSmall(b *testing.B) {
	a := NRAllocation{PRB: 3, Symbols: 12, DMRSRE: 24, Layers: 1, Qm: 2, Rate2048: 2 * 193}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := a.TransportBlock(); err != nil {
			b.Fatal(err)
		}
	}
}
