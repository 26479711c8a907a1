package products

import (
	"testing"

	"spectally/ca"
)

// The ranges of the bands decide (common practice): B3 twice is 3420-3570 MHz, n78 less B3 is
// 1515-2090 MHz.
func TestLine(t *testing.T) {
	for text, want := range map[string]string{
		"n78:100":                       "",
		"B3:20 + n78:100":               "harmonic 2 × B3 on n78 in some places, and 4 more",
		"B3:20@1835MHz + n78:20@636666": "intermodulation n78 − B3 on B3, and 1 more",
		"n78:100,ul=1 + n3:20,ul=0":     "mixing of n78 at 2 × n3 in some places",
		"DC_1A-3A_n78A":                 "harmonic 2 × B3 on n78 in some places, and 8 more",
		"n3:20@1835MHz + n3:20@1860MHz,ul=1 + n78:100@3500.01MHz": "harmonic 2 × n3 (no. 1) on n78, and 6 more",
	} {
		a, err := ca.AssessText(text)
		if err != nil {
			t.Fatal(err)
		}
		if got := Line(Worst(a)); got != want {
			t.Errorf("%s: %q, want %q", text, got, want)
		}
	}
}
