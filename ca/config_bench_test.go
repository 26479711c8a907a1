package ca

import (
	"testing"

	"spectally/bands"
)

// BenchmarkLoadLists reads and indexes every list, as the first question about
// all of them does.
func BenchmarkLoadLists(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		for _, f := range families() {
			f.all()
		}
	}
}

// BenchmarkLoadPart reads of every list what has two bands, as the first question about
// carriers does.
func BenchmarkLoadPart(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		for _, f := range families() {
			f.named("DC_3A_n78A")
		}
	}
}

// families are all families, of which nothing is read yet.
func families() []*family {
	var fresh []*family
	for _, f := range []*family{lteFamily, nrFamily, endcFamily, endcIntraFamily, nrdcFamily, sulFamily} {
		fresh = append(fresh, &family{kind: f.kind, files: f.files})
	}
	return fresh
}

// BenchmarkFirstSearch loads all lists and ranks every configuration by its
// widest total.
func BenchmarkFirstSearch(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		for _, f := range families() {
			for _, e := range f.all().entries {
				Configuration{entry: e}.MaxDL()
			}
		}
	}
}

func BenchmarkSearchPair(b *testing.B) {
	b.ReportAllocs()
	q := Query{With: []bands.ID{{RAT: bands.NR, Number: 78}, {RAT: bands.LTE, Number: 3}}}
	n := 0
	for b.Loop() {
		n = len(Search(q))
	}
	b.ReportMetric(float64(n), "found")
}

func BenchmarkSearchAll(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		Search(Query{MinDL: 200 * bands.MHz})
	}
}

// BenchmarkAdmit checks one combination: its status and its sets.
func BenchmarkAdmit(b *testing.B) {
	for _, s := range []string{"CA_3A-7A-20A", "CA_3C-7C", "CA_n3A-n78(2A)", "CA_n1A-n3A-n7A-n78A", "CA_n260(A-3O-Q)", "DC_3A-7A_n78A", "DC_1A-(n)3AA-n78A"} {
		b.Run(s, func(b *testing.B) {
			n := named(b, s)
			w, ok := Widest(n)
			if !ok {
				b.Fatal("no widths")
			}
			b.ReportAllocs()
			for b.Loop() {
				if s := StatusOf(n); !s.Supported() {
					b.Fatal("not supported")
				}
				if a, err := Admit(n, w); err != nil || !a.Admitted() {
					b.Fatal(a.RefusalText(), err)
				}
			}
		})
	}
}

// BenchmarkStatus looks up names that are listed, fallbacks, and neither.
func BenchmarkStatus(b *testing.B) {
	for _, s := range []string{"CA_n3A-n41A", "DC_29A_n66A", "DC_46D_n41A-n71A", "DC_1A-3A_n78A-n257R2", "CA_3A-41F", "CA_n77A-n78A-n257A"} {
		b.Run(s, func(b *testing.B) {
			n := named(b, s)
			b.ReportAllocs()
			for b.Loop() {
				StatusOf(n)
			}
		})
	}
}

func BenchmarkNearestTo(b *testing.B) {
	for _, s := range []string{"DC_1A-3A_n78A-n257R2", "CA_3A-41F", "CA_n77A-n78A-n257A"} {
		b.Run(s, func(b *testing.B) {
			n := named(b, s)
			b.ReportAllocs()
			for b.Loop() {
				NearestTo(n)
			}
		})
	}
}
