package ca_test

import (
	"errors"
	"math/big"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/ca"
)

func TestNominalSpacingLTE(t *testing.T) {
	b := lookup(t, "B3")
	printed := 0
	for _, f := range readFacts(t, "lte_ca_spacing", 21) {
		w1, w2, want := megahertz(t, f.fields[0]), megahertz(t, f.fields[1]), megahertz(t, f.fields[2])
		if f.fields[3] != "" {
			printed++
		}
		s, err := ca.NominalSpacing(b, w1, w2)
		if err != nil || s.Nominal != want || s.Grid != 300*bands.KHz || s.SCS != 0 || s.Source.Spec+" "+s.Source.Version+" "+s.Source.Table != f.source {
			t.Errorf("%v and %v: %+v, %v; want %v", w1, w2, s, err, want)
		}
	}
	if printed != 8 {
		t.Errorf("%d pairs are printed in TS 36.508, want 8", printed)
	}
}

func TestNominalSpacingNR(t *testing.T) {
	for _, f := range readFacts(t, "nr_ca_spacing", 16) {
		w1, w2, want := megahertz(t, f.fields[1]), megahertz(t, f.fields[2]), megahertz(t, f.fields[4])
		b := lookup(t, f.fields[0])
		s, err := ca.NominalSpacing(b, w1, w2)
		if err != nil || s.Nominal != want || s.Source.Spec+" "+s.Source.Version+" "+s.Source.Table != f.source {
			t.Errorf("%v %v and %v: %+v, %v; want %v", b.ID, w1, w2, s, err, want)
		}
		if f.fields[3] != "" && s.SCS != bands.Frequency(number(t, f.fields[3]))*bands.KHz {
			t.Errorf("%v %v and %v: SCS of mu0 %v, want %s kHz", b.ID, w1, w2, s.SCS, f.fields[3])
		}
	}
}

// plainSpacing works the formulas of the clauses in fractions of a megahertz, from
// the facts of the tables.
type plainSpacing struct {
	offers  map[string]map[string][]int // band, width: subcarrier spacings in kHz, rising
	guards  map[string]*big.Rat         // range, spacing and width
	rasters map[string]bool             // band and kHz
}

func readPlainSpacing(t *testing.T) plainSpacing {
	p := plainSpacing{make(map[string]map[string][]int), make(map[string]*big.Rat), make(map[string]bool)}
	for _, f := range readFacts(t, "nr_widths", 1088) {
		if p.offers[f.fields[0]] == nil {
			p.offers[f.fields[0]] = make(map[string][]int)
		}
		p.offers[f.fields[0]][f.fields[2]] = append(p.offers[f.fields[0]][f.fields[2]], number(t, f.fields[1]))
	}
	for _, f := range readFacts(t, "nr_guard_bands", 92) {
		kHz, ok := new(big.Rat).SetString(f.fields[3])
		if !ok {
			t.Fatal(f.fields)
		}
		p.guards[strings.Join(f.fields[:3], " ")] = kHz.Quo(kHz, big.NewRat(1000, 1))
	}
	for _, f := range readFacts(t, "nr_rasters", 113) {
		p.rasters[f.fields[0]+" "+f.fields[1]] = true
	}
	return p
}

// of returns the nominal spacing of two widths written in megahertz, and 2^mu0 times
// 15 kHz.
func (p *plainSpacing) of(t *testing.T, b *bands.Band, w1, w2 string) (nominal *big.Rat, scs int) {
	id := b.ID.String()
	for _, s := range p.offers[id][w1] {
		for _, other := range p.offers[id][w2] {
			if s == other {
				scs = max(scs, s)
			}
		}
	}
	if scs == 0 {
		scs = 30
	}
	a, _ := new(big.Rat).SetString(w1)
	c, _ := new(big.Rat).SetString(w2)
	sum := new(big.Rat).Add(a, c)
	if b.Range == bands.FR22 { // ceil(sum / 100.8) 50.4
		n := new(big.Rat).Quo(sum, big.NewRat(1008, 10))
		up := new(big.Int).Div(new(big.Int).Add(n.Num(), new(big.Int).Sub(n.Denom(), big.NewInt(1))), n.Denom())
		return new(big.Rat).Mul(new(big.Rat).SetInt(up), big.NewRat(504, 10)), 0
	}
	kHz := big.NewRat(int64(scs), 1).FloatString(0)
	g1, g2 := p.guards[b.Range.String()+" "+kHz+" "+w1], p.guards[b.Range.String()+" "+kHz+" "+w2]
	if g1 == nil || g2 == nil {
		t.Fatalf("%s: no guard bands for %s and %s at %s kHz", id, w1, w2, kHz)
	}
	apart := new(big.Rat).Sub(g1, g2)
	d := new(big.Rat).Sub(sum, new(big.Rat).Mul(big.NewRat(2, 1), apart.Abs(apart)))
	step := big.NewRat(int64(scs), 1000)
	if p.rasters[id+" 100"] {
		step = big.NewRat(3, 10)
	}
	n := new(big.Rat).Quo(d, new(big.Rat).Mul(big.NewRat(2, 1), step))
	down := new(big.Int).Div(n.Num(), n.Denom())
	return step.Mul(step, new(big.Rat).SetInt(down)), scs
}

// Every two widths of every NR band, against fractions; symmetric, rising with the
// width, and never above half the sum of the widths in FR1 and FR2-1, nor much below.
func TestNominalSpacingEveryPair(t *testing.T) {
	plain := readPlainSpacing(t)
	pairs := 0
	for _, b := range bands.All(bands.NR) {
		list := b.WidthsIn(bands.Downlink, 0)
		if !b.Has(bands.Downlink) {
			list = b.WidthsIn(bands.Uplink, 0)
		}
		for _, w1 := range list {
			for j, w2 := range list {
				pairs++
				got, err := ca.NominalSpacing(b, w1, w2)
				if err != nil {
					t.Fatalf("%v %v and %v: %v", b.ID, w1, w2, err)
				}
				want, scs := plain.of(t, b, w1.MHz(), w2.MHz())
				if want.Cmp(big.NewRat(int64(got.Nominal), 1e6)) != 0 || got.SCS != bands.Frequency(scs)*bands.KHz {
					t.Errorf("%v %v and %v: %v at %v, want %s MHz at %d kHz", b.ID, w1, w2, got.Nominal, got.SCS, want.FloatString(6), scs)
				}
				if other, err := ca.NominalSpacing(b, w2, w1); err != nil || other != got {
					t.Errorf("%v %v and %v: %+v, the other way round %+v", b.ID, w1, w2, got, other)
				}
				if j > 0 {
					if less, _ := ca.NominalSpacing(b, w1, list[j-1]); less.Nominal > got.Nominal {
						t.Errorf("%v %v and %v: %v is less than with %v", b.ID, w1, w2, got.Nominal, list[j-1])
					}
				}
				half := (w1 + w2) / 2
				if b.Range == bands.FR22 {
					if got.Nominal < half || got.Nominal >= half+50_400*bands.KHz {
						t.Errorf("%v %v and %v: %v is far from %v", b.ID, w1, w2, got.Nominal, half)
					}
				} else if most := guardDifference(b); got.Nominal > half || got.Nominal < half-most {
					t.Errorf("%v %v and %v: %v is far from %v", b.ID, w1, w2, got.Nominal, half)
				}
				if tolerance := 300 * bands.KHz; b.IsShared() != (got.Tolerance == tolerance) || !b.IsShared() && got.Tolerance != 0 {
					t.Errorf("%v: tolerance %v", b.ID, got.Tolerance)
				}
			}
		}
	}
	if pairs != 3692 {
		t.Errorf("%d pairs, want 3692", pairs)
	}
}

// guardDifference bounds how far two neighbours may overlap: guard bands differ by up
// to 7.96 MHz in FR2-1 (400 and 50 MHz at 120 kHz) and by less than 1.3 MHz in FR1 (TS
// 38.101-1 and TS 38.101-2 Table 5.3.3-1), and the grid takes up to 0.3 MHz.
func guardDifference(b *bands.Band) bands.Frequency {
	if b.Range.IsFR2() {
		return 8200 * bands.KHz
	}
	return 1600 * bands.KHz
}

func TestNominalSpacingErrors(t *testing.T) {
	for _, test := range []struct {
		band   string
		w1, w2 bands.Frequency
		want   string
	}{
		{"n78", 100 * mhz, 35 * mhz, `n78 downlink width "35 MHz": must be 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90 or 100 MHz; closest is 30 MHz (TS 38.101-1 Table 5.3.5-1)`},
		{"n28", 50 * mhz, 10 * mhz, `n28 downlink width "50 MHz": must be 3, 5, 10, 15, 20, 25, 30 or 40 MHz; closest is 40 MHz (TS 38.101-1 Table 5.3.5-1)`},
		{"B5", 10 * mhz, 20 * mhz, `B5 downlink width "20 MHz": must be 1.4, 3, 5 or 10 MHz; closest is 10 MHz (TS 36.101 Table 5.6.1-1)`},
		{"n257", 100 * mhz, 0, `n257 downlink width "0 Hz": must be 50, 100, 200 or 400 MHz; closest is 50 MHz (TS 38.101-2 Table 5.3.5-1)`},
		{"n80", 100 * mhz, 20 * mhz, `n80 uplink width "100 MHz": must be 5, 10, 15, 20, 25, 30, 35, 40, 45 or 50 MHz; closest is 50 MHz (TS 38.101-1 Table 5.3.5-1)`},
	} {
		s, err := ca.NominalSpacing(lookup(t, test.band), test.w1, test.w2)
		var value *bands.ValueError
		if err == nil || err.Error() != test.want || !errors.As(err, &value) || s != (ca.Spacing{}) {
			t.Errorf("%s %v and %v: %v, %v; want %s", test.band, test.w1, test.w2, s, err, test.want)
		}
	}
}

// The steps of smaller spacings: multiples of the least common multiple of channel
// raster and subcarrier spacing (TS 38.101-1 V19.5.0 and TS 38.101-2 V19.4.0 clause
// 5.4A.1, TS 36.101 V19.6.0 clause 5.7.1A).
func TestGridAt(t *testing.T) {
	for _, test := range []struct {
		band  string
		width bands.Frequency
		scs   bands.Frequency // of the carriers, kHz
		want  bands.Frequency // kHz
	}{
		{"B3", 20, 15, 300}, {"n1", 20, 15, 300}, {"n1", 20, 60, 300},
		{"n78", 100, 30, 30}, {"n78", 40, 15, 15}, {"n78", 100, 60, 60}, {"n78", 100, 0, 60},
		{"n90", 100, 30, 30}, {"n41", 50, 15, 15}, {"n257", 100, 120, 120}, {"n257", 100, 60, 60}, {"n263", 400, 120, 50_400},
	} {
		s, err := ca.NominalSpacing(lookup(t, test.band), test.width*mhz, test.width*mhz)
		if err != nil {
			t.Fatal(err)
		}
		if got := s.GridAt(test.scs * bands.KHz); got != test.want*bands.KHz {
			t.Errorf("%s at %d kHz: %v, want %d kHz", test.band, test.scs, got, test.want)
		}
	}
}
