package ca_test

import (
	"slices"
	"testing"

	"spectally/ca"
)

// Names that carriers form beyond those of TestValidCombinations, worked by hand from
// the class tables.
func TestFormed(t *testing.T) {
	for carriers, want := range map[string]string{
		"B3:20 + B64:20":                            "", // a band that the tables do not have
		"n3:5@363000 + n3:5@363960":                 "", // contiguous, and in no class
		"n3:5 + n3:5":                               "CA_n3(2A)",
		"n3:5 + n3:15":                              "CA_n3B CA_n3(2A)",
		"n78:100@640000 + n78:100 + n78:10":         "CA_n78D CA_n78(A-C) CA_n78(3A)",
		"n78:100@640000 + n78:100@646664 + n78:20":  "CA_n78D CA_n78(A-C)",
		"n78:50@640000 + n78:50@650000 + n78:50":    "CA_n78(A-B) CA_n78(3A)",
		"B41:20@39750 + B41:20@39948 + B41:20":      "CA_41D CA_41A-41C",
		"B3:20@1300 + n3:20@367000":                 "DC_(n)3AA", // 1805-1825 and 1825-1845 MHz
		"B3:20@1300 + n3:20@367020":                 "DC_3A_n3A", // 100 kHz between them
		"B7:20@2850 + B7:20@3048 + n7:10@531000":    "DC_7C_n7A",
		"n1:20 + n3:20 + n78:100 + n80:20 + n84:20": "CA_n78A_n1A-n80A_n3A-n84A CA_n3A_n1A-n80A_n78A-n84A CA_n1A_n3A-n84A_n78A-n80A CA_n1A-n3A_n78A-n80A-n84A",
		// Blocks leave the centres of 80 MHz carriers 35.46 MHz either way, nominal spacing is 79.98 MHz.
		"n78:80,ssb=640000 + n78:80,ssb=645332":      "CA_n78C CA_n78(2A)",
		"n78:80,ssb=640000 + n78:80,ssb=651000":      "CA_n78(2A)", // 165 MHz apart
		"n78:80@640000 + n78:80,ssb=649000":          "CA_n78(2A)", // 135 MHz
		"n78:20@640000 + n78:20,ssb=640800":          "CA_n78B",    // 12 MHz, and 5.58 either way
		"n78:80@640000 + n78:80,ssb=649000 + n78:80": "CA_n78D CA_n78(A-C) CA_n78(3A)",
	} {
		got, complete := formedNames(checked(t, carriers))
		if got != want || !complete {
			t.Errorf("%s forms %q (all: %t), want %q", carriers, got, complete, want)
		}
	}
}

// Where there are too many ways to list, that is said, and what is listed is right.
func TestFormedTooMany(t *testing.T) {
	for _, carriers := range []string{"16xn258:100", "8xn257:100 + 8xn258:50", "12xn260:100 + 4xn260:50"} {
		a := checked(t, carriers)
		forms, complete := a.Formed()
		if complete || len(forms) == 0 {
			t.Errorf("%s: %d names, all: %t", carriers, len(forms), complete)
		}
		var names []ca.Name
		for _, f := range forms {
			if f.Name.Carriers() != len(a.Carriers) || f.Name.Kind() != a.Kind {
				t.Fatalf("%s: %v has %d carriers", carriers, f.Name, f.Name.Carriers())
			}
			if slices.Contains(names, f.Name) {
				t.Fatalf("%s: %v stands twice", carriers, f.Name)
			}
			names = append(names, f.Name)
		}
	}
}
