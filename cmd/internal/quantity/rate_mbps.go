package quantity

import (
	"strings"

	"spectally/bands"
)

// rateNames are the units of rates as people write them: as powers of ten of Mbit/s,
// and bytes.
var rateNames = []struct {
	names []string
	power int8 // of ten, in bit/s against Mbit/s
	bytes bool
}{
	{[]string{"bit/s", "bps", "b/s"}, -6, false},
	{[]string{"kbit/s", "kbps", "kb/s", "kbits/s"}, -3, false},
	{[]string{"Mbit/s", "Mbps", "Mb/s", "Mbits/s", "megabit/s", "Mbit"}, 0, false},
	{[]string{"Gbit/s", "Gbps", "Gb/s", "Gbits/s", "gigabit/s", "Gbit"}, 3, false},
	{[]string{"kB/s"}, -3, true},
	{[]string{"MB/s", "MByte/s", "megabyte/s"}, 0, true},
	{[]string{"GB/s", "GByte/s", "gigabyte/s"}, 3, true},
}

const mbpsAllowed = "a number above zero in Mbit/s, or with its unit: 612, 1.2 Gbit/s, 100 MB/s"

// ParseMbps reads a rate in Mbit/s that may have another unit, as people write it: "612",
// "1.2 Gbit/s", "1.2Gbps", "100 MB/s". The digits stated keep what they leave open: 1.2
// Gbit/s is 1150 to 1250 Mbit/s. B is a byte and b a bit; else letter case does not
// matter. Errors are of type *bands.ValueError.
func ParseMbps(s string) (Decimal, error) {
	text := strings.TrimSpace(s)
	end := strings.IndexFunc(text, func(r rune) bool { return (r < '0' || r > '9') && r != '.' && r != ',' && r != '-' })
	if end < 0 {
		end = len(text)
	}
	number, unit := text[:end], strings.TrimSpace(text[end:])
	if strings.Contains(number, ",") {
		return Decimal{}, &bands.ValueError{Param: "rate", Got: s, Allowed: "written with a decimal point and no commas", Nearest: strings.Replace(text, ",", ".", 1)}
	}
	d, err := ParseDecimal(number)
	if err != nil || d.Sign() <= 0 {
		return Decimal{}, &bands.ValueError{Param: "rate", Got: s, Allowed: mbpsAllowed}
	}
	if unit == "" {
		return d, nil
	}
	for _, u := range rateNames {
		for _, name := range u.names {
			if !strings.EqualFold(name, unit) || strings.Contains(unit, "B/") != strings.Contains(name, "B/") {
				continue
			}
			if d.places -= u.power; u.bytes {
				d.unit = 8
			}
			return d, nil
		}
	}
	return Decimal{}, &bands.ValueError{Param: "rate", Got: s, Allowed: mbpsAllowed}
}
