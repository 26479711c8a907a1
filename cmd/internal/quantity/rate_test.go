package quantity

import (
	"errors"
	"fmt"
	"testing"

	"spectally/bands"
)

func ExampleParseRate() {
	r, err := ParseRate("2.5 gbit/s")
	fmt.Println(r, r.BitsPerSecond(), err)
	_, err = ParseRate("10")
	fmt.Println(err)
	// Output:
	// 2.5 Gbit/s 2500000000 <nil>
	// rate "10": must be a number and its unit, such as 10 Gbit/s: kbit/s, Mbit/s, Gbit/s or Tbit/s (powers of 1000)
}

// Prefixes are powers of 1000 (IEC 80000-13, from memory).
func TestParseRate(t *testing.T) {
	for in, want := range map[string]int64{
		"1 kbit/s": 1000, "0.0015 Mbit/s": 1500, "100Mbit/s": 100_000_000, " 10 Gbit/s ": 10_000_000_000, "10 Tbit/s": 10_000_000_000_000, "10 Gbps": 10_000_000_000, "1 GB/s": 8_000_000_000,
		"1.0006 kbit/s": 1001, "1.0005 kbit/s": 1001, // 1000.5, up
	} {
		if r, err := ParseRate(in); err != nil || r.BitsPerSecond() != want || !r.IsGiven() {
			t.Errorf("ParseRate(%q) = %q, %d bit/s, %v; want %d", in, r, r.BitsPerSecond(), err, want)
		}
	}
	for _, in := range []string{"", "10", "Gbit/s", "-1 Gbit/s", "0 Gbit/s", "0.9 kbit/s", "11 Tbit/s", "1.2.3 Mbit/s", "1e3 Mbit/s", "999999999999999 Tbit/s"} {
		r, err := ParseRate(in)
		var v *bands.ValueError
		if !errors.As(err, &v) || v.Got != in || r.IsGiven() {
			t.Errorf("ParseRate(%q) = %v, %v; want a *bands.ValueError", in, r, err)
		}
	}
}
