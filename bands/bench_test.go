package bands

import "testing"

// hot runs an operation that must not allocate once its tables are loaded.
func hot(b *testing.B, op func()) {
	b.Helper()
	if n := testing.AllocsPerRun(100, op); n != 0 {
		b.Fatalf("%g allocations, want none", n)
	}
	b.ReportAllocs()
	for b.Loop() {
		op()
	}
}

func band(b *testing.B, id ID) *Band {
	b.Helper()
	found, err := Lookup(id)
	if err != nil {
		b.Fatal(err)
	}
	return found
}

// The results of the operations measured, kept so that they are not optimised
// away.
var (
	keptBand      *Band
	keptFrequency Frequency
	keptNumber    int32
	keptBool      bool
	keptErr       error
	keptWidth     ChannelWidth
	keptMatches   []Match
)

func BenchmarkLookup(b *testing.B) {
	hot(b, func() { keptBand, keptErr = Lookup(ID{NR, 78}) })
}

func BenchmarkParseID(b *testing.B) {
	var id ID
	hot(b, func() { id, keptErr = ParseID("n78") })
	keptBool = id.RAT == NR
}

func BenchmarkParseMHz(b *testing.B) {
	hot(b, func() { keptFrequency, keptErr = ParseMHz("3540.96") })
}

func BenchmarkWidth(b *testing.B) {
	for _, c := range []struct {
		id         ID
		scs, width Frequency
	}{{ID{NR, 78}, 30 * KHz, 100 * MHz}, {ID{NR, 28}, 15 * KHz, 10 * MHz}, {ID{LTE, 3}, 15 * KHz, 20 * MHz}} {
		b.Run(c.id.String(), func(b *testing.B) {
			n := band(b, c.id)
			hot(b, func() { keptWidth, keptBool = n.Width(c.scs, c.width) })
		})
	}
}

func BenchmarkDefaultSpacing(b *testing.B) {
	n := band(b, ID{NR, 78})
	hot(b, func() { keptFrequency = n.DefaultSpacing(100 * MHz) })
}

func BenchmarkCheckWidth(b *testing.B) {
	n := band(b, ID{NR, 78})
	hot(b, func() { keptErr = n.CheckWidth(Downlink, 100*MHz, 30*KHz) })
}

func BenchmarkARFCNFrequency(b *testing.B) {
	hot(b, func() { keptFrequency, keptErr = ARFCN(640000).Frequency() })
}

func BenchmarkARFCNNear(b *testing.B) {
	hot(b, func() { _, keptBool, keptErr = ARFCNNear(3600 * MHz) })
}

func BenchmarkEARFCNFind(b *testing.B) {
	hot(b, func() { _, keptFrequency, keptErr = EARFCN(6300).Find() })
}

func BenchmarkGSCNFrequency(b *testing.B) {
	hot(b, func() { keptFrequency, keptErr = GSCN(7880).Frequency() })
}

func BenchmarkChannelFrequency(b *testing.B) {
	for _, c := range []struct {
		id ID
		n  int32
	}{{ID{NR, 78}, 640000}, {ID{LTE, 3}, 1300}} {
		b.Run(c.id.String(), func(b *testing.B) {
			n := band(b, c.id)
			hot(b, func() { keptFrequency, keptErr = n.ChannelFrequency(c.n) })
		})
	}
}

func BenchmarkChannelNumber(b *testing.B) {
	n := band(b, ID{NR, 78})
	hot(b, func() { keptNumber, keptBool, keptErr = n.ChannelNumber(Downlink, 3600*MHz) })
}

func BenchmarkOnRaster(b *testing.B) {
	for _, c := range []struct {
		id    ID
		n     int32
		width Frequency
	}{{ID{NR, 78}, 640000, 100 * MHz}, {ID{LTE, 3}, 1300, 20 * MHz}, {ID{NR, 96}, 871668, 100 * MHz}} {
		b.Run(c.id.String(), func(b *testing.B) {
			n := band(b, c.id)
			hot(b, func() { keptBool = n.OnRaster(Downlink, c.n, c.width) })
		})
	}
}

func BenchmarkPaired(b *testing.B) {
	n := band(b, ID{NR, 28})
	hot(b, func() { keptFrequency, keptBool = n.Paired(Downlink, 780*MHz) })
}

// BenchmarkAt measures a search by frequency; it allocates its result alone.
func BenchmarkAt(b *testing.B) {
	search := func() { keptMatches = At(3600 * MHz) }
	if n := testing.AllocsPerRun(100, search); n != 1 {
		b.Fatalf("%g allocations, want 1", n)
	}
	b.ReportAllocs()
	for b.Loop() {
		search()
	}
}

func BenchmarkByName(b *testing.B) {
	if _, err := ByName("digital dividend"); err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ByName("digital dividend"); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkLoad measures what the first question about an NR or an LTE band
// costs beyond reading the files of tables.
func BenchmarkLoad(b *testing.B) {
	loadNR()
	loadLTE()
	b.Run("NR", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			loadNR()
		}
	})
	b.Run("LTE", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			loadLTE()
		}
	})
}
