package ca_test

import (
	"fmt"
	"math/big"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/data/pace"
)

// alike gives every TDD carrier the same downlink share.
func alike(part, whole int64) func(int) ca.Share {
	return func(int) ca.Share { return ca.Share{Part: part, Whole: whole} }
}

// totalText writes a total: downlink, uplink, occupied, downlink-equivalent.
func totalText(t ca.Total) string {
	return strings.Join([]string{t.Downlink.MHz(), t.Uplink.MHz(), t.Occupied.MHz(), t.DownlinkEquivalent.MHz()}, " ")
}

func TestTotals(t *testing.T) {
	for _, test := range []struct{ carriers, want string }{
		// LTE 20 MHz + NR 80 MHz + NR 80 MHz + LTE 20 MHz is 200 MHz in the downlink:
		// common practice, no source.
		{"B3:20 + n78:80 + n78:80 + B7:20", "200 100 240 160"},
		{"B3:20@1300 + n78:80@640000 + n78:80@645332 + B7:20@2850", "200 100 240 160"},
		// One carrier of each duplex mode; three quarters of the time downlink.
		{"B3:20", "20 20 40 20"},
		{"n78:80", "80 80 80 60"},
		{"n66:20 + n29:10", "30 20 50 30"},
		{"n78:100 + n80:20", "100 100 120 75"},
		{"n78:100,ul=0 + n80:20,ul=1", "100 20 120 75"},
		{"n78:100 + n80:20,ul=1", "100 120 120 75"},
		{"B107:8", "8 0 8 8"},
		// Which uplinks transmit.
		{"B3:20 + B7:10 + n78:100 + n28:10", "140 120 180 115"},
		{"B3:20 + B7:10,ul=1 + n78:100 + n28:10,ul=1", "140 140 180 115"},
		{"B3:20,ul=0 + B7:10 + n78:100,ul=0 + n28:10", "140 0 180 115"},
		{"B3:20 + B7:10,role=pcell + n78:100", "130 110 160 105"},
		{"n29:10 + n66:20", "30 20 50 30"},
		{"n77:100/0 + n28:10", "110 10 120 85"},
		// Downlink only, or different widths.
		{"B3:20/0 + B7:20", "40 20 60 40"},
		{"n5:25/20", "25 20 45 25"},
		{"n77:100 + n5:25", "125 100 125 100"},
		{"n50:80/60", "80 60 80 60"},
		{"B2:20 + B66:20@67236", "40 20 60 40"},
		// Satellites and millimetre waves.
		{"n256:10", "10 10 20 10"},
		{"8xn257:100", "800 100 800 600"},
		// A band that the tables do not have counts for nothing.
		{"B3:20 + B64:20", "20 20 40 20"},
	} {
		a := checked(t, test.carriers)
		if got := totalText(a.Sum(alike(3, 4))); got != test.want {
			t.Errorf("%s: %s, want %s", test.carriers, got, test.want)
		}
		if got := totalText(a.Totals(alike(3, 4)).Total); got != test.want {
			t.Errorf("%s: the total with its parts is %s, want %s", test.carriers, got, test.want)
		}
	}
}

func partsText(parts []ca.Part) string {
	var list []string
	for _, p := range parts {
		list = append(list, p.Key+": "+totalText(p.Total))
	}
	return strings.Join(list, "; ")
}

func TestTotalParts(t *testing.T) {
	a := checked(t, "n78:80,pci=500 + B20:10,pci=17 + B3:20,pci=17 + n258:100 + B3:20,pci=4 + n78:60,pci=17 + n28:10,pci=17 + B38:20 + n75:10")
	asked := make(map[int]int)
	totals := a.Totals(func(i int) ca.Share {
		asked[i]++
		return map[int]ca.Share{0: {Part: 1, Whole: 2}, 3: {Part: 4, Whole: 5}, 5: {Part: 3, Whole: 4}, 7: {Part: 3, Whole: 5}}[i]
	})
	if fmt.Sprint(asked) != "map[0:1 3:1 5:1 7:1]" {
		t.Errorf("asked about carriers %v, want each TDD carrier once", asked)
	}
	for _, test := range []struct {
		name  string
		parts []ca.Part
		want  string
	}{
		{"technology", totals.ByRAT, "LTE: 70 10 120 62; NR: 260 80 270 185"},
		{"band", totals.ByBand, "B3: 40 0 80 40; B20: 10 10 20 10; B38: 20 0 20 12; n28: 10 0 20 10; n75: 10 0 10 10; n78: 140 80 140 85; n258: 100 0 100 80"},
		{"range", totals.ByRange, "FR1: 160 80 170 105; FR2-1: 100 0 100 80; LTE: 70 10 120 62"},
		{"duplex", totals.ByDuplex, "FDD: 60 10 120 60; SDL: 10 0 10 10; TDD: 260 80 260 177"},
		{"site", totals.BySite, "LTE PCI 4: 20 0 40 20; LTE PCI 17: 30 10 60 30; NR PCI 17: 70 0 80 55; NR PCI 500: 80 80 80 40"},
	} {
		if got := partsText(test.parts); got != test.want {
			t.Errorf("by %s: %s, want %s", test.name, got, test.want)
		}
	}
	none := checked(t, "B3:20 + n78:80").Totals(alike(1, 1))
	if none.BySite != nil {
		t.Errorf("sites without cell identities: %v", none.BySite)
	}
}

func TestShare(t *testing.T) {
	for _, test := range []struct {
		share ca.Share
		of    bands.Frequency
		want  bands.Frequency
	}{
		{ca.Share{Part: 1, Whole: 2}, 5, 3}, // halves go up
		{ca.Share{Part: 1, Whole: 3}, 100, 33},
		{ca.Share{Part: 2, Whole: 3}, 100, 67},
		{ca.Share{Part: 7, Whole: 7}, 80 * mhz, 80 * mhz},
		{ca.Share{Part: 0, Whole: 7}, 80 * mhz, 0},
		{ca.Share{}, 80 * mhz, 0},
		{ca.Share{Part: 103, Whole: 140}, 100 * mhz, 73_571_429},
	} {
		if got := test.share.Of(test.of); got != test.want {
			t.Errorf("%v of %d Hz is %d Hz, want %d", test.share, test.of, got, test.want)
		}
	}
	r := rand.New(rand.NewPCG(3, 4))
	for range 10_000 {
		s := ca.Share{Whole: 1 + r.Int64N(100_000)}
		s.Part = r.Int64N(s.Whole + 1)
		f := bands.Frequency(r.Int64N(int64(2 * bands.GHz)))
		exact := new(big.Rat).Mul(big.NewRat(s.Part, s.Whole), big.NewRat(int64(f), 1))
		off := new(big.Rat).Sub(big.NewRat(int64(s.Of(f)), 1), exact)
		if off.Cmp(big.NewRat(1, 2)) > 0 || off.Cmp(big.NewRat(-1, 2)) <= 0 {
			t.Fatalf("%v of %d Hz is %d Hz, off by %s", s, f, s.Of(f), off.FloatString(6))
		}
		if want, _ := big.NewRat(s.Part, s.Whole).Float64(); s.Float() != want {
			t.Fatalf("%v is %g, want %g", s, s.Float(), want)
		}
	}
	if (ca.Share{}).Float() != 0 {
		t.Error("the zero share is not 0")
	}
}

// randomAllowed returns a combination of widths that their bands have, of up to eight
// carriers.
func randomAllowed(r *rand.Rand) ca.Combination {
	all := bands.All(0)
	var c ca.Combination
	for len(c) == 0 || r.IntN(4) > 0 && len(c) < 8 {
		b := all[r.IntN(len(all))]
		widths := b.Widths()
		if len(widths) == 0 {
			continue
		}
		w := widths[r.IntN(len(widths))]
		carrier := ca.Carrier{Band: b.ID, Downlink: w.Width, Uplink: w.Width, SCS: w.SCS, Transmit: pick(r, ca.Open, ca.Open, ca.Yes, ca.No)}
		if r.IntN(2) == 0 {
			carrier.PCI, carrier.HasPCI = uint16(r.IntN(3)), true
		}
		if r.IntN(4) == 0 {
			carrier.Uplink = 0
		}
		c = append(c, carrier)
	}
	return c
}

// Every kind of part adds up to the total, and the meanings keep their order.
func TestPartsAddUp(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	valid := 0
	for range pace.Times(5000, 10) {
		c := randomAllowed(r)
		a := ca.Assess(c)
		if a.Valid() {
			valid++
		}
		shares := make([]ca.Share, len(c))
		for i := range shares {
			shares[i] = ca.Share{Part: r.Int64N(15), Whole: 14}
			shares[i].Part = min(shares[i].Part, 14)
		}
		share := func(i int) ca.Share { return shares[i] }
		totals := a.Totals(share)
		if totals.Total != a.Sum(share) {
			t.Fatalf("%v: %+v with parts, %+v without", c, totals.Total, a.Sum(share))
		}
		for name, parts := range map[string][]ca.Part{"technology": totals.ByRAT, "band": totals.ByBand, "range": totals.ByRange, "duplex": totals.ByDuplex} {
			var sum ca.Total
			for i, p := range parts {
				sum.Downlink += p.Downlink
				sum.Uplink += p.Uplink
				sum.Occupied += p.Occupied
				sum.DownlinkEquivalent += p.DownlinkEquivalent
				if slices.ContainsFunc(parts[:i], func(q ca.Part) bool { return q.Key == p.Key }) || p.Key == "" {
					t.Fatalf("%v: by %s %q stands twice or is empty", c, name, p.Key)
				}
			}
			if sum != totals.Total {
				t.Fatalf("%v: by %s %s, in total %s", c, name, partsText(parts), totalText(totals.Total))
			}
		}
		var sites ca.Total
		for _, p := range totals.BySite {
			sites.Downlink += p.Downlink
		}
		var withPCI bands.Frequency
		for i := range a.Carriers {
			if a.Carriers[i].HasPCI {
				withPCI += a.Carriers[i].DownlinkWidth
			}
		}
		if sites.Downlink != withPCI {
			t.Fatalf("%v: by site %s, want %v in the downlink", c, partsText(totals.BySite), withPCI)
		}
		if totals.DownlinkEquivalent > totals.Downlink || totals.Downlink > totals.Occupied || totals.Uplink > totals.Occupied {
			t.Fatalf("%v: %s", c, totalText(totals.Total))
		}
	}
	if pace.Whole && valid < 500 {
		t.Errorf("only %d of the combinations are allowed", valid)
	}
}
