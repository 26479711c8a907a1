package exact

import (
	"math/big"
	"testing"
)

// TestRatio compares with big.Rat over fractions of small terms, some not in lowest
// terms.
func TestRatio(t *testing.T) {
	var all []Ratio
	for num := int64(-8); num <= 8; num++ {
		for den := int64(1); den <= 9; den++ {
			all = append(all, Ratio{num, den})
		}
	}
	rat := func(r Ratio) *big.Rat { return big.NewRat(r.Num, r.Den) }
	lowest := func(r Ratio) bool {
		return r.Den > 0 && rat(r).Denom().Int64() == r.Den
	}
	for _, a := range all {
		if r := a.Reduced(); !lowest(r) || rat(r).Cmp(rat(a)) != 0 {
			t.Fatalf("%v reduced is %v", a, r)
		}
		floor := new(big.Rat).Add(rat(a), big.NewRat(1, 2))
		if got, want := a.Round(), new(big.Int).Div(floor.Num(), floor.Denom()).Int64(); got != want {
			t.Fatalf("%v rounded is %d, want %d", a, got, want)
		}
		if s := a.String(); s != rat(a).RatString() {
			t.Fatalf("%v is written %s", a, s)
		}
		for _, b := range all {
			if r := a.Add(b); !lowest(r) || rat(r).Cmp(new(big.Rat).Add(rat(a), rat(b))) != 0 {
				t.Fatalf("%v + %v = %v", a, b, r)
			}
			if r := a.Mul(b); !lowest(r) || rat(r).Cmp(new(big.Rat).Mul(rat(a), rat(b))) != 0 {
				t.Fatalf("%v * %v = %v", a, b, r)
			}
			if a.Cmp(b) != rat(a).Cmp(rat(b)) {
				t.Fatalf("%v against %v: %d", a, b, a.Cmp(b))
			}
		}
	}
	var none Ratio
	if !none.IsZero() || none.Float() != 0 || none.String() != "none" || none.Add(Ratio{1, 2}) != (Ratio{1, 2}) || (Ratio{1, 2}).Add(none) != (Ratio{1, 2}) {
		t.Error("a ratio that is not given")
	}
	for in, want := range map[Ratio]Ratio{{3, -6}: {-1, 2}, {-3, -6}: {1, 2}, {0, -4}: {0, 1}, {0, 0}: {}} {
		if r := in.Reduced(); r != want {
			t.Errorf("%d/%d is %v", in.Num, in.Den, r)
		}
	}
}

func TestParseRatio(t *testing.T) {
	for _, c := range []struct {
		in   string
		want Ratio
	}{
		{"1", Ratio{1, 1}}, {"0.75", Ratio{3, 4}}, {"3/4", Ratio{3, 4}}, {" 6/8 ", Ratio{3, 4}}, {"0", Ratio{0, 1}}, {"0.0", Ratio{0, 1}},
		{"490/1024", Ratio{245, 512}}, {"682.5", Ratio{1365, 2}}, {"0.000000001", Ratio{1, 1e9}}, {"0/5", Ratio{0, 1}}, {"682.5/1024", Ratio{1365, 2048}}, {"1.5/2.25", Ratio{2, 3}}, {"999999999.999999999", Ratio{999999999999999999, 1e9}},
	} {
		if got, err := ParseRatio(c.in); got != c.want || err != nil {
			t.Errorf("%q is %v, %v; want %v", c.in, got, err, c.want)
		}
	}
	for _, s := range []string{"", ".", "1.", ".5", "-1", "+1", "1/0", "1/", "/2", "1e3", "1/2/3", "0x1", "1,5", "1234567890", "0.1234567890", "1/0.0", "1/2.", "1./2", "123456789.5/2", "1/12345678.90", "٣"} {
		if r, err := ParseRatio(s); err == nil {
			t.Errorf("%q is %v", s, r)
		}
	}
}

func TestRate(t *testing.T) {
	for r, want := range map[Ratio]string{{150752000, 1}: "150.752 Mbit/s", {1, 3}: "0.000 Mbit/s", {2159055000500, 1000}: "2159.055 Mbit/s", {0, 1}: "0.000 Mbit/s", {}: "none"} {
		if got := r.Rate(); got != want {
			t.Errorf("%v is written %s, want %s", r, got, want)
		}
	}
}

func FuzzParseRatio(f *testing.F) {
	for _, s := range []string{"1", "0.75", "3/4", "682.5/1024", "999999999.999999999", "1/0", "0.1/0.2", "-1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		r, err := ParseRatio(s)
		if err != nil {
			return
		}
		if r.Den <= 0 || r.Num < 0 || r != r.Reduced() {
			t.Fatalf("%q is %d/%d", s, r.Num, r.Den)
		}
		if again, err := ParseRatio(r.String()); err == nil && again != r {
			t.Fatalf("%q is written %s and read as %s", s, r, again)
		}
	})
}
