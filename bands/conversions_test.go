package bands_test

import (
	"math/big"
	"math/rand/v2"
	"testing"

	"spectally/bands"
	"spectally/data/pace"
)

// ratMHz reads a decimal number of megahertz as an exact rational.
func ratMHz(t testing.TB, s string) *big.Rat {
	t.Helper()
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		t.Fatalf("%q is no number", s)
	}
	return r
}

// isMHz tells whether f is exactly r megahertz: whether f hertz times the denominator
// is the numerator times a million. Both fit into 64 bits for every channel number.
func isMHz(f bands.Frequency, r *big.Rat) bool {
	return r.Num().IsInt64() && r.Denom().IsInt64() && int64(f)*r.Denom().Int64() == r.Num().Int64()*1e6
}

// Every NR-ARFCN, both ways: F_REF = F_REF-Offs + ΔF_Global (N_REF - N_REF-Offs)
// with the rows of TS 38.104 V19.4.0 Table 5.4.2.1-1, in rationals of a megahertz.
func TestEveryARFCN(t *testing.T) {
	rows := []struct {
		offset, step string
		first, last  bands.ARFCN
	}{
		{"0", "0.005", 0, 599999},
		{"3000", "0.015", 600000, 2016666},
		{"24250.08", "0.06", 2016667, 3279165},
	}
	next := bands.ARFCN(0)
	for _, row := range rows {
		if next != row.first {
			t.Errorf("a row begins at %d, want %d", row.first, next)
		}
		next = row.last + 1
		t.Run("from "+row.offset+" MHz", func(t *testing.T) {
			t.Parallel()
			want, step := ratMHz(t, row.offset), ratMHz(t, row.step)
			every := pace.Step(11)
			step.Mul(step, big.NewRat(int64(every), 1))
			for n := row.first; n <= row.last; n += bands.ARFCN(every) {
				f, err := n.Frequency()
				if err != nil || !isMHz(f, want) {
					t.Fatalf("NR-ARFCN %d: %s, %v; want %s MHz", n, f, err, want.FloatString(6))
				}
				back, exact, err := bands.ARFCNNear(f)
				if back != n || !exact || err != nil {
					t.Fatalf("ARFCNNear(%s) = %d, %v, %v; want %d", f, back, exact, err, n)
				}
				want.Add(want, step)
			}
		})
	}
	if next != 3279166 {
		t.Errorf("ended at %d", next)
	}
}

// The nearest number to a frequency between two numbers is found by comparing with
// the numbers around it, one by one.
func TestARFCNNear(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	frequencies := []bands.Frequency{
		0, 1, 2499, 2500, 2501, 4999, // half-way is the lower number
		3000*mhz1 - 1, 3000*mhz1 - 2500, 3000*mhz1 - 2499, 3000*mhz1 + 7500, 3000*mhz1 + 7501,
		24250 * mhz1, 24250*mhz1 + 35*khz1, 24250*mhz1 + 35*khz1 + 1, 24250*mhz1 + 80*khz1,
		100000*mhz1 - 1, 100000 * mhz1,
	}
	for range 20000 {
		frequencies = append(frequencies, bands.Frequency(random.Int64N(int64(100000*mhz1)+1)))
	}
	for _, f := range frequencies {
		n, exact, err := bands.ARFCNNear(f)
		if err != nil {
			t.Fatal(err)
		}
		at := arfcn(t, int32(n))
		if exact != (at == f) {
			t.Errorf("%s: NR-ARFCN %d is %s, exact %v", f, n, at, exact)
		}
		for m := max(n-2, 0); m <= min(n+2, 3279165); m++ {
			other := arfcn(t, int32(m))
			if d, best := max(other-f, f-other), max(at-f, f-at); d < best || d == best && m < n {
				t.Errorf("%s: NR-ARFCN %d is %s off, %d only %s", f, n, best, m, d)
			}
		}
	}
	for _, f := range []bands.Frequency{-1, 100000*mhz1 + 1} {
		_, _, err := bands.ARFCNNear(f)
		wantError(t, err, `frequency "`+f.String()+`": must be 0 Hz to 100 GHz (TS 38.104 Table 5.4.2.1-1)`)
	}
}

// Every EARFCN of every band, both ways: F = F_low + 0.1 (N - N_Offs) MHz (TS 36.101
// V19.6.0 clause 5.7.3), with the rows of Tables 5.7.3-1 and 5.7.3H-1.
func TestEveryEARFCN(t *testing.T) {
	checked := make(map[bands.EARFCN]bool)
	for _, row := range readFacts(t, "lte_earfcn", 74) {
		b := mustLookup(t, row.fields[0])
		for i, d := range []bands.Direction{bands.Downlink, bands.Uplink} {
			f := row.fields[1+4*i : 5+4*i]
			if f[0] == "" {
				if b.Has(d) {
					t.Errorf("%s has a %s without numbers", b.ID, d)
				}
				continue
			}
			low, offset := ratMHz(t, f[0]), atoi(t, f[1])
			for n := atoi(t, f[2]); n <= atoi(t, f[3]); n++ {
				want := new(big.Rat).Add(low, big.NewRat(int64(n-offset), 10))
				m, at, err := bands.EARFCN(n).Find()
				if err != nil || m.Band != b || !isMHz(at, want) {
					t.Fatalf("EARFCN %d: %s, %v; want %s of %s", n, at, err, want.FloatString(1), b.ID)
				}
				if tdd := b.Duplex == bands.TDD; m.Downlink != (d == bands.Downlink || tdd) || m.Uplink != (d == bands.Uplink || tdd) {
					t.Fatalf("EARFCN %d is found in %s for downlink %v, uplink %v", n, b.ID, m.Downlink, m.Uplink)
				}
				if own, err := b.ChannelFrequency(int32(n)); own != at || err != nil {
					t.Fatalf("%s EARFCN %d: %s, %v; want %s", b.ID, n, own, err, at)
				}
				if back, exact, err := b.ChannelNumber(d, at); back != int32(n) || !exact || err != nil {
					t.Fatalf("%s %s: %s is EARFCN %d, %v, %v; want %d", b.ID, d, at, back, exact, err, n)
				}
				checked[bands.EARFCN(n)] = true
			}
		}
	}
	last := bands.EARFCN(0)
	for n := bands.EARFCN(-2); n < 140000; n++ {
		if _, _, err := n.Find(); (err == nil) != checked[n] {
			t.Errorf("EARFCN %d: %v", n, err)
		}
		if checked[n] {
			last = n
		}
	}
	if last != 134441 { // the error of Find names it
		t.Errorf("the last EARFCN is %d", last)
	}
}

// Every GSCN, both ways, from the formulas of TS 38.104 V19.4.0 Tables 5.4.3.1-1 to -3
// and TS 38.101-5 V19.4.0 Table 5.4.3.1-2 in rationals of a megahertz.
func TestEveryGSCN(t *testing.T) {
	checked := make(map[bands.GSCN]string)
	check := func(g int64, want *big.Rat, narrow bool) {
		f, err := bands.GSCN(g).Frequency()
		if err != nil || !isMHz(f, want) {
			t.Fatalf("GSCN %d: %s, %v; want %s MHz", g, f, err, want.FloatString(6))
		}
		same, other := bands.GSCNAt, bands.NarrowGSCNAt
		if narrow {
			same, other = other, same
		}
		if back, ok := same(f); int64(back) != g || !ok {
			t.Fatalf("GSCN at %s is %d, %v; want %d", f, back, ok, g)
		}
		// 921.45 MHz of n100 lies on the 3 MHz raster too, as 31243, which the runs of
		// n100 leave out (TS 38.101-1 V19.5.0 Table 5.4.3.3-2).
		if back, ok := other(f); ok && !(g == 31243 && back == 41638 || g == 41638 && back == 31243) {
			t.Fatalf("GSCN at %s is %d on the other raster too", f, back)
		}
		for _, off := range []bands.Frequency{f - 1, f + 1, f + 5*khz1} {
			if back, ok := same(off); ok {
				t.Fatalf("GSCN at %s is %d, want none", off, back)
			}
		}
		at := f.String()
		if before, twice := checked[bands.GSCN(g)]; twice && before != at {
			t.Fatalf("GSCN %d is %s and %s", g, before, at)
		}
		checked[bands.GSCN(g)] = at
	}
	mhzRat := func(n, stepKHz, m, baseKHz int64) *big.Rat { return big.NewRat(n*stepKHz+m*50+baseKHz, 1000) }
	for n := int64(1); n <= 2499; n++ {
		for _, m := range []int64{1, 3, 5} {
			check(3*n+(m-3)/2, mhzRat(n, 1200, m, 0), false)
		}
	}
	for n := int64(0); n <= 14756; n++ {
		check(7499+n, mhzRat(n, 1440, 0, 3000_000), false)
	}
	for n := int64(0); n <= 4383; n++ {
		check(22256+n, mhzRat(n, 17280, 0, 24250_080), false)
	}
	for n := int64(1); n <= 4999; n++ { // the satellite table; that of the ground bands is part of it
		for _, m := range []int64{1, 3, 5} {
			check(26638+3*n+(m-3)/2, mhzRat(n, 600, m, 300), true)
		}
	}
	check(41637, ratMHz(t, "920.73"), true)
	check(41638, ratMHz(t, "921.45"), false)
	if want := 41638 - 2 + 1; len(checked) != want {
		t.Errorf("%d numbers, want %d", len(checked), want)
	}
	for _, f := range []bands.Frequency{-1, 0, 1 << 62, -1 << 62, 2399 * mhz1} {
		if g, ok := bands.GSCNAt(f); ok {
			t.Errorf("GSCNAt(%d Hz) = %d", f, g)
		}
		if g, ok := bands.NarrowGSCNAt(f); ok {
			t.Errorf("NarrowGSCNAt(%d Hz) = %d", f, g)
		}
	}
	for _, g := range []bands.GSCN{1, 41639} {
		_, err := g.Frequency()
		wantError(t, err, `GSCN "`+itoa(int(g))+`": must be 2 to 26639, or 26640 to 41638 for channels of 3 MHz and n100 (TS 38.104 Table 5.4.3.1-1)`)
	}
}

// A search by NR-ARFCN finds the bands that contain its frequency, in the directions
// in which they do; each band agrees.
func TestByChannelAgreesWithAt(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	all := bands.All(bands.NR)
	for range pace.Times(1500, 5) {
		n := random.Int32N(3279166)
		f := arfcn(t, n)
		var want []bands.Match
		for _, b := range all {
			m := bands.Match{Band: b, Downlink: b.Downlink.Contains(f), Uplink: b.Uplink.Contains(f)}
			dl, ul := b.Directions(n)
			if dl != m.Downlink || ul != m.Uplink {
				t.Fatalf("%s %d: directions %v, %v; want %v, %v", b.ID, n, dl, ul, m.Downlink, m.Uplink)
			}
			own, err := b.ChannelFrequency(n)
			if (err == nil) != (dl || ul) || err == nil && own != f {
				t.Fatalf("%s %d: %s, %v; want %s", b.ID, n, own, err, f)
			}
			if dl || ul {
				want = append(want, m)
			}
		}
		got := bands.ByChannel(bands.NR, n)
		if len(got) != len(want) {
			t.Fatalf("NR-ARFCN %d: %d bands, want %d", n, len(got), len(want))
		}
		for i := range got {
			if got[i] != want[i] {
				t.Fatalf("NR-ARFCN %d: %v, want %v", n, got[i], want[i])
			}
		}
	}
}

// Where the rule of a number stands.
func TestNumberSources(t *testing.T) {
	for g, want := range map[bands.GSCN]string{
		2:     "TS 38.104 V19.4.0 Table 5.4.3.1-1",
		26639: "TS 38.104 V19.4.0 Table 5.4.3.1-1",
		26640: "TS 38.104 V19.4.0 Table 5.4.3.1-2",
		33803: "TS 38.104 V19.4.0 Table 5.4.3.1-2",
		33805: "TS 38.101-5 V19.4.0 Table 5.4.3.1-2", // of satellite bands alone
		41637: "TS 38.104 V19.4.0 Table 5.4.3.1-3",
		50000: "TS 38.104 V19.4.0 Table 5.4.3.1-1", // no GSCN
	} {
		if got := g.Source().String(); got != want {
			t.Errorf("GSCN %d: %s, want %s", g, got, want)
		}
	}
	if got := bands.ARFCN(0).Source().String(); got != "TS 38.104 V19.4.0 Table 5.4.2.1-1" {
		t.Errorf("NR-ARFCN: %s", got)
	}
}

// SS_REF is the centre of subcarrier 120 of 240 (TS 38.101-1 V19.5.0 clause 5.4.3.2), so
// 120.5 subcarriers lie below it and 119.5 above.
func TestSSBSpan(t *testing.T) {
	for _, c := range []struct {
		mhz  string
		kHz  bands.Frequency
		want string
	}{
		{"3548.64", 30, "3545.025-3552.225 MHz"},
		{"2152.05", 15, "2150.2425-2153.8425 MHz"},
		{"26559.36", 240, "26530.44-26588.04 MHz"},
	} {
		if got := bands.SSBSpan(mhz(t, c.mhz), c.kHz*khz1).String(); got != c.want {
			t.Errorf("block of %d kHz at %s MHz: %s, want %s", c.kHz, c.mhz, got, c.want)
		}
	}
}
