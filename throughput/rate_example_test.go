package throughput_test

import (
	"fmt"

	"spectally/ca"
	"spectally/throughput"
)

// 150 752 bits in 1 ms are what a UE of category 4 receives at most (TS 36.306 Table
// 4.1-1); the NR carrier follows the formula of TS 38.306 clause 4.1.2.
func ExampleRate() {
	c, err := ca.Parse("B3:20,qam=64,layers=2 + n78:100,qam=256,layers=4,pattern=DDDSU/10:2:2")
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := throughput.Rate(ca.Assess(c))
	if err != nil {
		fmt.Println(err)
		return
	}
	for i := range r.Carriers {
		fmt.Printf("%v: %.3f Mbit/s at most\n", c[i].Band, r.Carriers[i].Downlink.Max.Mbps())
	}
	fmt.Printf("together %.3f Mbit/s\n", r.Downlink.Max.Mbps())
	if err := r.Schedule(throughput.Settings{}); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("less when it is scheduled:", r.Downlink.Scheduled.Cmp(r.Downlink.Max) < 0)
	fmt.Println("of the time n78 has", r.DownlinkShare(1))
	// Output:
	// B3: 150.752 Mbit/s at most
	// n78: 2337.000 Mbit/s at most
	// together 2487.752 Mbit/s
	// less when it is scheduled: true
	// of the time n78 has {26 35}
}
