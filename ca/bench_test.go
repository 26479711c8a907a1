package ca

import "testing"

// fiveCarriers is an EN-DC combination of five carriers: two of LTE, three of NR.
const fiveCarriers = "B3:20@1300 + B7:20@2850 + n28:10@154600 + n78:80@640000,scs=30 + n78:80@645332,scs=30"

func BenchmarkParse(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Parse(fiveCarriers); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCheck(b *testing.B) {
	c, err := Parse(fiveCarriers)
	if err != nil {
		b.Fatal(err)
	}
	half := func(int) Share { return Share{1, 2} }
	b.ReportAllocs()
	for b.Loop() {
		if a := Check(c); !a.Valid() || a.Sum(half).Downlink == 0 {
			b.Fatal("not valid")
		}
	}
}
