package interference_test

import (
	"fmt"

	"spectally/bands"
	"spectally/ca/interference"
)

// A phone transmits on B3 and n78 at once. Which products fall on the B3 downlink?
func ExampleFind() {
	b3, _ := bands.Lookup(bands.ID{RAT: bands.LTE, Number: 3})
	n78, _ := bands.Lookup(bands.ID{RAT: bands.NR, Number: 78})
	carriers := []interference.Carrier{
		interference.Of(b3, 20*bands.MHz, 20*bands.MHz).Receiving(1815 * bands.MHz),
		interference.Of(n78, 100*bands.MHz, 100*bands.MHz).Receiving(3550 * bands.MHz),
	}
	for _, p := range interference.Find(carriers, interference.Options{}) {
		fmt.Println(p.Kind, p.Order, p.Sources(), p.Span, "on carrier", p.Victim, p.Hit, p.Distance)
	}
	// Output:
	// mixing 1 [{1 1}] 3500-3600 MHz on carrier 0 near 10 MHz
	// intermodulation 2 [{0 -1} {1 1}] 1770-1890 MHz on carrier 0 direct 0 Hz
	// intermodulation 5 [{0 -3} {1 2}] 1810-2070 MHz on carrier 0 direct 0 Hz
}
