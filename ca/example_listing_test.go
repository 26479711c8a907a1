package ca_test

import (
	"fmt"

	"spectally/ca"
)

// TS 36.101 V19.6.0 Table 5.6A.1-2: CA_1A-3A has band 3 from 5 MHz on.
func ExampleAssessment_Findings() {
	a, err := ca.AssessText("B1:5 + B3:1.4")
	if err != nil {
		fmt.Println(err)
		return
	}
	listings, _ := a.Listings()
	for _, l := range listings {
		fmt.Println(l.Name, l.Supported(), l.Holds())
	}
	for _, f := range a.Findings() {
		fmt.Printf("%v, %s: %s\n", f.Severity, f.Rule, f.Message)
	}
	// Output:
	// CA_1A-3A true false
	// error, bandwidth-set: CA_1A-3A is listed, but not with these widths: set 0 of CA_1A-3A: B3 with 1.4 MHz: must be 5, 10, 15 or 20 MHz.
}

func ExampleParseName() {
	for _, text := range []string{"dc_7a-3a_N78a", "CA_n78(2A)-n3A", "CA_3A-n78A"} {
		n, err := ca.ParseName(text)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(n, n.Kind(), len(n.Components()))
	}
	// Output:
	// DC_3A-7A_n78A en-dc 3
	// CA_n3A-n78(2A) nr-ca 2
	// configuration name "CA_3A-n78A": must be the prefix DC_ for E-UTRA with NR
}

// The widest carriers of a configuration.
func ExampleExpand() {
	n, err := ca.ParseName("DC_3A_n78A")
	if err != nil {
		fmt.Println(err)
		return
	}
	c, ok := ca.Expand(n)
	fmt.Println(c, ok)
	// Output: B3:20 + n78:100 true
}
