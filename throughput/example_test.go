package throughput_test

import (
	"fmt"

	"spectally/bands"
	"spectally/ca"
	"spectally/throughput"
)

// From text to rate: what carriers are, whether the standard lists them, how many
// megahertz they have and what they yield at most.
func Example() {
	a, err := ca.AssessText("B3:20 + B7:20 + n78:80")
	if err != nil {
		fmt.Println(err)
		return
	}
	if refusal, bad := a.FirstError(); bad {
		fmt.Println(refusal.Message)
		return
	}
	rates, err := throughput.Rate(a)
	if err != nil {
		fmt.Println(err)
		return
	}
	configuration, _ := a.Decisive()
	fmt.Println(configuration.Name, "in sets", configuration.BandwidthSets())
	fmt.Println(a.Width(bands.Downlink), "down,", a.Width(bands.Uplink), "up")
	fmt.Println(rates.Downlink.Max.Rate(), "down,", rates.Uplink.Max.Rate(), "up")
	// Output:
	// DC_3A-7A_n78A in sets [0 1]
	// 120 MHz down, 100 MHz up
	// 2159.119 Mbit/s down, 447.979 Mbit/s up
}
