package quantity

import (
	"errors"
	"testing"

	"spectally/bands"
)

// Powers of 1000 and 8 bits a byte (IEC 80000-13); what digits leave open is half a unit
// of the last.
func TestMeasures(t *testing.T) {
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
		d, err := Mbps.Parse(test.in)
		if err != nil || d.String() != test.text || d.HalfUnit().String() != test.half {
			t.Errorf("Mbps.Parse(%q) = %v, half a unit %v, %v; want %s, %s", test.in, d, d.HalfUnit(), err, test.text, test.half)
		}
	}
	for _, bad := range []string{"", "1,2", "1,2 Gbit/s", "fast", "10 m", "-5", "0", "1.2 GHz", "5 mb"} {
		if d, err := Mbps.Parse(bad); err == nil {
			t.Errorf("Mbps.Parse(%q) = %v", bad, d)
		}
	}
	for _, test := range []struct {
		measure        Measure
		in, text, half string
	}{
		{Megahertz, "100 MHz", "100", "1/2"},
		{Megahertz, "0.8GHz", "800", "50/1"},
		{Metres, "5 km", "5000", "500/1"},
		{Metres, "5.0km", "5000", "50/1"},
		{Metres, "800", "800", "1/2"},
		{Seconds, "2 min", "120", "30/1"},
		{Seconds, "30 s", "30", "1/2"},
		{Milliseconds, "0.2 s", "200", "50/1"},
		{Percent, "27 %", "27", "1/2"},
		{Efficiency, "6.1 bit/s/Hz", "6.1", "1/20"},
		{Plain, "4", "4", "1/2"},
	} {
		d, err := test.measure.Parse(test.in)
		if err != nil || d.String() != test.text || d.HalfUnit().String() != test.half {
			t.Errorf("%q is %v, half a unit %v, %v; want %s, %s", test.in, d, d.HalfUnit(), err, test.text, test.half)
		}
	}
	for _, bad := range []struct {
		measure Measure
		in      string
	}{{Megahertz, "100 Mbit/s"}, {Metres, "5 miles"}, {Plain, "4 x"}, {Seconds, "0"}, {Milliseconds, "1,5"}} {
		if d, err := bad.measure.Parse(bad.in); err == nil {
			t.Errorf("%q is %v", bad.in, d)
		}
	}
	for given, closest := range map[string]string{"2,000Mbps": "2000Mbps", "1,250,000 kbit/s": "1250000 kbit/s", "1,2 Gbit/s": "1.2 Gbit/s", "0,125 Gbit/s": "0.125 Gbit/s", "1,20": "1.20"} {
		_, err := Mbps.Parse(given)
		if e, ok := errors.AsType[*bands.ValueError](err); !ok || e.Nearest != closest {
			t.Errorf("%q: %v, want the closest to be %q", given, err, closest)
		}
	}
}
