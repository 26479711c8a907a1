package quantity

import "testing"

// Powers of 1000 and 8 bits a byte (IEC 80000-13); what digits leave open is half a unit
// of the last.
func TestParseMbps(t *testing.T) {
	for _, test := range []struct{ in, text, half string }{
		{"612", "612", "1/2"},
		{"1.2 Gbit/s", "1200", "50/1"},
		{"1.2Gbps", "1200", "50/1"},
		{"1.20 gbit/s", "1200", "5/1"},
		{"2 Gbit/s", "2000", "500/1"},
		{"100 MB/s", "800", "4/1"},
		{"12.5 MB/s", "100.0", "2/5"},
		{"800 kbit/s", "0.800", "1/2000"},
		{"50 Mb/s", "50", "1/2"},
	} {
		d, err := ParseMbps(test.in)
		if err != nil || d.String() != test.text || d.HalfUnit().String() != test.half {
			t.Errorf("ParseMbps(%q) = %v, half a unit %v, %v; want %s, %s", test.in, d, d.HalfUnit(), err, test.text, test.half)
		}
	}
	for _, bad := range []string{"", "1,2", "1,2 Gbit/s", "fast", "10 m", "-5", "0", "1.2 GHz", "5 mb"} {
		if d, err := ParseMbps(bad); err == nil {
			t.Errorf("ParseMbps(%q) = %v", bad, d)
		}
	}
}
