package ca

import (
	"errors"
	"strings"
	"testing"

	"spectally/bands"
)

// spellings holds names in other spellings than the standard's, each with the
// one that the standard prints (TS 36.101 V19.6.0 clause 5.6A.1, TS 38.101-1
// V19.5.0 clauses 5.5A and 5.5C, TS 38.101-3 V19.5.0 clauses 5.5A and 5.5B).
var spellings = []struct {
	typed, want string
	kind        Kind
	carriers    int
}{
	{"CA_3A-7A", "CA_3A-7A", KindLTECA, 2},
	{"CA_7A-3A", "CA_3A-7A", KindLTECA, 2},
	{"ca_7a-3a-3a", "CA_3A-3A-7A", KindLTECA, 3},
	{"CA_48C-48A", "CA_48A-48C", KindLTECA, 3},
	{"CA_40F", "CA_40F", KindLTECA, 5},
	{"CA_n78(2A)-n3A", "CA_n3A-n78(2A)", KindNRCA, 3},
	{"ca_n3A-n78(2A)", "CA_n3A-n78(2A)", KindNRCA, 3},
	{"CA_n78A-n3A-n78A", "CA_n3A-n78(2A)", KindNRCA, 3},
	{" CA_n3A - n78(2A)", "CA_n3A-n78(2A)", KindNRCA, 3},
	{"CA_n3A\u2011n78(2A)", "CA_n3A-n78(2A)", KindNRCA, 3},
	{"CA_n48(B-A)", "CA_n48(A-B)", KindNRCA, 3},
	{"CA_n260(Q-3O-A)", "CA_n260(A-3O-Q)", KindNRCA, 11},
	{"CA_n258R12", "CA_n258R12", KindNRCA, 12},
	{"CA_n46N-n48(4A)", "CA_n46N-n48(4A)", KindNRCA, 8},
	{"n78A", "n78A", KindNR, 1},
	{"CA_n78A", "n78A", KindNR, 1},
	{"3A", "3A", KindLTE, 1},
	{"DC_7A-3A_n78A", "DC_3A-7A_n78A", KindENDC, 3},
	{"DC_n78A_7A-3A", "DC_n78A_3A-7A", KindNEDC, 3},
	{"DC_3A-n78A", "DC_3A_n78A", KindENDC, 2},
	{"DC_(n)41AA", "DC_(n)41AA", KindENDC, 2},
	{"DC_(n)3CA-n77(2A)", "DC_(n)3CA-n77(2A)", KindENDC, 5},
	{"DC_66A-(n)66AA", "DC_66A-(n)66AA", KindENDC, 3},
	{"DC_(n)66AA-n77A", "DC_(n)66AA-n77A", KindENDC, 3},
	{"DC_1A-8A-(n)3AA-n77A-n257A", "DC_1A-8A-(n)3AA-n77A-n257A", KindENDC, 6},
	{"DC_3(n)AA", "DC_3(n)AA", KindNEDC, 2},
	{"DC_40(n)AC", "DC_40(n)AC", KindNEDC, 3},
	{"DC_n77(2A)-n257A-n8A-3(n)AA", "DC_n8A-n77(2A)-n257A-3(n)AA", KindNEDC, 6},
	{"DC_n8A-3(n)AA-1A", "DC_n8A-3(n)AA-1A", KindNEDC, 4},
	{"DC_n257A-n77A", "DC_n77A-n257A", KindNRDC, 2},
	{"SUL_n80A-n78A", "SUL_n78A-n80A", KindSUL, 1},
	{"CA_n78A-n80A", "SUL_n78A-n80A", KindSUL, 1},
	{"SUL_n104A-n80A", "SUL_n80A-n104A", KindSUL, 1},
	{"CA_n41C-n80A", "CA_n41C-n80A", KindSUL, 2},
	{"CA_n78C_n84A-n80A", "CA_n78C_n80A-n84A", KindSUL, 2},
	{"CA_n80A-n78A_n1A", "CA_n1A_n78A-n80A", KindSUL, 2},
	{"CA_n3A-n1A_n78A-n80A", "CA_n1A-n3A_n78A-n80A", KindSUL, 3},
	{"CA_n79A-n98A_n41A-n95A", "CA_n41A-n95A_n79A-n98A", KindSUL, 2},
	{"DC_1A_SUL_n80A-n78A", "DC_1A_SUL_n78A-n80A", KindENDC, 2},
	{"DC_1A_n80A", "DC_1A_n80A", KindENDC, 1},
	{"DC_1A_n84A_ULSUP-TDM_n78A", "DC_1A_n84A_ULSUP-TDM_n78A", KindENDC, 2},
	{"DC_20A_n91A_ULSUP-TDM", "DC_20A_n91A_ULSUP-TDM", KindENDC, 2},
}

func TestParseName(t *testing.T) {
	for _, c := range spellings {
		n, err := ParseName(c.typed)
		if err != nil {
			t.Errorf("ParseName(%q): %v", c.typed, err)
			continue
		}
		if n.String() != c.want || n.Kind() != c.kind || n.Carriers() != c.carriers {
			t.Errorf("ParseName(%q) = %v, %v, %d carriers; want %v, %v, %d", c.typed, n, n.Kind(), n.Carriers(), c.want, c.kind, c.carriers)
		}
		same, err := NewName(n.Parts())
		if err != nil || same != n {
			t.Errorf("NewName of the parts of %v = %v, %v", n, same, err)
		}
	}
}

func TestParseNameError(t *testing.T) {
	for _, c := range []struct{ typed, allowed string }{
		{"", "such as CA_3A-7A"},
		{"CA_", "such as CA_3A-7A"},
		{"CA_n78", "in place of N78"},
		{"CA_3A-", "between any two"},
		{"CA_3A--7A", "between any two"},
		{"CA_3(2A)", "in place of 3(2A)"},
		{"CA_n78(2A", "in place of N78(2A"},
		{"CA_n78(0A)", "in place of N78(0A)"},
		{"CA_n0A", "in place of N0A"},
		{"CA_n258R13", "in place of N258R13"},
		{"CA_3A-n78A", "prefix DC_"},
		{"DC_3A-7A", "NR component"},
		{"DC_3A_n78A_7A", "side by side"},
		{"DC_n78A", "two NR carriers"},
		{"SUL_n78A", "supplementary uplink"},
		{"SUL_n78A-n1A", "supplementary uplink"},
		{"CA_n1A-n78A-n80A", "the cells parted by _"},
		{"CA_n1A-n80A_n78A-n80A", "once in one cell"},
		{"CA_3G", "A, B, C, D, E, F, I as the bandwidth class of B3 instead of G"},
		{"CA_n78F", "A to E, G to O as the bandwidth class of n78 instead of F"},
		{"CA_n78R2", "A to E, G to O"},
		{"CA_n257X", "A to M, O to W, R2 to R12"},
		{"CA_n78A+n3A", "letters, digits"},
		{"DC_(n)3A", "in place of (N)3A"},
		{"DC_(n)3AA-(n)7AA", "one joined part"},
		{"CA_n84A_ULSUP-TDM", "ULSUP-TDM as in"},
	} {
		n, err := ParseName(c.typed)
		var value *bands.ValueError
		if !errors.As(err, &value) || value.Got != c.typed || !strings.Contains(value.Allowed, c.allowed) || strings.Contains(err.Error(), "\n") {
			t.Errorf("ParseName(%q) = %v, %v; want an error with %q", c.typed, n, err, c.allowed)
		}
	}
}

func TestNewName(t *testing.T) {
	lte := func(n uint16, blocks ...Class) Component {
		return Component{Band: bands.ID{RAT: bands.LTE, Number: n}, Blocks: blocks}
	}
	nr := func(n uint16, blocks ...Class) Component {
		return Component{Band: bands.ID{RAT: bands.NR, Number: n}, Blocks: blocks}
	}
	sul := nr(80, "A")
	sul.Cell = bands.ID{RAT: bands.NR, Number: 78}
	for _, c := range []struct {
		parts Parts
		want  string
	}{
		{Parts{NR: []Component{nr(78, "A", "A"), nr(3, "A")}}, "CA_n3A-n78(2A)"},
		{Parts{NR: []Component{nr(78, "A"), nr(3, "A"), nr(78, "C")}}, "CA_n3A-n78(A-C)"},
		{Parts{Kind: KindNRCA, NR: []Component{nr(78, "A")}}, "n78A"},
		{Parts{Kind: KindNRDC, NR: []Component{nr(257, "G"), nr(78, "A")}}, "DC_n78A-n257G"},
		{Parts{LTE: []Component{lte(7, "A"), lte(3, "A")}}, "CA_3A-7A"},
		{Parts{LTE: []Component{lte(3, "C")}, NR: []Component{nr(78, "A")}}, "DC_3C_n78A"},
		{Parts{Kind: KindNEDC, LTE: []Component{lte(3, "A")}, NR: []Component{nr(78, "A")}}, "DC_n78A_3A"},
		{Parts{Kind: KindENDC, LTE: []Component{lte(66, "A", "A")}, NR: []Component{nr(66, "A")}, Joined: Joined{66, "A", "A"}}, "DC_66A-(n)66AA"},
		{Parts{NR: []Component{nr(1, "A"), sul, nr(78, "C")}}, "CA_n1A_n78C-n80A"},
		{Parts{NR: []Component{nr(80, "A"), nr(78, "A")}}, "SUL_n78A-n80A"},
	} {
		n, err := NewName(c.parts)
		if err != nil || n.String() != c.want {
			t.Errorf("NewName(%+v) = %v, %v; want %s", c.parts, n, err, c.want)
		}
	}
	for _, p := range []Parts{
		{},
		{Kind: KindENDC, NR: []Component{nr(78, "A")}},
		{Kind: KindNRDC, NR: []Component{nr(78, "A")}},
		{NR: []Component{nr(1, "A"), nr(78, "A"), nr(80, "A")}},
		{NR: []Component{lte(3, "A")}},
		{NR: []Component{nr(78)}},
		{NR: []Component{nr(78, "")}},
		{NR: []Component{nr(78, "AA")}},
		{LTE: []Component{lte(3, "A")}, NR: []Component{nr(78, "A")}, Joined: Joined{3, "A", "A"}},
		{Kind: 99, NR: []Component{nr(78, "A")}},
	} {
		if n, err := NewName(p); err == nil {
			t.Errorf("NewName(%+v) = %v, want an error", p, n)
		}
	}
}

func FuzzParseName(f *testing.F) {
	for _, c := range spellings {
		f.Add(c.typed)
	}
	for _, s := range []string{"DC_SUL_n78A-n80A", "CA_n1A-n80A_n78A-n80A", "DC_3A-3(n)AA-n3A", "CA_n78(64A)", "DC_n78A_n80A_ULSUP-TDM", "CA_n77(2A-C)_n80A"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		n, err := ParseName(s)
		if err != nil {
			var value *bands.ValueError
			if !errors.As(err, &value) {
				t.Fatalf("ParseName(%q): %v is no ValueError", s, err)
			}
			return
		}
		again, err := ParseName(n.String())
		if err != nil || again != n {
			t.Fatalf("%q is %v, read back %v, %v", s, n, again, err)
		}
		made, err := NewName(n.Parts())
		if err != nil || made != n {
			t.Fatalf("%q is %v, made of its parts %v, %v", s, n, made, err)
		}
	})
}

func BenchmarkParseName(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ParseName("DC_7A-3A_n78(2A)"); err != nil {
			b.Fatal(err)
		}
	}
}
