package ca

import "testing"

// fiveCarriers is an EN-DC combination of five carriers: two of LTE, three of NR.
const fiveCarriers = "B3:20@1300 + B7:20@2850 + n28:10@154600 + n78:80@640000,scs=30 + n78:80@645332,scs=30"

func half(int) Share { return Share{1, 2} }

// answer parses, checks and totals; the result keeps it from being optimised away.
func answer(t testing.TB) Total {
	c, err := Parse(fiveCarriers)
	if err != nil {
		t.Fatal(err)
	}
	a := Assess(c)
	if len(a.RuleFindings()) > 0 {
		t.Fatal(a.RuleFindings())
	}
	return a.Sum(half)
}

// The whole of it allocates for the result alone: the carriers, the placed carriers,
// and the assessment with room for its groups.
func TestAllocations(t *testing.T) {
	if n := testing.AllocsPerRun(100, func() { answer(t) }); n > 3 {
		t.Errorf("%g allocations, want 3", n)
	}
}

func BenchmarkParse(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Parse(fiveCarriers); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAssess(b *testing.B) {
	c, err := Parse(fiveCarriers)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if a := Assess(c); len(a.RuleFindings()) > 0 || a.Sum(half).Downlink == 0 {
			b.Fatal(a.RuleFindings())
		}
	}
}

func BenchmarkAnswer(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if answer(b).Downlink == 0 {
			b.Fatal("no downlink")
		}
	}
}

func BenchmarkTotals(b *testing.B) {
	c, err := Parse(fiveCarriers)
	if err != nil {
		b.Fatal(err)
	}
	a := Assess(c)
	b.ReportAllocs()
	for b.Loop() {
		if t := a.Totals(half); t.Downlink == 0 {
			b.Fatal("no downlink")
		}
	}
}

func BenchmarkFormed(b *testing.B) {
	for _, bench := range []struct{ name, carriers string }{{"placed", fiveCarriers}, {"unplaced", "B3:20 + 3xn78:80"}, {"many", "12xn260:100"}} {
		b.Run(bench.name, func(b *testing.B) {
			c, err := Parse(bench.carriers)
			if err != nil {
				b.Fatal(err)
			}
			a := Assess(c)
			b.ReportAllocs()
			for b.Loop() {
				if forms, _ := a.Formed(); len(forms) == 0 {
					b.Fatal("nothing formed")
				}
			}
		})
	}
}
