package bands_test

import (
	"slices"
	"strings"
	"testing"

	"spectally/bands"
)

// written writes matches as "n1 dl+ul B65 ul".
func written(list []bands.Match) string {
	var words []string
	for _, m := range list {
		words = append(words, m.Band.ID.String(), oneWay(m.Downlink, m.Uplink))
	}
	return strings.Join(words, " ")
}

func TestLookup(t *testing.T) {
	for _, rat := range []bands.RAT{bands.LTE, bands.NR} {
		found := 0
		for n := range uint16(1100) {
			b, err := bands.Lookup(bands.ID{RAT: rat, Number: n})
			if (b == nil) == (err == nil) {
				t.Fatalf("%s band %d: %v, %v", rat, n, b, err)
			}
			if err == nil {
				found++
				if b.ID != (bands.ID{RAT: rat, Number: n}) {
					t.Errorf("%s band %d is found as %s", rat, n, b.ID)
				}
			}
		}
		if found != len(bands.All(rat)) {
			t.Errorf("%d bands of %s are found, want %d", found, rat, len(bands.All(rat)))
		}
	}
}

func TestLookupErrors(t *testing.T) {
	for _, c := range []struct {
		id   bands.ID
		want string
	}{
		{bands.ID{RAT: bands.NR, Number: 9}, `NR band "n9": must be a band of the operating-band tables; closest is n8, or LTE band 9 written B9 (TS 38.101-1 Table 5.2-1)`},
		{bands.ID{RAT: bands.NR, Number: 4}, `NR band "n4": must be a band of the operating-band tables; closest is n3, or LTE band 4 written B4 (TS 38.101-1 Table 5.2-1)`},
		{bands.ID{RAT: bands.LTE, Number: 78}, `LTE band "B78": must be a band of the operating-band tables; closest is B76, or NR band 78 written n78 (TS 36.101 Table 5.5-1)`},
		{bands.ID{RAT: bands.NR, Number: 500}, `NR band "n500": must be a band of the operating-band tables; closest is n50 (TS 38.101-1 Table 5.2-1)`},
		{bands.ID{RAT: bands.LTE, Number: 15}, `LTE band "B15": must be a band of the operating-band tables; closest is B1 (TS 36.101 Table 5.5-1)`},
		{bands.ID{RAT: bands.LTE, Number: 65535}, `LTE band "B65535": must be a band of the operating-band tables; closest is B113 (TS 36.101 Table 5.5H-1)`},
		{bands.ID{}, `band "no band": must be a band of the operating-band tables`},
		{bands.ID{RAT: 7, Number: 3}, `band "no band": must be a band of the operating-band tables`},
	} {
		_, err := bands.Lookup(c.id)
		wantError(t, err, c.want)
	}
}

func TestAll(t *testing.T) {
	lte, nr, both := bands.All(bands.LTE), bands.All(bands.NR), bands.All(0)
	if len(lte) != 74 || len(nr) != 92 || !slices.Equal(both, slices.Concat(lte, nr)) {
		t.Errorf("%d LTE and %d NR bands, %d of both", len(lte), len(nr), len(both))
	}
	if !slices.IsSortedFunc(both, func(a, b *bands.Band) int { return a.ID.Compare(b.ID) }) {
		t.Error("the bands are not in order")
	}
	if none := bands.All(7); len(none) != 0 {
		t.Errorf("%d bands of no technology", len(none))
	}
	nr[0] = nil
	if bands.All(bands.NR)[0] == nil {
		t.Error("All hands out its own list")
	}
}

// Bands around a frequency, from the operating-band tables of TS 36.101 V19.6.0 (5.5-1)
// and TS 38.101-1 V19.5.0, -2 V19.4.0 and -5 V19.4.0.
func TestAt(t *testing.T) {
	for _, c := range []struct{ frequency, want string }{
		{"2110 MHz", "B1 dl B4 dl B10 dl B65 dl B66 dl n1 dl n65 dl n66 dl"}, // an edge belongs to the band
		{"2109.999999 MHz", ""},
		{"3600 MHz", "B42 both B43 both B48 both B49 both n48 both n77 both n78 both"},
		{"26.5 GHz", "n257 both n258 both"},
		{"14 GHz", "n247 ul n248 ul n508 ul n509 ul"},
		{"1747 MHz", "B3 ul B4 ul B10 ul B66 ul n3 ul n66 ul n80 ul n86 ul"},
		{"650 MHz", "B71 dl B107 dl B108 dl B113 dl n71 dl n105 dl"},
		{"0 Hz", ""},
		{"71.1 GHz", ""},
	} {
		f, err := bands.ParseFrequency(c.frequency)
		if err != nil {
			t.Fatal(err)
		}
		if got := written(bands.At(f)); got != c.want {
			t.Errorf("at %s: %s\nwant %s", f, got, c.want)
		}
	}
}

// At agrees with asking every band, on every edge and around it.
func TestAtEveryEdge(t *testing.T) {
	all := bands.All(0)
	for _, b := range all {
		for _, edge := range []bands.Frequency{b.Downlink.Low, b.Downlink.High, b.Uplink.Low, b.Uplink.High} {
			for _, f := range []bands.Frequency{edge - 1, edge, edge + 1} {
				var want []bands.Match
				for _, o := range all {
					m := bands.Match{Band: o, Downlink: o.Has(bands.Downlink) && o.Downlink.Low <= f && f <= o.Downlink.High, Uplink: o.Has(bands.Uplink) && o.Uplink.Low <= f && f <= o.Uplink.High}
					if m.Downlink || m.Uplink {
						want = append(want, m)
					}
				}
				if got := bands.At(f); !slices.Equal(got, want) {
					t.Errorf("at %s: %s\nwant %s", f, written(got), written(want))
				}
			}
		}
	}
}

// EARFCN ranges of TS 36.101 V19.6.0 Table 5.7.3-1; NR-ARFCN by the band tables and
// TS 38.104 V19.4.0 Table 5.4.2.1-1.
func TestByChannel(t *testing.T) {
	for _, c := range []struct {
		rat  bands.RAT
		n    int32
		want string
	}{
		{bands.LTE, 1300, "B3 dl"},
		{bands.LTE, 19300, "B3 ul"},
		{bands.LTE, 38000, "B38 both"},
		{bands.LTE, 134441, "B111 ul"},
		{bands.LTE, 134442, ""},
		{bands.LTE, -1, ""},
		{bands.NR, 640000, "n48 both n77 both n78 both"}, // 3600 MHz
		{bands.NR, 422000, "n1 dl n65 dl n66 dl"},
		{bands.NR, 2054166, "n257 both n258 both"}, // 26500.02 MHz
		{bands.NR, 0, ""},
		{bands.NR, 3279166, ""},
		{0, 640000, ""},
	} {
		if got := written(bands.ByChannel(c.rat, c.n)); got != c.want {
			t.Errorf("%s channel %d: %s\nwant %s", c.rat, c.n, got, c.want)
		}
	}
}

func TestEARFCNFindErrors(t *testing.T) {
	for _, n := range []bands.EARFCN{-1, 134442, 71000000} {
		m, f, err := n.Find()
		wantError(t, err, `EARFCN "`+itoa(int(n))+`": must be a number in the range of a band, 0 to 134441 (TS 36.101 Table 5.7.3-1)`)
		if m.Band != nil || f != 0 {
			t.Errorf("EARFCN %d: %v, %s besides the error", n, m, f)
		}
	}
}

// Bands for shared-spectrum channel access (notes of TS 38.101-1 V19.5.0 Table 5.2-1
// and TS 36.101 V19.6.0 Table 5.5-1).
func TestIsShared(t *testing.T) {
	var got []string
	for _, b := range bands.All(0) {
		if b.IsShared() {
			got = append(got, b.ID.String())
		}
	}
	if want := []string{"B46", "n46", "n96", "n102"}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}
