package nr

import (
	"fmt"
	"testing"

	"spectally/bands"
)

// TestNumerologies checks TS 38.211 V19.3.0 Tables 4.2-1, 4.3.2-1 and 4.3.2-2 by
// what they follow: 15 kHz * 2^mu, 2^mu slots in a millisecond.
func TestNumerologies(t *testing.T) {
	rows := Numerologies()
	if len(rows) != 8 {
		t.Fatalf("%d rows", len(rows))
	}
	for _, n := range rows {
		symbols := 14
		if n.Extended {
			symbols = 12
		}
		if n.SCS != 15*bands.KHz<<n.Mu || n.SlotsPerSubframe != 1<<n.Mu || n.SlotsPerFrame != 10<<n.Mu || n.SymbolsPerSlot != symbols || n.Extended && n.Mu != 2 {
			t.Errorf("%+v", n)
		}
		got, err := NumerologyOf(n.SCS)
		if data := n.Mu != 4; data != (err == nil) || data && (got.Mu != n.Mu || got.Extended) {
			t.Errorf("%s: %+v, %v", n.SCS, got, err)
		}
	}
}

func ExampleCarrier_MaxRate() {
	c := Carrier{Range: bands.FR1, Direction: bands.Downlink, SCS: 30 * bands.KHz, ResourceBlocks: 273, Layers: 4, Qm: 8}
	rate, err := c.MaxRate()
	fmt.Printf("%s bit/s, %.1f Mbit/s, %v\n", rate, rate.Mbps(), err)
	// Output:
	// 2337000120 bit/s, 2337.0 Mbit/s, <nil>
}
