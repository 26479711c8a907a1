package ca_test

import (
	"fmt"

	"spectally/bands"
	"spectally/ca"
)

// The order in which a name is typed does not matter.
func ExampleFind() {
	name, err := ca.ParseName("CA_n78(2A)-n3A")
	if err != nil {
		fmt.Println(err)
		return
	}
	c, ok := ca.Find(name)
	fmt.Println(ok, c.Name(), c.MaxDL(), c.Source())
	// Output: true CA_n3A-n78(2A) 250 MHz TS 38.101-1 V19.5.0 Table 5.5A.3.1-1c
}

// Two carriers of 20 MHz in band 3 and one of 80 MHz in n78.
func ExampleAdmit() {
	name, err := ca.ParseName("DC_3C_n78A")
	if err != nil {
		fmt.Println(err)
		return
	}
	widths := ca.Widths{Components: [][]ca.BlockWidths{
		{{Carriers: []bands.Frequency{20 * bands.MHz, 20 * bands.MHz}}},
		{{Carriers: []bands.Frequency{80 * bands.MHz}}},
	}}
	a, err := ca.Admit(name, widths)
	fmt.Println(a.Admitted(), err)
	for _, m := range a.Members {
		fmt.Println(m.Name, m.Sets, m.Source.Short())
	}
	widths.Components[1][0].Carriers[0] = 75 * bands.MHz
	a, err = ca.Admit(name, widths)
	fmt.Println(a.Admitted(), err)
	fmt.Println(a.RefusalText())
	// Output:
	// true <nil>
	// CA_3C [0] TS 36.101 Table 5.6A.1-1
	// n78A [] TS 38.101-1 Table 5.3.5-1
	// false <nil>
	// n78 with 75 MHz: must be 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90 or 100 MHz
}

func ExampleStatusOf() {
	for _, s := range []string{"CA_3A-7A", "CA_n46E", "CA_n77A-n78A-n257A"} {
		name, err := ca.ParseName(s)
		if err != nil {
			fmt.Println(err)
			return
		}
		status := ca.StatusOf(name)
		switch {
		case len(status.Listed) > 0:
			fmt.Println(name, "is listed in", status.Listed[0].Source().Short())
		case len(status.FallbackOf) > 0:
			fmt.Println(name, "is a fallback of", status.FallbackOf[0].Name())
		default:
			near := ca.NearestTo(name)[0]
			fmt.Println(name, "is not listed;", near.Configuration.Name(), "is,", near.Why())
		}
	}
	// Output:
	// CA_3A-7A is listed in TS 36.101 Table 5.6A.1-2
	// CA_n46E is a fallback of CA_n46O
	// CA_n77A-n78A-n257A is not listed; CA_n77A-n78A is, without n257
}

func ExampleSearch() {
	found := ca.Search(ca.Query{
		With:  []bands.ID{{RAT: bands.NR, Number: 78}, {RAT: bands.NR, Number: 3}},
		Only:  true,
		Kinds: []ca.Kind{ca.KindNRCA},
	})
	for _, c := range found {
		fmt.Println(c.Name(), c.MaxDL())
	}
	// Output:
	// CA_n3A-n78(A-C) 350 MHz
	// CA_n3B-n78(A-C) 340 MHz
	// CA_n3B-n78(2A) 275 MHz
	// CA_n3B-n78C 260 MHz
	// CA_n3A-n78C 250 MHz
	// CA_n3A-n78(2A) 250 MHz
	// CA_n3(2A)-n78C 240 MHz
	// CA_n3B-n78A 175 MHz
	// CA_n3(2A)-n78A 160 MHz
	// CA_n3A-n78A 150 MHz
}
