package samples

import (
	"math/big"
	"math/rand/v2"
	"strings"
	"testing"
	"time"
)

// slowFixed is parseFixed by the rules of fractions.
func slowFixed(text string, places int) (int64, bool) {
	plain := strings.TrimPrefix(strings.TrimPrefix(text, "-"), "+")
	if plain == "" || plain[0] < '0' || plain[0] > '9' || strings.HasSuffix(plain, ".") || strings.Trim(plain, "0123456789.") != "" {
		return 0, false
	}
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		return 0, false
	}
	scale := new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(max(places, -places))), nil))
	if places < 0 {
		scale.Inv(scale)
	}
	n, ok := new(big.Int).SetString(r.Mul(r, scale).FloatString(0), 10) // halves away from zero
	return n.Int64(), ok && n.IsInt64()
}

func TestFixed(t *testing.T) {
	random := rand.New(rand.NewPCG(16, 11))
	for range 50_000 {
		var b strings.Builder
		for range 1 + random.IntN(9) {
			b.WriteByte("0123456789.-"[random.IntN(12)])
		}
		text, places := b.String(), random.IntN(13)-3
		want, ok := slowFixed(text, places)
		if got, read := parseFixed([]byte(text), places); read != ok || ok && got != want {
			if places < 0 && strings.Contains(text, ".") {
				continue // rounded twice: far below what is measured
			}
			t.Fatalf("%q to %d places: %d, %v; want %d, %v", text, places, got, read, want, ok)
		}
	}
	for text, want := range map[string]int64{"1.5e2": 150_000, "-2E-3": -2, "1e-9": 0} {
		if got, ok := parseFixed([]byte(text), 3); !ok || got != want {
			t.Errorf("%s: %d, %v", text, got, ok)
		}
	}
	for _, text := range []string{"", "-", ".5", "5.", "1,5", "0x1", "NaN", "1e", "1e400", "9999999999999999999", "12345678901234567.5", "1.2.3", "1.5e", "1 5"} {
		if got, ok := parseFixed([]byte(text), 3); ok {
			t.Errorf("%q is read as %d", text, got)
		}
	}
}

// TestTime holds times against those of the standard library.
func TestTime(t *testing.T) {
	random := rand.New(rand.NewPCG(16, 12))
	for range 20_000 {
		at := time.Unix(random.Int64N(7_000_000_000), random.Int64N(1e9)).UTC()
		if random.IntN(2) == 0 {
			at = at.In(time.FixedZone("", (random.IntN(57)-28)*1800))
		}
		text := at.Format(time.RFC3339Nano)
		if got, zoned, ok := parseTime([]byte(text)); !ok || !zoned || got != at.UnixNano() {
			t.Fatalf("%s: %d, %v, %v; want %d", text, got, zoned, ok, at.UnixNano())
		}
		bare := strings.Replace(at.Format("2006-01-02T15:04:05"), "T", " ", 1)
		if got, zoned, ok := parseTime([]byte(bare)); !ok || zoned || got/1e9 != at.Unix()+int64(zone(at)) {
			t.Fatalf("%s: %d, %v, %v", bare, got, zoned, ok)
		}
	}
	for _, text := range []string{"2031-02-29T00:00:00Z", "2031-13-01T00:00:00Z", "2031-05-14T24:00:00Z", "2031-05-14", "2031-05-14T10:00", "2031-05-14T10:00:00.Z", "2031-05-14T10:00:00+25", "31-05-14T10:00:00Z", "2031/05/14 10:00:00", "x031-05-14T10:00:00Z"} {
		if got, _, ok := parseTime([]byte(text)); ok {
			t.Errorf("%s is read as %d", text, got)
		}
	}
	if got, _, ok := parseTime([]byte("2032-02-29T10:00:00.250+0200")); !ok || got != time.Date(2032, 2, 29, 8, 0, 0, 250e6, time.UTC).UnixNano() {
		t.Errorf("%d, %v", got, ok)
	}
}

func zone(at time.Time) int {
	_, seconds := at.Zone()
	return seconds
}

func FuzzTime(f *testing.F) {
	f.Add("2031-05-14T18:05:03.25+02:00")
	f.Fuzz(func(t *testing.T, text string) {
		got, zoned, ok := parseTime([]byte(text))
		if want, err := time.Parse(time.RFC3339Nano, text); err == nil && want.Year() >= 1971 && want.Year() < 2200 && want.Nanosecond() == 0 {
			if !ok || !zoned || got != want.UnixNano() {
				t.Fatalf("%q: %d, %v, %v; want %d", text, got, zoned, ok, want.UnixNano())
			}
		}
	})
}

func BenchmarkFixed(b *testing.B) {
	for b.Loop() {
		parseFixed([]byte("-95.25"), 2)
	}
}
