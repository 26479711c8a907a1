package ca_test

import (
	"slices"
	"testing"

	"spectally/ca"
)

// Names and carriers are told apart, and what is meant as a name and is none is
// refused as a name.
func TestReadName(t *testing.T) {
	for text, want := range map[string]struct {
		isName, fails bool
	}{
		"CA_n78C":         {isName: true},
		"n78A":            {isName: true},
		"dc_3a-7a_n78a":   {isName: true},
		"n78:100":         {},
		"B3:20 + n78:80":  {},
		"CA_n78C:100":     {},
		"n78":             {},
		"":                {},
		"CA_n999A":        {isName: true}, // whether it is listed is for the lists to say
		"DC_":             {isName: true, fails: true},
		"sul":             {isName: true, fails: true},
		"XX_n78A":         {isName: true, fails: true},
		"SUL_n78A-n80A":   {isName: true},
		"CA_3A-7A_BCS0.5": {isName: true, fails: true},
	} {
		_, isName, err := ca.ReadName(text)
		if isName != want.isName || (err != nil) != want.fails {
			t.Errorf("%q: a name %v, error %v", text, isName, err)
		}
	}
}

// The sets are those of the configuration itself, or of its only part that has any.
func TestListingBandwidthSets(t *testing.T) {
	for text, want := range map[string][]int{
		// TS 38.101-1 V19.5.0 Table 5.5A.1-1
		"n78:80@640000 + n78:80@645332": {0, 1, 4, 5},
		// The NR part of an EN-DC configuration alone has sets.
		"B3:20 + n78:80@640000 + n78:80@645332": {0, 1, 4, 5},
		// One carrier of each has none, and two parts with sets have none in common.
		"B3:20 + n78:100": nil,
		"B3:20 + B7:20 + n78:80@640000 + n78:80@645332": nil,
	} {
		c, err := ca.Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		list, _ := ca.Assess(c).Listings()
		if len(list) == 0 {
			t.Fatalf("%s: no listing", text)
		}
		if got := list[0].BandwidthSets(); !slices.Equal(got, want) {
			t.Errorf("%s: %s: sets %v, want %v", text, list[0].Name, got, want)
		}
	}
}
