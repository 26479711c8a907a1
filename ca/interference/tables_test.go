package interference

import (
	"slices"
	"testing"

	"spectally/bands"
	"spectally/data/factfile"
)

func band(tb testing.TB, name string) *bands.Band {
	tb.Helper()
	id, err := bands.ParseID(name)
	if err != nil {
		tb.Fatal(err)
	}
	b, err := bands.Lookup(id)
	if err != nil {
		tb.Fatal(err)
	}
	return b
}

// point is a test point of the tables of intermodulation: two carriers that transmit and
// one that receives.
func point(tb testing.TB, f *factfile.Fact) []Carrier {
	tb.Helper()
	width := func(column string) bands.Frequency {
		if f.Text(column) == "" { // left out in four rows; the narrowest there is
			return 5 * bands.MHz
		}
		return hertz(f.Number(column))
	}
	send := func(n string) Carrier {
		return Of(band(tb, f.Text("ul"+n+"_band")), 0, width("ul"+n+"_bw_mhz")).Transmitting(hertz(f.Number("ul" + n + "_fc_mhz")))
	}
	return []Carrier{
		send("1"), send("2"),
		Of(band(tb, f.Text("victim_band")), width("dl_bw_mhz"), 0).Receiving(hertz(f.Number("dl_fc_mhz"))),
	}
}

// TS 38.101-1 V19.5.0 Tables 7.3A.5-1, -1a, -1b, -2, -2a, -2b and TS 38.101-3 V19.5.0 Tables
// 7.3B.2.3.5.1-1, -1a, 7.3B.2.3.5.2-1, -1a, 7.3B.2.3.5.4-1: in every row the product of the
// order printed falls where the arithmetic of the row says, and on the downlink of the row.
func TestIntermodulationPoints(t *testing.T) {
	beside := 0
	for _, f := range factfile.Read(t, "../../testdata/facts/msd_intermodulation.csv", 2335) {
		carriers := point(t, &f)
		want := []Source{{0, int8(f.Int("coef1"))}, {1, int8(f.Int("coef2"))}}
		found := Find(carriers, Options{Order: f.Int("order"), Misses: true})
		i := slices.IndexFunc(found, func(p Product) bool {
			return p.Kind == Intermodulation && int(p.Order) == f.Int("order") && slices.Equal(p.Sources(), opposed(want, p.Sources()))
		})
		if i < 0 {
			t.Errorf("%v: no product of order %d", &f, f.Int("order"))
			continue
		}
		p := found[i]
		if off := p.Offset - signed(f.Number("product_minus_dl_mhz")); off > 500 || off < -500 || p.Places != Known {
			t.Errorf("%v: the product is %v off the downlink", &f, p.Offset)
		}
		if p.Hit != Direct {
			beside++
		}
	}
	if beside != 1 { // DC_3A_n71A prints a downlink 55.2 MHz away
		t.Errorf("%d rows are no direct hits, want 1", beside)
	}
}

// opposed is want, or want with the opposite signs if that is what got has: the product is
// the same.
func opposed(want, got []Source) []Source {
	if len(got) == len(want) && got[0].Coefficient == -want[0].Coefficient {
		want = slices.Clone(want)
		for i := range want {
			want[i].Coefficient *= -1
		}
	}
	return want
}

func signed(mhz float64) bands.Frequency {
	if mhz < 0 {
		return -hertz(-mhz)
	}
	return hertz(mhz)
}

// TS 38.101-1 V19.5.0 Tables 7.3A.4-1, -2a, -4, -4a-1, -4b, -4d and TS 38.101-3 V19.5.0 Tables
// 7.3B.2.3.1-1, 7.3B.2.3.2-1, -1a, 7.3B.2.3a.2-1: for every row whose band ranges overlap
// there are places of carriers of the widths where the harmonics meet; where the row says
// near-miss they may only come beside each other. For the few rows whose ranges lie apart
// there are no such places.
func TestHarmonicRows(t *testing.T) {
	apart, beside := 0, 0
	for _, f := range factfile.Read(t, "../../testdata/facts/msd_harmonic.csv", 623) {
		ul, dl := band(t, f.Text("ul_band")), band(t, f.Text("dl_band"))
		carriers := []Carrier{Of(ul, 0, hertz(f.Number("ul_bw_mhz"))), Of(dl, hertz(f.Number("dl_bw_mhz")), 0)}
		if f.Text("ul_bw_mhz") == "" { // rows that print no widths
			carriers = []Carrier{OfBand(ul, true), OfBand(dl, false)}
			carriers[0].Downlink = Channel{}
		}
		hit := None
		for _, p := range Find(carriers, Options{}) {
			if p.Kind != Intermodulation && int(p.Order) == f.Int("ul_order") && int(p.ReceiverOrder) == f.Int("dl_order") {
				hit = p.Hit
			}
		}
		switch overlap := f.Text("ranges") == "overlap"; {
		case overlap && hit == Direct:
		case overlap && hit == Near && f.Text("hit") == "near-miss":
			beside++
		case !overlap && hit != Direct:
			apart++
		default:
			t.Errorf("%v: %v", &f, hit)
		}
	}
	if apart != 14 || beside != 8 {
		t.Errorf("%d rows lie apart, %d beside each other; want 14 and 8", apart, beside)
	}
}
