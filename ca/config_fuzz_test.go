package ca

import (
	"errors"
	"testing"

	"spectally/bands"
)

// FuzzQuestions asks everything about any name that can be read: nothing may
// fail, and the answers have to agree with each other.
func FuzzQuestions(f *testing.F) {
	for _, c := range spellings {
		f.Add(c.typed)
	}
	for _, s := range []string{
		"CA_40E-42E", "CA_n5A-n25(2A)-n41A", "DC_12A_n12A", "CA_n3A-n41A-n90A", "DC_3A-3(n)AA-n3A", "DC_41A_n90A", "DC_(n)41AA-n90A",
		"DC_SUL_n78A-n80A", "CA_n260(64A)", "DC_1A_n84A_ULSUP-TDM_n78A", "CA_n1024A-n512A", "DC_n46A_32A", "CA_42A-42B", "CA_n41(3A-C)",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		n, err := ParseName(s)
		if err != nil {
			return
		}
		status := StatusOf(n)
		if len(status.Listed) > 0 && status.Listed[0].Name() != n {
			t.Errorf("%s is listed as %s", n, status.Listed[0].Name())
		}
		for _, c := range status.FallbackOf {
			if c.Carriers() < n.Carriers() {
				t.Errorf("%s is a fallback of %s", n, c.Name())
			}
		}
		for _, m := range NearestTo(n) {
			if m.Why() == "" {
				t.Errorf("%s is near to %s for no reason", n, m.Configuration.Name())
			}
		}
		w, ok := Widest(n)
		if !ok {
			w = Widths{Components: [][]BlockWidths{{{Carriers: []bands.Frequency{20 * bands.MHz}}}}}
		}
		a, err := Admit(n, w)
		var value *bands.ValueError
		if err != nil && !errors.As(err, &value) {
			t.Errorf("%s: %v is no ValueError", n, err)
		}
		if ok && len(status.Listed) > 0 && (err != nil || !a.Admitted()) {
			t.Errorf("%s does not admit its widest widths: %s, %v", n, a.RefusalText(), err)
		}
	})
}
