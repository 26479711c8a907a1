package configs

import (
	"testing"

	"spectally/ca"
)

// TestSeparations: the classes stand with configurations whose carriers of FR2 need not be
// contiguous, and with no other (TS 38.101-2 V19.4.0 clause 5.3A.4).
func TestSeparations(t *testing.T) {
	for name, want := range map[string]int{"CA_n258(2A)": 3, "CA_n258G": 0, "CA_n3A-n78A": 0, "CA_n78(2A)": 0, "CA_n77A-n258(2A)": 3} {
		n, err := ca.ParseName(name)
		if err != nil {
			t.Fatal(err)
		}
		c, ok := ca.Find(n)
		if !ok {
			t.Errorf("%s is not listed", name)
			continue
		}
		list := separations(c)
		if len(list) != want || len(separationTable(c).Rows) != want {
			t.Errorf("%s: %+v", name, list)
			continue
		}
		if want > 0 {
			if most := list[0].Classes[len(list[0].Classes)-1]; list[0].Direction != "dl" || most.Name != "IX" || most.Max != "2400" {
				t.Errorf("%s: %+v", name, list[0])
			}
		}
	}
}
