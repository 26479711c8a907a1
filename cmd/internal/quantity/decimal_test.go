package quantity

import (
	"encoding/json"
	"errors"
	"fmt"
	"math/big"
	"strings"
	"testing"

	"spectally/bands"
)

func ExampleDecimal_HalfUnit() {
	for _, s := range []string{"200", "200.0", "13.3"} {
		d, err := ParseDecimal(s)
		fmt.Println(d, d.HalfUnit(), err)
	}
	// Output:
	// 200 1/2 <nil>
	// 200.0 1/20 <nil>
	// 13.3 1/20 <nil>
}

func TestParseDecimal(t *testing.T) {
	for _, test := range []struct{ in, text, value, half string }{
		{"0", "0", "0/1", "1/2"},
		{"-0", "0", "0/1", "1/2"},
		{"007", "7", "7/1", "1/2"},
		{"0.05", "0.05", "1/20", "1/200"},
		{"-85.50", "-85.50", "-171/2", "1/200"},
		{"999999999999999", "999999999999999", "999999999999999/1", "1/2"},
		{"123456.123456789", "123456.123456789", "123456123456789/1000000000", "1/2000000000"},
	} {
		d, err := ParseDecimal(test.in)
		if err != nil || d.String() != test.text || d.Rat().String() != test.value || d.HalfUnit().String() != test.half {
			t.Errorf("ParseDecimal(%q) = %v (%v, half a unit %v), %v; want %s (%s, %s)", test.in, d, d.Rat(), d.HalfUnit(), err, test.text, test.value, test.half)
		}
	}
	for _, bad := range []string{"", "-", ".", "1.", ".5", "+1", "1e3", "1,5", "inf", "nan", "0x1", "1_000", " 1", "1 ", "--1", "1-", "1.5.5", "1.-5", "9999999999999999", "1.0000000001", "１"} {
		d, err := ParseDecimal(bad)
		var v *bands.ValueError
		if !errors.As(err, &v) || v.Got != bad || d.IsGiven() {
			t.Errorf("ParseDecimal(%q) = %v, %v; want a *bands.ValueError", bad, d, err)
		}
	}
}

func TestNoDecimal(t *testing.T) {
	var d Decimal
	if d.IsGiven() || d.String() != "" || d.Rat() != nil || d.HalfUnit() != nil || d.Float() != 0 || d.Sign() != 0 {
		t.Errorf("the zero Decimal is %+v", d)
	}
	data, err := json.Marshal([]Decimal{d, NewDecimal(2000, 1), NewDecimal(-5, 2)})
	if err != nil || string(data) != "[null,200.0,-0.05]" {
		t.Errorf("as JSON %s, %v", data, err)
	}
}

func TestCompare(t *testing.T) {
	list := []Decimal{NewDecimal(-15, 1), NewDecimal(-1, 0), {}, NewDecimal(1, 2), NewDecimal(2, 0), NewDecimal(21, 1)}
	for i, a := range list {
		for j, b := range list {
			want := big.NewInt(int64(i)).Cmp(big.NewInt(int64(j)))
			if got := a.Compare(b); got != want {
				t.Errorf("%q.Compare(%q) = %d, want %d", a, b, got, want)
			}
		}
	}
	if NewDecimal(200, 0).Compare(NewDecimal(2000, 1)) != 0 {
		t.Error("200 and 200.0 are of one value")
	}
	if NewDecimal(200, 0) == NewDecimal(2000, 1) {
		t.Error("200 and 200.0 are stated with different digits")
	}
	if NewDecimal(-5, 0).Sign() != -1 || NewDecimal(5, 3).Sign() != 1 {
		t.Error("wrong sign")
	}
	if f := NewDecimal(-8550, 2).Float(); f != -85.5 {
		t.Errorf("-85.50 is %v as a float", f)
	}
}

// FuzzParseDecimal compares what is accepted with the reader of rationals of the
// standard library, and checks that printing and reading again changes nothing.
func FuzzParseDecimal(f *testing.F) {
	for _, s := range []string{"200", "-85.5", "0.0", "1e9", "", "-", "13.30", "999999999999999", "0.000000001"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		d, err := ParseDecimal(s)
		if err != nil {
			return
		}
		want, ok := new(big.Rat).SetString(s)
		if !ok || want.Cmp(d.Rat()) != 0 {
			t.Fatalf("%q is read as %v, want %v", s, d.Rat(), want)
		}
		if _, frac, dotted := strings.Cut(s, "."); dotted != strings.Contains(d.String(), ".") || dotted && !strings.HasSuffix(d.String(), "."+frac) {
			t.Fatalf("%q is written %q", s, d)
		}
		if again, err := ParseDecimal(d.String()); err != nil || again != d {
			t.Fatalf("%q is written %q, which is read as %v, %v", s, d, again, err)
		}
	})
}
