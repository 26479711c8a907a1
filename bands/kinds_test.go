package bands_test

import (
	"testing"

	"spectally/bands"
)

func TestDuplex(t *testing.T) {
	for text, want := range map[string]bands.Duplex{
		"FDD": bands.FDD, "tdd": bands.TDD, "Sdl": bands.SDL, "SUL": bands.SUL, "SDO": bands.SDO,
	} {
		d, err := bands.ParseDuplex(text)
		if err != nil || d != want {
			t.Errorf("ParseDuplex(%q) = %s, %v; want %s", text, d, err, want)
		}
		if back, err := bands.ParseDuplex(d.String()); back != d || err != nil {
			t.Errorf("%s reads back as %s, %v", d, back, err)
		}
	}
	for _, text := range []string{"", "none", "FD", "FDD ", "half"} {
		if d, err := bands.ParseDuplex(text); err == nil {
			t.Errorf("ParseDuplex(%q) = %s", text, d)
		}
	}
	_, err := bands.ParseDuplex("half")
	wantError(t, err, `duplex mode "half": must be FDD, TDD, SDL, SUL or SDO`)
	for _, d := range []bands.Duplex{0, 6, 255} {
		if d.String() != "none" {
			t.Errorf("duplex %d is %q", uint8(d), d)
		}
	}
}

func TestRange(t *testing.T) {
	for _, c := range []struct {
		text     string
		want     bands.Range
		fr2, ntn bool
	}{
		{"FR1", bands.FR1, false, false},
		{"fr2-1", bands.FR21, true, false},
		{"FR2-2", bands.FR22, true, false},
		{"fr1-NTN", bands.FR1NTN, false, true},
		{"FR2-NTN", bands.FR2NTN, true, true},
	} {
		r, err := bands.ParseRange(c.text)
		if err != nil || r != c.want || r.IsFR2() != c.fr2 || r.IsNTN() != c.ntn {
			t.Errorf("ParseRange(%q) = %s, FR2 %v, NTN %v, %v; want %s, %v, %v", c.text, r, r.IsFR2(), r.IsNTN(), err, c.want, c.fr2, c.ntn)
		}
		if back, err := bands.ParseRange(r.String()); back != r || err != nil {
			t.Errorf("%s reads back as %s, %v", r, back, err)
		}
	}
	for _, text := range []string{"", "FR2", "FR3", "NTN", "FR1 "} {
		if r, err := bands.ParseRange(text); err == nil {
			t.Errorf("ParseRange(%q) = %s", text, r)
		}
	}
	_, err := bands.ParseRange("FR3")
	wantError(t, err, `frequency range "FR3": must be FR1, FR2-1, FR2-2, FR1-NTN or FR2-NTN`)
	for _, r := range []bands.Range{0, 6, 255} {
		if r.String() != "" || r.IsFR2() || r.IsNTN() {
			t.Errorf("range %d is %q", uint8(r), r)
		}
	}
}

func TestDirection(t *testing.T) {
	for _, c := range []struct {
		d           bands.Direction
		long, short string
	}{{bands.Downlink, "downlink", "dl"}, {bands.Uplink, "uplink", "ul"}, {0, "none", ""}, {3, "none", ""}} {
		if c.d.String() != c.long || c.d.Short() != c.short {
			t.Errorf("direction %d is %q and %q, want %q and %q", c.d, c.d.String(), c.d.Short(), c.long, c.short)
		}
	}
	b := mustLookup(t, "n1")
	if !b.Span(0).IsZero() || b.Has(0) {
		t.Errorf("n1 has a span in no direction: %s", b.Span(0))
	}
}

func TestSpan(t *testing.T) {
	none := bands.Span{}
	a := bands.Span{Low: 100 * mhz1, High: 120 * mhz1}
	for _, c := range []struct {
		what      string
		got, want bool
	}{
		{"lower edge", a.Contains(100 * mhz1), true},
		{"upper edge", a.Contains(120 * mhz1), true},
		{"below", a.Contains(100*mhz1 - 1), false},
		{"above", a.Contains(120*mhz1 + 1), false},
		{"none contains 0", none.Contains(0), false},
		{"covers itself", a.Covers(a), true},
		{"covers a part", a.Covers(bands.Span{Low: 101 * mhz1, High: 119 * mhz1}), true},
		{"covers more", a.Covers(bands.Span{Low: 99 * mhz1, High: 119 * mhz1}), false},
		{"none covers", none.Covers(none), false},
		{"touching overlaps", a.Overlaps(bands.Span{Low: 120 * mhz1, High: 130 * mhz1}), false},
		{"overlaps", a.Overlaps(bands.Span{Low: 120*mhz1 - 1, High: 130 * mhz1}), true},
		{"overlaps below", a.Overlaps(bands.Span{Low: 90 * mhz1, High: 100*mhz1 + 1}), true},
		{"overlaps none", a.Overlaps(none), false},
		{"none overlaps", none.Overlaps(a), false},
	} {
		if c.got != c.want {
			t.Errorf("%s: %v, want %v", c.what, c.got, c.want)
		}
	}
	if a.Width() != 20*mhz1 || a.String() != "100-120 MHz" || none.String() != "none" {
		t.Errorf("%s is %s wide; none is %s", a, a.Width(), none)
	}
	if got := bands.Around(110*mhz1, 20*mhz1); got != a {
		t.Errorf("20 MHz around 110 MHz is %s", got)
	}
	if odd := bands.Around(10, 3); odd.Width() != 3 || !odd.Contains(10) {
		t.Errorf("3 Hz around 10 Hz is %v", odd)
	}
}
