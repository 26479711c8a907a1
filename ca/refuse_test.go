package ca_test

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/ca"
)

func mustName(t testing.TB, text string) ca.Name {
	t.Helper()
	n, err := ca.ParseName(text)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// widthsOf makes widths in MHz: components parted by "/", sub-blocks by ";".
func widthsOf(t testing.TB, text string) ca.Widths {
	t.Helper()
	var w ca.Widths
	for component := range strings.SplitSeq(text, "/") {
		var blocks []ca.BlockWidths
		for block := range strings.SplitSeq(component, ";") {
			var b ca.BlockWidths
			for _, field := range strings.Fields(block) {
				f, err := bands.ParseMHz(field)
				if err != nil {
					t.Fatal(err)
				}
				b.Carriers = append(b.Carriers, f)
			}
			blocks = append(blocks, b)
		}
		w.Components = append(w.Components, blocks)
	}
	return w
}

// Widths that are not made to the measure of a name are refused in words; so are those
// of a configuration that has been looked up, which answers as the name does.
func TestAdmitRefuses(t *testing.T) {
	for _, test := range []struct{ name, widths, want string }{
		{"CA_3A-7A", "20", `widths "1 components": must be 2`},
		{"CA_3A-7A", "20/20/20", `widths "3 components": must be 2`},
		{"CA_3A-7A", "20;20/20", `widths "2 sub-blocks of B3": must be 1`},
		{"CA_3C", "20", `widths "1 carriers of B3 class C": must be 2`},
		{"CA_3C", "20 20 20", `widths "3 carriers of B3 class C": must be 2`},
		{"DC_3A_n78A", "20", `widths "1 components": must be 2`},
		{"DC_3C_n78A", "20/80", `widths "1 carriers of B3 class C": must be 2`},
		{"n78A", "100 100", `widths "2 carriers of n78 class A": must be 1`},
	} {
		n, w := mustName(t, test.name), widthsOf(t, test.widths)
		_, err := ca.Admit(n, w)
		var v *bands.ValueError
		if !errors.As(err, &v) || err.Error() != test.want {
			t.Errorf("%s with %s: %v; want %s", test.name, test.widths, err, test.want)
		}
		if c, ok := ca.Find(n); ok {
			if _, again := c.Admit(w); again == nil || again.Error() != test.want {
				t.Errorf("%s with %s, looked up: %v; want %s", test.name, test.widths, again, test.want)
			}
		}
	}
	for _, test := range []struct{ name, widths string }{{"CA_3A-7A", "20/20"}, {"CA_3A-7A", "1.4/20"}, {"CA_n78(2A)", "100;40"}, {"DC_3C_n78A", "20 20/80"}, {"DC_3C_n78A", "20 20/75"}, {"DC_(n)41AA", "20/100"}} {
		n, w := mustName(t, test.name), widthsOf(t, test.widths)
		c, ok := ca.Find(n)
		if !ok {
			t.Fatalf("%s is not listed", test.name)
		}
		want, err := ca.Admit(n, w)
		if err != nil {
			t.Errorf("%s with %s: %v", test.name, test.widths, err)
		}
		got, err := c.Admit(w)
		if err != nil || got.Admitted() != want.Admitted() || got.RefusalText() != want.RefusalText() || len(got.Sets) != len(want.Sets) {
			t.Errorf("%s with %s: looked up %+v, %v; by its name %+v", test.name, test.widths, got, err, want)
		}
	}
}

func TestMisfitWords(t *testing.T) {
	for want, m := range map[string]ca.Misfit{
		"120 MHz in all: must be at most 100 MHz":                      {At: ca.Place{Component: -1}, Total: 120 * bands.MHz, Max: 100 * bands.MHz},
		"n78 with 35 MHz: the set has no such carrier":                 {Band: bands.ID{RAT: bands.NR, Number: 78}, Width: 35 * bands.MHz},
		"B3 with 3 MHz beside its other carriers: must be 5 or 10 MHz": {Band: bands.ID{RAT: bands.LTE, Number: 3}, Width: 3 * bands.MHz, Together: true, Allowed: []bands.Frequency{5 * bands.MHz, 10 * bands.MHz}},
	} {
		if got := m.String(); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

func TestLimits(t *testing.T) {
	for l, want := range map[ca.Limit][2]string{0: {"none", ""}, 1: {"downlink only", "dl"}, 4: {"optional for the UE", "opt"}, 99: {"unknown limit", ""}} {
		if got := [2]string{l.String(), l.Code()}; got != want {
			t.Errorf("limit %d: %q, want %q", l, got, want)
		}
	}
}

// A name goes through JSON as its text.
func TestNameAsText(t *testing.T) {
	for _, text := range []string{"CA_3A-7A", "DC_3A_n78(2A)", "SUL_n78A-n80A", "n78A"} {
		out, err := json.Marshal(mustName(t, text))
		if err != nil || string(out) != `"`+text+`"` {
			t.Errorf("%s: %s, %v", text, out, err)
		}
		var back ca.Name
		if err := json.Unmarshal(out, &back); err != nil || back.String() != text {
			t.Errorf("%s: read back %s, %v", text, back, err)
		}
	}
	kept := mustName(t, "CA_3A-7A")
	var v *bands.ValueError
	if err := kept.UnmarshalText([]byte("CA_3Ä")); !errors.As(err, &v) || kept.String() != "CA_3A-7A" {
		t.Errorf("%v, and the name is %s", err, kept)
	}
	if p := (ca.Name{}).Parts(); len(p.LTE) != 0 || len(p.NR) != 0 || p.Kind != 0 {
		t.Errorf("the zero name has parts %+v", p)
	}
}

// Parts that make no name of the standard, and texts that are none.
func TestNameRefuses(t *testing.T) {
	nr := func(n uint16) bands.ID { return bands.ID{RAT: bands.NR, Number: n} }
	a := func(id bands.ID) ca.Component { return ca.Component{Band: id, Blocks: []ca.Class{"A"}} }
	many := make([]ca.Component, 40)
	for i := range many {
		many[i] = a(nr(uint16(1 + i)))
	}
	sul := a(nr(80))
	for want, p := range map[string]ca.Parts{
		"bands of a technology":             {NR: many},
		"joined carriers only in EN-DC":     {NR: []ca.Component{a(nr(41)), a(nr(78))}, Joined: ca.Joined{Band: 41, LTE: "A", NR: "A"}},
		"no supplementary or shared uplink": {Kind: ca.KindENDC, LTE: []ca.Component{a(bands.ID{RAT: bands.LTE, Number: 41})}, NR: []ca.Component{a(nr(41)), a(nr(78)), {Band: sul.Band, Blocks: sul.Blocks, Cell: nr(78)}}, Joined: ca.Joined{Band: 41, LTE: "A", NR: "A"}},
		"such as DC_3A_n78A":                {Kind: ca.KindENDC, NR: []ca.Component{a(nr(78))}},
		"two NR carriers or more":           {Kind: ca.KindNRDC, NR: []ca.Component{a(nr(78))}},
		"a component such as n78A or 3A":    {},
		"1 to ":                             {NR: []ca.Component{{Band: nr(78)}}},
		"a band of ":                        {LTE: []ca.Component{a(nr(78))}},
	} {
		n, err := ca.NewName(p)
		var v *bands.ValueError
		if !errors.As(err, &v) || !strings.Contains(v.Allowed, want) {
			t.Errorf("%+v: %s, %v; want %q", p, n, err, want)
		}
	}
	for text, want := range map[string]string{
		strings.Repeat("CA_3A-7A", 100): "letters, digits, brackets",
		"SUL_3A-7A":                     "NR bands behind SUL_",
		"DC_1A_n84A_ULSUP-TDM_3A":       "NR components behind ULSUP-TDM",
		"DC_1A_n84A_ULSUP-TDM_nope":     "in place of NOPE",
		"CA_n1A_n78A-n80A-n3A":          "one downlink band beside n80",
	} {
		n, err := ca.ParseName(text)
		var v *bands.ValueError
		if !errors.As(err, &v) || !strings.Contains(err.Error(), want) {
			t.Errorf("%.40s: %s, %v; want %q", text, n, err, want)
		}
	}
}
