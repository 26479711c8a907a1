package ca_test

import (
	"fmt"

	"spectally/bands"
	"spectally/ca"
)

func ExampleParse() {
	c, err := ca.Parse("b3:20 + 2×n78:80,SCS=30 + n28:10@154600")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(len(c), "carriers:", c)
	_, err = ca.Parse("B3:20 + n78:80,layer=4")
	fmt.Println(err)
	// Output:
	// 4 carriers: B3:20 + 2xn78:80,scs=30 + n28:10@154600
	// carrier 2 "n78:80,layer=4": key "layer": must be scs, ssb, layers, ullayers, qam, ulqam, scale, rb, pattern, ul, role, pci, rsrp, sinr; closest is layers
}

func ExampleCheckRules() {
	c, err := ca.Parse("B3:20@1300 + n78:100@640000 + n78:35")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range ca.CheckRules(c) {
		fmt.Printf("%v, carrier %d, %s: %s\n", f.Severity, f.Carrier, f.Rule, f.Message)
	}
	// Output:
	// error, carrier 3, width-allowed: n78 downlink width "35 MHz": must be 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90 or 100 MHz; closest is 30 MHz
	// note, carrier 0, contiguity-unknown: Without channel numbers the 2 carriers in n78 may be contiguous or not: every configuration that they can form is named.
}

func ExampleAssessment_Totals() {
	c, err := ca.Parse("B3:20,pci=12 + n78:80,pci=12 + n28:10,pci=301")
	if err != nil {
		fmt.Println(err)
		return
	}
	totals := ca.Assess(c).Totals(func(int) ca.Share { return ca.Share{Part: 3, Whole: 4} }) // of TDD carriers
	fmt.Println("downlink", totals.Downlink)
	fmt.Println("uplink", totals.Uplink)
	fmt.Println("occupied", totals.Occupied)
	fmt.Println("downlink by time", totals.DownlinkEquivalent)
	for _, p := range totals.BySite {
		fmt.Println(p.Key, p.Downlink)
	}
	// Output:
	// downlink 110 MHz
	// uplink 100 MHz
	// occupied 140 MHz
	// downlink by time 90 MHz
	// LTE PCI 12 20 MHz
	// NR PCI 12 80 MHz
	// NR PCI 301 10 MHz
}

func ExampleAssessment_Formed() {
	for _, carriers := range []string{"B3:20 + n78:80@640000 + n78:80@645332", "B3:20 + 2xn78:80"} {
		c, err := ca.Parse(carriers)
		if err != nil {
			fmt.Println(err)
			return
		}
		forms, _ := ca.Assess(c).Formed()
		for _, f := range forms {
			fmt.Println(f.Name)
		}
		fmt.Println("--")
	}
	// Output:
	// DC_3A_n78C
	// --
	// DC_3A_n78C
	// DC_3A_n78(2A)
	// --
}

func ExampleNominalSpacing() {
	for _, id := range []bands.ID{{RAT: bands.LTE, Number: 7}, {RAT: bands.NR, Number: 7}, {RAT: bands.NR, Number: 78}} {
		b, err := bands.Lookup(id)
		if err != nil {
			fmt.Println(err)
			return
		}
		s, err := ca.NominalSpacing(b, 20*bands.MHz, 10*bands.MHz)
		fmt.Println(id, s.Nominal, err, s.Source)
	}
	// Output:
	// B7 14.4 MHz <nil> TS 36.101 V19.6.0 clause 5.7.1A
	// n7 14.4 MHz <nil> TS 38.101-1 V19.5.0 clause 5.4A.1
	// n78 14.64 MHz <nil> TS 38.101-1 V19.5.0 clause 5.4A.1
}

func ExampleClasses() {
	for _, of := range []struct {
		id    bands.ID
		width bands.Frequency
	}{{bands.ID{RAT: bands.LTE, Number: 41}, 20 * bands.MHz}, {bands.ID{RAT: bands.NR, Number: 41}, 80 * bands.MHz}, {bands.ID{RAT: bands.NR, Number: 257}, 100 * bands.MHz}} {
		b, err := bands.Lookup(of.id)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(of.id, "2 x", of.width, ca.Classes(b, []bands.Frequency{of.width, of.width}))
	}
	// Output:
	// B41 2 x 20 MHz [C]
	// n41 2 x 80 MHz [C]
	// n257 2 x 100 MHz [G O R2]
}
