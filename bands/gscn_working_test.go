package bands

import (
	"math/big"
	"strings"
	"testing"

	"spectally/data/pace"
)

// The line of arithmetic comes to the frequency of the number, for every GSCN
// there is. It is evaluated here as exact rationals of a megahertz.
func TestGSCNWorking(t *testing.T) {
	n := 0
	for g := GSCN(0); g <= 41700; g += GSCN(pace.Step(7)) {
		f, err := g.Frequency()
		working := g.Working()
		if (err == nil) != (working != "") {
			t.Fatalf("GSCN %d: frequency %v, %v; working %q", g, f, err, working)
		}
		if err != nil {
			continue
		}
		n++
		sum := new(big.Rat)
		for term := range strings.SplitSeq(strings.TrimPrefix(working, "SS_REF = "), " + ") {
			product := big.NewRat(1, 1)
			for factor := range strings.SplitSeq(term, " x ") {
				number, unit, _ := strings.Cut(factor, " ")
				v, ok := new(big.Rat).SetString(number)
				if !ok {
					t.Fatalf("GSCN %d: %q in %q", g, factor, working)
				}
				if unit == "kHz" {
					v.Quo(v, big.NewRat(1000, 1))
				}
				product.Mul(product, v)
			}
			sum.Add(sum, product)
		}
		if want := big.NewRat(int64(f), 1e6); sum.Cmp(want) != 0 {
			t.Fatalf("GSCN %d: %q comes to %v MHz, want %v", g, working, sum, want)
		}
	}
	if pace.Whole && n < 26638 { // TS 38.104 V19.4.0 Table 5.4.3.1-1 alone has 2 to 26639
		t.Errorf("only %d numbers", n)
	}
}
