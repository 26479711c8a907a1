package batch

import (
	"math"
	"math/big"
	"math/rand/v2"
	"strings"
	"testing"

	"spectally/cmd/internal/quantity"
	"spectally/throughput/exact"
)

// A measured value is what package quantity reads, as long as it is not negative.
func FuzzFigure(f *testing.F) {
	for _, s := range []string{"0", "412.5", "1.", ".5", "-3", "1e3", "1,5", "000.000000001", "123456789012345", "1234567890123456", "1.0000000001", "+1", "٣"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, ok := parseFigure([]byte(s))
		want, err := quantity.ParseDecimal(s)
		if ok != (err == nil && !strings.HasPrefix(s, "-")) {
			t.Fatalf("%q: %v, but quantity says %v", s, ok, err)
		}
		if ok && big.NewRat(int64(got.coefficient), int64(powersOfTen[got.places])).Cmp(want.Rat()) != 0 {
			t.Fatalf("%q is %d with %d places", s, got.coefficient, got.places)
		}
	})
}

// sixDecimals writes a quotient the plain way: exact, rounded once, halves up.
func sixDecimals(q quotient) string {
	n := new(big.Rat).SetInt(product(q.a, q.b))
	n.Quo(n, new(big.Rat).SetInt(product(q.c, q.d)))
	n.Quo(n, big.NewRat(scale, 1))
	s := n.FloatString(6) // which rounds halves away from zero: up, since it is not negative
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}

func product(a, b uint64) *big.Int {
	return new(big.Int).Mul(new(big.Int).SetUint64(a), new(big.Int).SetUint64(b))
}

func TestQuotients(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	number := func() uint64 { return 1 + r.Uint64()>>r.IntN(64) }
	list := []quotient{{1, 1, 2_000_000, 1}, {1, 1, 2, 1}, {3, scale, 3, 1}, {0, 1, 1, 1}, {math.MaxUint64, math.MaxUint64, 1, 1}, {math.MaxUint64, math.MaxUint64, math.MaxUint64, math.MaxUint64},
		{1, 1, math.MaxUint64, math.MaxUint64}, {math.MaxUint64, 1, 1, 1}, {math.MaxUint64, 2, 2, 1}, {math.MaxUint64, math.MaxUint64 - 1, math.MaxUint64, 1}, {10, 100_000, 1, 1}}
	for range 40_000 {
		list = append(list, quotient{number(), number(), number(), number()})
	}
	for _, q := range list {
		if got, want := string(q.append(nil)), sixDecimals(q); got != want {
			t.Fatalf("%+v is written %s, want %s", q, got, want)
		}
	}
}

// The columns of a measurement, by hand: 500 Mbit/s of 1000 and of 800; over 100 MHz;
// 60 000 ms / 24.5 ms.
func TestMeasuredColumns(t *testing.T) {
	s := newStyle(CSV, ',', "")
	a := &answer{
		downlink: ceilings{rateOf(exact.Whole(1_000_000_000)), rateOf(exact.Of(2_400_000_000, 3)), 100_000_000},
		uplink:   ceilings{rateOf(exact.Whole(90_000_000)), rate{}, 0},
	}
	r := &row{figures: [figureCount]figure{{5000, 1, true}, {30, 0, true}, {245, 1, true}}}
	if got, want := string(s.measured(nil, r, a)), ",0.5,0.625,0.333333,,5,,2448.979592"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if got, want := string(s.measured(nil, &row{}, a)), ",,,,,,,"; got != want {
		t.Errorf("nothing measured: %s, want %s", got, want)
	}
	s = newStyle(JSONLines, ',', "x_")
	if got, want := string(s.measured(nil, &row{figures: [figureCount]figure{up: {0, 0, true}}}, a)),
		`,"x_dl_share_of_max":null,"x_dl_share_of_scheduled":null,"x_ul_share_of_max":0,"x_ul_share_of_scheduled":null,"x_dl_bps_hz":null,"x_ul_bps_hz":null,"x_round_trips_per_minute":null`; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

func TestDecimalCommas(t *testing.T) {
	for text, want := range map[string]string{
		"B3:1,4":                     "B3:1.4",
		"n78:80@3540,96MHz + B3:1,4": "n78:80@3540.96MHz + B3:1.4",
		"n78:80,scs=30":              "",
		"n78:80,5=3":                 "",
		"n78:80, 5":                  "",
		",5":                         "",
	} {
		fixed, found := withoutDecimalComma(text)
		if found != (want != "") || found && fixed != want {
			t.Errorf("%q: %q, %v; want %q", text, fixed, found, want)
		}
	}
}
