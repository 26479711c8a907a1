package ca

import (
	"testing"

	"spectally/bands"
)

func BenchmarkLoadLists(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		loadList(KindLTECA, []string{"ca_lte"})
		loadList(KindNRCA, []string{"ca_nr_intra", "ca_nr_inter", "ca_nr_mixed"})
		loadList(KindENDC, []string{"ca_endc"})
		loadList(KindENDC, []string{"ca_endc_intra"})
		loadList(KindNRDC, []string{"ca_nrdc"})
		loadList(KindSUL, []string{"ca_sul"})
	}
}

func BenchmarkMaxDLOfAll(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		b.StopTimer()
		l := []*list{
			loadList(KindLTECA, []string{"ca_lte"}),
			loadList(KindNRCA, []string{"ca_nr_intra", "ca_nr_inter", "ca_nr_mixed"}),
			loadList(KindENDC, []string{"ca_endc"}),
			loadList(KindNRDC, []string{"ca_nrdc"}),
			loadList(KindSUL, []string{"ca_sul"})}
		b.StartTimer()
		for _, l := range l {
			for i := 1; i < len(l.entries); i++ {
				Configuration{list: l, entry: &l.entries[i]}.MaxDL()
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

func BenchmarkStatusFallback(b *testing.B) {
	for _, s := range []string{"DC_1A-3A_n78A-n257R2", "CA_n1A-n3A-n257(2A-G)", "CA_3A-41F", "DC_3A_n78(2A)-n258A", "CA_n3A-n41A", "CA_n77A-n78A-n257A"} {
		b.Run(s, func(b *testing.B) {
			n, err := ParseName(s)
			if err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			for b.Loop() {
				StatusOf(n)
			}
		})
	}
}
