package quantity

import (
	"encoding/json"
	"errors"
	"fmt"
	"testing"

	"spectally/bands"
)

func ExampleParseSize() {
	for _, s := range []string{"1 GB", "1GiB", "700 MiB"} {
		size, err := ParseSize(s)
		fmt.Println(size, size.Bits(), err)
	}
	// Output:
	// 1 GB 8000000000 <nil>
	// 1 GiB 8589934592 <nil>
	// 700 MiB 5872025600 <nil>
}

// Prefixes: IEC 80000-13 (from memory), k = 10^3, Ki = 2^10 and so on; a byte of 8
// bits.
func TestParseSize(t *testing.T) {
	for _, test := range []struct {
		in, text string
		bits     int64
	}{
		{"1 B", "1 B", 8},
		{"500 kB", "500 kB", 4_000_000},
		{"1.5 MB", "1.5 MB", 12_000_000},
		{" 2GB ", "2 GB", 16_000_000_000},
		{"1000 TB", "1000 TB", 8_000_000_000_000_000},
		{"1 KiB", "1 KiB", 8192},
		{"1 MiB", "1 MiB", 8_388_608},
		{"2 TiB", "2 TiB", 17_592_186_044_416},
		{"0.7 GiB", "0.7 GiB", 6_012_954_214}, // 6012954214.4, to the nearest
		{"0.0625 B", "0.0625 B", 1},           // half a bit, up
		{"1 bit", "1 bit", 1},
		{"10 kbit", "10 kbit", 10_000},
		{"800 Mbit", "800 Mbit", 800_000_000},
		{"1 Gbit", "1 Gbit", 1_000_000_000},
		{"1 Tbit", "1 Tbit", 1_000_000_000_000},
	} {
		s, err := ParseSize(test.in)
		if err != nil || s.Bits() != test.bits || s.String() != test.text || !s.IsGiven() {
			t.Errorf("ParseSize(%q) = %q, %d bits, %v; want %q, %d bits", test.in, s, s.Bits(), err, test.text, test.bits)
		}
	}
	for _, test := range []struct{ in, nearest string }{
		{"", ""}, {"1000", ""}, {"GB", ""}, {"-1 GB", ""}, {"0 GB", ""}, {"1001 TB", ""}, {"999999999 TiB", ""}, {"0.01 bit", ""},
		{"1 GB 2", ""}, {"1 parsec", ""}, {"1.2.3 GB", ""},
		{"1 Gb", ""}, {"1 gb", ""}, {"1 gB", "1 GB"}, {"3 KB", "3 kB"}, {"3 MIB", "3 MiB"}, {"3 gBIT", "3 Gbit"},
	} {
		s, err := ParseSize(test.in)
		var v *bands.ValueError
		if !errors.As(err, &v) || v.Got != test.in || v.Nearest != test.nearest || s.IsGiven() {
			t.Errorf("ParseSize(%q) = %v, %v; want a *bands.ValueError with nearest %q", test.in, s, err, test.nearest)
		}
	}
	data, err := json.Marshal(map[string]Size{"size": {"1 GB", 8e9}})
	if err != nil || string(data) != `{"size":"1 GB"}` {
		t.Errorf("as JSON %s, %v", data, err)
	}
}

func FuzzParseSize(f *testing.F) {
	for _, s := range []string{"1 GB", "700MiB", "1.5 Gbit", "0 B", "1 Gb", "1", "B", "1000 TB"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		size, err := ParseSize(s)
		if err != nil {
			return
		}
		if size.Bits() <= 0 || size.Bits() > maxSizeBits {
			t.Fatalf("%q has %d bits", s, size.Bits())
		}
		if again, err := ParseSize(size.String()); err != nil || again != size {
			t.Fatalf("%q is written %q, which is read as %v, %v", s, size, again, err)
		}
	})
}
