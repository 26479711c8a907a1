package cells

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"spectally/bands"
	"spectally/ca"
)

func check(tb testing.TB, s string) *ca.Assessment {
	tb.Helper()
	c, err := ca.Parse(s)
	if err != nil {
		tb.Fatal(err)
	}
	return ca.Assess(c)
}

func ExampleGroups() {
	c, err := ca.Parse("n28:10,pci=77 + n78:100,pci=77 + n1:20,pci=12")
	if err != nil {
		fmt.Println(err)
		return
	}
	a := ca.Assess(c)
	groups, without := Groups(a)
	for i := range groups {
		fmt.Println(groups[i].Statement(a))
	}
	for _, r := range Remarks(groups, without) {
		fmt.Println(r)
	}
	// Output:
	// NR PCI 12: one carrier (n1), so the identity says nothing about where the others come from.
	// NR PCI 77 on n28, n78: consistent with one site, where the carriers of a sector often share an identity; no proof, since identities are used again elsewhere.
	// Different PCI among the NR carriers: different cells. They may still stand on one site, as other sectors or with an identity for each carrier.
}

func TestGroups(t *testing.T) {
	a := check(t, "B3:20,pci=77 + n78:100,pci=77 + B7:20 + n1:20,pci=0 + B1:20,pci=77 + B20:10")
	groups, without := Groups(a)
	want := []Group{{bands.LTE, 77, []int{0, 4}}, {bands.NR, 0, []int{3}}, {bands.NR, 77, []int{1}}}
	if diff := cmp.Diff(want, groups); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if diff := cmp.Diff([]int{2, 5}, without); diff != "" {
		t.Errorf("without a PCI (-want +got)\n%s", diff)
	}
	if Distinct(groups, bands.LTE) != 1 || Distinct(groups, bands.NR) != 2 {
		t.Error("wrong number of different PCI")
	}
	remarks := strings.Join(Remarks(groups, without), "\n")
	for _, part := range []string{"Different PCI among the NR carriers", "LTE and NR number their cells apart", "2 carriers have no PCI and stand in no group."} {
		if !strings.Contains(remarks, part) {
			t.Errorf("remarks %q don't say %q", remarks, part)
		}
	}
	if strings.Contains(remarks, "among the LTE") {
		t.Errorf("remarks %q", remarks)
	}
	if r := Remarks(groups[:1], []int{5}); len(r) != 1 || r[0] != "1 carrier has no PCI and stands in no group." {
		t.Errorf("remarks %q", r)
	}
	if r := Remarks(nil, []int{0}); r != nil {
		t.Errorf("remarks %q on carriers without any PCI", r)
	}
}

// TestClashes holds every identity of a technology against the 90 below it and itself,
// by the definition: equal, equal modulo 30, equal modulo 3. N_ID^(2) = PCI mod 3
// picks the primary synchronisation signal (TS 36.211 clause 6.11, TS 38.211 clause
// 7.4.2.1), PCI mod 30 the group of reference sequences in the uplink (TS 36.211
// clause 5.5.1.3, TS 38.211 clause 6.4.1.1.1.2); all from memory.
func TestClashes(t *testing.T) {
	for _, test := range []struct {
		band  bands.ID
		count int
	}{{bands.ID{RAT: bands.LTE, Number: 3}, 504}, {bands.ID{RAT: bands.NR, Number: 78}, 1008}} {
		for x := range test.count {
			for y := max(0, x-90); y <= x; y++ {
				want := Relation(0)
				switch {
				case x == y:
					want = SameIdentity
				case (x-y)%30 == 0:
					want = Modulo30
				case (x-y)%3 == 0:
					want = Modulo3
				}
				got := Relation(0)
				for _, c := range Clashes([]Heard{{"a", test.band, uint16(x), 2 * bands.GHz}, {"b", test.band, uint16(y), 2 * bands.GHz}}) {
					got = c.Relation
					if c.Statement == "" || c.Source.Spec == "" || c.A != 0 || c.B != 1 {
						t.Fatalf("clash %+v", c)
					}
				}
				if got != want {
					t.Fatalf("%v: PCI %d and %d: %v, want %v", test.band, x, y, got, want)
				}
			}
		}
	}
}

func TestNoClash(t *testing.T) {
	n78, n77 := bands.ID{RAT: bands.NR, Number: 78}, bands.ID{RAT: bands.NR, Number: 77}
	list := []Heard{
		{"a", n78, 5, 3500 * bands.MHz}, {"b", n78, 5, 3600 * bands.MHz}, {"c", n77, 5, 3500 * bands.MHz},
		{"d", n78, 5, 0}, {"e", n78, 5, 0}, {"f", n78, 6, 3500 * bands.MHz},
	}
	if c := Clashes(list); len(c) != 0 {
		t.Errorf("clashes %+v", c)
	}
	if Relation(9).String() != "" {
		t.Error("a relation that does not exist has a name")
	}
	if text, err := Modulo30.MarshalText(); string(text) != "modulo-30" || err != nil {
		t.Errorf("as text %q, %v", text, err)
	}
}

func TestClashWords(t *testing.T) {
	b3 := bands.ID{RAT: bands.LTE, Number: 3}
	c := Clashes([]Heard{{"carrier 1", b3, 33, 1840 * bands.MHz}, {"neighbour 1", b3, 36, 1840 * bands.MHz}})
	want := "carrier 1 (PCI 33) and neighbour 1 (PCI 36) on B3 at 1840 MHz: both 0 modulo 3, so they transmit the same primary synchronisation signal; where both are strong, finding and measuring the weaker one gets harder, and with two or more antenna ports their cell-specific reference signals fall on each other."
	if len(c) != 1 || c[0].Statement != want {
		t.Errorf("got %+v\nwant %s", c, want)
	}
}

// TestOffsets: 20 log10 of the ratio of frequencies is 6.02 dB for twice and 20 dB
// for ten times the frequency: common practice, no source.
func TestOffsets(t *testing.T) {
	a := check(t, "n78:20@3600MHz,rsrp=-92 + n3:20@1800MHz,rsrp=-85.5 + n1:20 + n28:10,rsrp=-70 + n80:20,rsrp=-60")
	got := Offsets(a)
	if len(got) != 3 || got[0].Carrier != 0 || got[0].Reference != 1 || math.Abs(got[0].Expected-6.0206) > 0.0001 {
		t.Fatalf("offsets %+v", got)
	}
	got = got[1:]
	// n28 lies at 758 to 803 MHz (TS 38.101-1 Table 5.2-1): 780.5 MHz in the middle.
	for i, want := range []Offset{
		{Carrier: 0, Reference: 3, Measured: 22, Expected: 20 * math.Log10(3600/780.5), Approximate: true},
		{Carrier: 1, Reference: 3, Measured: 15.5, Expected: 20 * math.Log10(1800/780.5), Approximate: true},
	} {
		g := got[i]
		if math.Abs(g.Expected-want.Expected) > 1e-9 || g.Measured != want.Measured || g.Carrier != want.Carrier || g.Reference != want.Reference || g.Approximate != want.Approximate {
			t.Errorf("offset %+v, want %+v", g, want)
		}
	}
	if diff := got[0].Expected - got[1].Expected; math.Abs(diff-6.0206) > 0.0001 {
		t.Errorf("twice the frequency makes %v dB", diff)
	}
	if !got[1].Within() || math.Abs(got[1].Difference()-(15.5-7.2574)) > 0.001 {
		t.Errorf("difference %v dB", got[1].Difference())
	}
	for _, test := range []struct{ carriers, want string }{
		{"n3:20@1800MHz,rsrp=-85 + n78:20@3600MHz,rsrp=-92", "n78 is 7.0 dB below n3, 6.0 dB of it from frequency alone: consistent with one site."},
		{"n3:20@1800MHz,rsrp=-85 + n78:20@3600MHz,rsrp=-80", "n78 is 5.0 dB above n3, though frequency alone puts it 6.0 dB below: 11.0 dB off, which other antennas, other power or another site can cause."},
		{"n3:20@1800MHz,rsrp=-85 + n78:20@3600MHz,rsrp=-110", "n78 is 25.0 dB below n3, 6.0 dB of it from frequency alone: 19.0 dB off, which other antennas, other power or another site can cause."},
	} {
		a := check(t, test.carriers)
		o := Offsets(a)
		if len(o) != 1 || o[0].Approximate || o[0].Statement(a) != test.want {
			t.Errorf("%s: %+v, %q", test.carriers, o, o[0].Statement(a))
		}
	}
	for _, none := range []string{"n78:100", "n78:100,rsrp=-90", "n78:100,rsrp=-90 + n1:20"} {
		if o := Offsets(check(t, none)); len(o) != 0 {
			t.Errorf("%s: offsets %+v", none, o)
		}
	}
}

// TestHints: 20 log10(3600/1800) is 6.0 dB; levels within 10 dB of that count as fitting
// (the program's own rule).
func TestHints(t *testing.T) {
	for _, test := range []struct {
		carriers string
		strength Strength
		reason   string
	}{
		{"n3:20@1800MHz,pci=7,rsrp=-85 + n78:20@3600MHz,pci=7,rsrp=-92", Strong, "same PCI 7; n78 is 7.0 dB below n3, 6.0 dB of it from frequency alone"},
		{"n3:20@1800MHz,pci=7 + n78:20@3600MHz,pci=7,rsrp=-92", Fair, "same PCI 7; no levels of both"},
		{"n3:20@1800MHz,pci=7,rsrp=-85 + n78:20@3600MHz,pci=7,rsrp=-110", Weak, "same PCI 7; n78 is 25.0 dB below n3, 6.0 dB of it from frequency alone, 19.0 dB off"},
		{"n3:20@1800MHz,pci=7,rsrp=-85 + n78:20@3600MHz,pci=8,rsrp=-88", Weak, "different cells, PCI 7 and 8; n78 is 3.0 dB below n3, and frequency alone explains 6.0 dB"},
		{"B3:20@1815MHz,pci=7,rsrp=-85 + n78:20@3630MHz,pci=7,rsrp=-92", Weak, "LTE and NR number their cells apart; n78 is 7.0 dB below B3, 6.0 dB of it from frequency alone"},
		{"n3:20,pci=7 + n78:20", NoHint, "no PCI of both; no levels of both"},
		{"n3:20,pci=7 + n78:20,pci=8", NoHint, "different cells, PCI 7 and 8; no levels of both"},
		{"n3:20@1800MHz,pci=7,rsrp=-85 + n78:20@3600MHz,pci=8,rsrp=-110", Against, "different cells, PCI 7 and 8; n78 is 25.0 dB below n3, 6.0 dB of it from frequency alone, 19.0 dB off"},
	} {
		h := Hints(check(t, test.carriers))
		if len(h) != 1 || h[0].Strength != test.strength || h[0].Reason != test.reason {
			t.Errorf("%s: %+v\nwant %s, %s", test.carriers, h, test.strength, test.reason)
		}
	}
	if h := Hints(check(t, "n3:20 + n78:20 + n1:20 + n28:10")); len(h) != 6 || h[5].A != 2 || h[5].B != 3 {
		t.Errorf("pairs of four carriers: %+v", h)
	}
}
