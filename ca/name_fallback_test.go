package ca

import (
	"fmt"
	"testing"
)

// The rules are those of TS 38.101-1 V19.5.0 clause 5.5A.0 and TS 36.101 V19.6.0
// clause 4.3A: carriers are left out, an NR class falls within its fallback group
// (Table 5.3A.5-1).
func TestFallsBackTo(t *testing.T) {
	for _, test := range []struct {
		have, want string
		holds      bool
	}{
		{"CA_n1A-n78A", "CA_n1A-n78A", true},
		{"CA_n1A-n78A", "n78A", true},
		{"CA_n1A-n78A", "n3A", false},
		{"CA_n1A-n3A-n78A", "CA_n1A-n78A", true},
		{"CA_n1A-n78A", "CA_n1A-n3A-n78A", false},
		{"CA_n78(2A)", "n78A", true},
		{"CA_n78(2A)", "CA_n78C", false},
		{"CA_n78C", "CA_n78(2A)", false},
		{"CA_n41D", "CA_n41C", true},
		{"CA_3C-7A", "CA_3A-7A", true},
		{"CA_3C-7A", "CA_3C", true},
		{"CA_3A-3A-7A", "CA_3A-3A", true},
		{"DC_3A-7A_n78A", "DC_7A_n78A", true},
		{"DC_3A-7A_n78A", "CA_3A-7A", true},
		{"DC_3A_n78(2A)", "CA_n78(2A)", false}, // NR without its E-UTRA anchor
		{"DC_3A_n78A", "n78A", true},
		{"DC_3A_n78(2A)", "DC_3A_n78A", true},
		{"DC_n78A_3A", "DC_3A_n78A", false},
		{"DC_(n)41AA", "DC_(n)41AA", true},
	} {
		have, err := ParseName(test.have)
		if err != nil {
			t.Fatal(err)
		}
		want, err := ParseName(test.want)
		if err != nil {
			t.Fatal(err)
		}
		if got := have.FallsBackTo(want); got != test.holds {
			t.Errorf("%s falls back to %s: %v, want %v", have, want, got, test.holds)
		}
	}
	if (Name{}).FallsBackTo(Name{}) {
		t.Error("no name falls back to no name")
	}
}

// A name that is not listed is a fallback of each configuration that StatusOf names.
func TestFallsBackToAgreesWithStatus(t *testing.T) {
	tried := 0
	for c := range All() {
		for _, component := range c.Name().Components() {
			p := c.Name().Parts()
			p.Joined, p.Kind = Joined{}, 0
			p.LTE, p.NR = leaveOut(p.LTE, component), leaveOut(p.NR, component)
			n, err := NewName(p)
			if err != nil {
				continue
			}
			if s := StatusOf(n); len(s.FallbackOf) > 0 {
				tried++
				if !s.FallbackOf[0].Name().FallsBackTo(n) {
					t.Errorf("%s does not fall back to %s", s.FallbackOf[0].Name(), n)
				}
			}
		}
		if tried > 300 {
			return
		}
	}
	t.Errorf("only %d names tried", tried)
}

// leaveOut leaves a component out.
func leaveOut(list []Component, c Component) []Component {
	var rest []Component
	for _, k := range list {
		if k.Band != c.Band {
			rest = append(rest, k)
		}
	}
	return rest
}

func ExampleName_FallsBackTo() {
	have, _ := ParseName("DC_3A-7A_n78A")
	want, _ := ParseName("DC_7A_n78A")
	fmt.Println(have.FallsBackTo(want))
	// Output: true
}
