package holding_test

import (
	"strings"
	"testing"

	"spectally/ca/deploy"
	"spectally/throughput/holding"
)

func blocks(t testing.TB, text string) []deploy.Block {
	t.Helper()
	var list []deploy.Block
	for s := range strings.SplitSeq(text, ",") {
		b, err := deploy.ParseBlock(s)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, b)
	}
	return list
}

// Four networks of an invented country, of 12 blocks each.
var nation = []string{
	"1805-1825/1710-1730, 2110-2130/1920-1940, 2620-2640/2500-2520, 791-801/832-842, 925-935/880-890, 758-768/703-713, 1452-1472, 2570-2590, 2300-2340, 3410-3500, 3600-3650, 26500-26900",
	"1825-1845/1730-1750, 2130-2140/1940-1950, 2640-2660/2520-2540, 801-811/842-852, 935-945/890-900, 768-778/713-723, 1472-1492, 2590-2600, 2340-2360, 3500-3600, 3650-3700, 26900-27300",
	"1845-1860/1750-1765, 2140-2155/1950-1965, 2660-2670/2540-2550, 811-821/852-862, 945-950/900-905, 778-783/723-728, 1427-1452, 2600-2610, 2360-2380, 3700-3750, 3400-3410, 27300-27500",
	"1860-1880/1765-1785, 2155-2170/1965-1980, 2670-2690/2550-2570, 950-960/905-915, 783-788/728-733, 738-748, 1492-1502, 2610-2620, 2380-2400, 3750-3800, 3300-3400, 24250-24650",
}

func everything(b *testing.B, f *holding.Finder, text string) {
	n := f.Network(blocks(b, text))
	for _, t := range holding.Technologies() {
		for _, a := range holding.Aims() {
			if _, ok := n.Best(t, a); !ok {
				b.Fatal("nothing found")
			}
		}
	}
}

// The aim is 300 ms on one core.
func BenchmarkNation(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		f := holding.NewFinder(holding.Limits{})
		for _, text := range nation {
			everything(b, f, text)
		}
	}
}

// The aim is 2 s on one core.
func BenchmarkThirtyBlocks(b *testing.B) {
	text := nation[0] + ", " + nation[1] + ", 1860-1880/1765-1785, 2155-2170/1965-1980, 2670-2690/2550-2570, 950-960/905-915, 783-788/728-733, 3750-3800"
	b.ReportAllocs()
	for b.Loop() {
		everything(b, holding.NewFinder(holding.Limits{}), text)
	}
}
