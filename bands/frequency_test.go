package bands_test

import (
	"math"
	"math/big"
	"math/rand/v2"
	"strings"
	"testing"

	"spectally/bands"
)

const frequencyError = `: must be a number and a unit, exact to 1 Hz, such as 3540.96 MHz, 3.5 GHz or 15 kHz`

func TestParseFrequency(t *testing.T) {
	for _, c := range []struct {
		text string
		hz   int64
	}{
		{"3540.96 MHz", 3540_960_000},
		{"3.5GHz", 3500_000_000},
		{"3.5 ghz", 3500_000_000},
		{" 15 KHZ ", 15_000},
		{"692.5kHz", 692_500},
		{"0 Hz", 0},
		{"0.000001 MHz", 1},
		{"1.000000000 GHz", 1_000_000_000},
		{"1.0 Hz", 1},
		{"007 Hz", 7},
		{"1000 GHz", 1_000_000_000_000},
		{"1000000000000 Hz", 1_000_000_000_000},
		{"15\tkHz", 15_000},
	} {
		if f, err := bands.ParseFrequency(c.text); err != nil || int64(f) != c.hz {
			t.Errorf("ParseFrequency(%q) = %d Hz, %v; want %d", c.text, f, err, c.hz)
		}
	}
}

func TestParseFrequencyRefuses(t *testing.T) {
	for _, s := range []string{
		"", " ", "MHz", "80", "3.5", "GHz 3", "3,5 GHz", "3..5 GHz", "3.5.1 GHz", ".5 GHz", "3. GHz", "-1 Hz", "+1 Hz",
		"1e3 MHz", "0x10 MHz", "1_000 Hz", "1.5 Hz", "0.0001 kHz", "0.0000001 MHz", "0.0000000001 GHz", "1001 GHz",
		"1000.000000001 GHz", "1000000000001 Hz", "99999999999999999999 Hz", "5 THz", "5 m", "5 MHzz", "inf MHz", "NaN Hz",
		"5 M Hz", "٣ GHz", "5 \u212aHz", "3.a GHz", "3.5 GHz 1", "3 5 GHz",
	} {
		f, err := bands.ParseFrequency(s)
		if err == nil {
			t.Errorf("ParseFrequency(%q) = %s", s, f)
			continue
		}
		if !strings.HasPrefix(err.Error(), "frequency ") || !strings.HasSuffix(err.Error(), frequencyError) {
			t.Errorf("ParseFrequency(%q): %v", s, err)
		}
	}
	_, err := bands.ParseFrequency("3.5 THz")
	wantError(t, err, `frequency "3.5 THz"`+frequencyError)
}

func TestParseMHz(t *testing.T) {
	for text, want := range map[string]bands.Frequency{
		"80": 80 * mhz1, "1.4": 1400 * khz1, "3540.96": 3540_960 * khz1, "0": 0, "0.000001": bands.Hz, "20.0": 20 * mhz1, "1000000": 1000 * bands.GHz,
	} {
		if f, err := bands.ParseMHz(text); err != nil || f != want {
			t.Errorf("ParseMHz(%q) = %s, %v; want %s", text, f, err, want)
		}
	}
	for _, text := range []string{"", "-5", "80 MHz", " 80", "1.0000001", "8o", "1000001", "."} {
		f, err := bands.ParseMHz(text)
		if err == nil {
			t.Errorf("ParseMHz(%q) = %s", text, f)
		}
	}
	_, err := bands.ParseMHz("wide")
	wantError(t, err, `megahertz "wide": must be a number such as 80 or 1.4, exact to 1 Hz`)
}

func TestFrequencyString(t *testing.T) {
	for _, c := range []struct {
		f                bands.Frequency
		text, mhz, inKHz string
	}{
		{0, "0 Hz", "0", "0"},
		{1, "1 Hz", "0.000001", "0.001"},
		{999, "999 Hz", "0.000999", "0.999"},
		{692_500, "692.5 kHz", "0.6925", "692.5"},
		{1_400_000, "1.4 MHz", "1.4", "1400"},
		{3500 * mhz1, "3.5 GHz", "3500", "3500000"},
		{3540_960_000, "3.54096 GHz", "3540.96", "3540960"},
		{-41 * mhz1, "-41 MHz", "-41", "-41000"},
		{-101_500 * khz1, "-101.5 MHz", "-101.5", "-101500"},
		{-1, "-1 Hz", "-0.000001", "-0.001"},
		{math.MaxInt64, "9223372036.854775807 GHz", "9223372036854.775807", "9223372036854775.807"},
		{math.MinInt64, "-9223372036.854775808 GHz", "-9223372036854.775808", "-9223372036854775.808"},
	} {
		if got := c.f.String(); got != c.text {
			t.Errorf("%d Hz is %q, want %q", int64(c.f), got, c.text)
		}
		if got := c.f.MHz(); got != c.mhz {
			t.Errorf("%d Hz is %s MHz, want %s", int64(c.f), got, c.mhz)
		}
		if got := c.f.KHz(); got != c.inKHz {
			t.Errorf("%d Hz is %s kHz, want %s", int64(c.f), got, c.inKHz)
		}
	}
	if f := 3540_960 * khz1; f.InMHz() != 3540.96 || f.InKHz() != 3540960 {
		t.Errorf("3540.96 MHz is %v MHz and %v kHz", f.InMHz(), f.InKHz())
	}
}

// What String writes is the frequency itself, neither rounded nor cut, and reads back
// as the same one.
func TestFrequencyRoundTrip(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	units := map[string]int64{"Hz": 1, "kHz": 1e3, "MHz": 1e6, "GHz": 1e9}
	for range 50000 {
		f := bands.Frequency(random.Int64N(1 << random.IntN(40)))
		if random.IntN(2) == 0 {
			f = f / khz1 * khz1
		}
		f = min(f, 1000*bands.GHz)
		number, unit, ok := strings.Cut(f.String(), " ")
		value, isNumber := new(big.Rat).SetString(number)
		if !ok || !isNumber || units[unit] == 0 {
			t.Fatalf("%d Hz is %q", int64(f), f)
		}
		if value.Mul(value, big.NewRat(units[unit], 1)).Cmp(big.NewRat(int64(f), 1)) != 0 {
			t.Fatalf("%d Hz is written %q", int64(f), f)
		}
		if strings.Contains(number, ".") && strings.HasSuffix(number, "0") {
			t.Fatalf("%q ends in a zero", f)
		}
		if back, err := bands.ParseFrequency(f.String()); err != nil || back != f {
			t.Fatalf("%q reads back as %s, %v", f, back, err)
		}
		if back, err := bands.ParseMHz(f.MHz()); err != nil || back != f {
			t.Fatalf("%s MHz reads back as %s, %v", f.MHz(), back, err)
		}
		if minus := (-f).String(); f != 0 && minus != "-"+f.String() {
			t.Fatalf("minus %s is %s", f, minus)
		}
	}
}

func FuzzParseFrequency(f *testing.F) {
	for _, s := range []string{"3540.96 MHz", "15kHz", "0 Hz", "1.5 Hz", "1e9 Hz", "MHz", "-1 Hz", "1000 GHz", "3.5ghz", "0.0000000001 GHz", "5 \u212aHz", ".5 MHz"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		v, err := bands.ParseFrequency(s)
		if err != nil {
			if v != 0 {
				t.Fatalf("%q: %v, and %s", s, err, v)
			}
			return
		}
		if v < 0 || v > 1000*bands.GHz {
			t.Fatalf("%q is %s", s, v)
		}
		if back, err := bands.ParseFrequency(v.String()); err != nil || back != v {
			t.Fatalf("%q is %d Hz, written %q, read back as %d Hz, %v", s, v, v, back, err)
		}
		if back, err := bands.ParseMHz(v.MHz()); err != nil || back != v {
			t.Fatalf("%q is %d Hz, written %q, read back as %d Hz, %v", s, v, v.MHz(), back, err)
		}
	})
}
