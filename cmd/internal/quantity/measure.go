package quantity

import (
	"math/big"
	"strings"

	"spectally/bands"
)

// Measure is a kind of figure that people state with a unit or without: rates, widths,
// distances, times. A figure without a unit is in the usual one.
type Measure struct {
	param, allowed string
	units          []measureUnit
}

// measureUnit is a unit with the ways to write it.
type measureUnit struct {
	names []string
	power int8  // of ten, against the usual unit
	times uint8 // beside that: 8 for bytes as bits, 60 for minutes; 0 for 1
}

// The measures. B is a byte and b a bit; else letter case does not matter.
var (
	// Mbps is a rate in Mbit/s: "612", "1.2 Gbit/s", "1.2Gbps", "100 MB/s".
	Mbps = Measure{"rate", "a number above zero in Mbit/s, or with its unit: 612, 1.2 Gbit/s, 100 MB/s", []measureUnit{
		{[]string{"Mbit/s", "Mbps", "Mb/s", "Mbits/s", "megabit/s", "Mbit"}, 0, 0},
		{[]string{"Gbit/s", "Gbps", "Gb/s", "Gbits/s", "gigabit/s", "Gbit"}, 3, 0},
		{[]string{"Tbit/s", "Tbps", "Tb/s", "Tbits/s", "Tbit"}, 6, 0},
		{[]string{"kbit/s", "kbps", "kb/s", "kbits/s"}, -3, 0},
		{[]string{"bit/s", "bps", "b/s"}, -6, 0},
		{[]string{"MB/s", "MByte/s", "megabyte/s"}, 0, 8},
		{[]string{"GB/s", "GByte/s", "gigabyte/s"}, 3, 8},
		{[]string{"kB/s"}, -3, 8},
		{[]string{"B/s"}, -6, 8},
	}}
	// Megahertz is a bandwidth in MHz: "100", "100 MHz", "0.1 GHz".
	Megahertz = Measure{"bandwidth", "a number above zero in MHz, or with its unit: 100, 100 MHz, 0.8 GHz", []measureUnit{
		{[]string{"MHz"}, 0, 0}, {[]string{"GHz"}, 3, 0}, {[]string{"kHz"}, -3, 0},
	}}
	// Metres is a distance in m: "800", "5 km".
	Metres = Measure{"distance", "a number above zero in metres, or with its unit: 800, 5 km", []measureUnit{
		{[]string{"m", "metres", "meters"}, 0, 0}, {[]string{"km"}, 3, 0},
	}}
	// Seconds is a time in s: "30", "30 s", "2 min", "800 ms".
	Seconds = Measure{"time", "a number above zero in seconds, or with its unit: 30, 2 min", []measureUnit{
		{[]string{"s", "sec", "second", "seconds"}, 0, 0}, {[]string{"min", "minute", "minutes"}, 0, 60}, {[]string{"ms"}, -3, 0},
	}}
	// Milliseconds is a latency in ms: "21", "21 ms", "0.2 s".
	Milliseconds = Measure{"latency", "a number above zero in ms, or with its unit: 21, 21 ms, 0.2 s", []measureUnit{
		{[]string{"ms", "millisecond", "milliseconds"}, 0, 0}, {[]string{"s", "seconds"}, 3, 0}, {[]string{"us", "µs"}, -3, 0},
	}}
	// Percent is a share: "27", "27 %".
	Percent = Measure{"share", "a number above zero in per cent: 27, 27 %", []measureUnit{{[]string{"%", "percent", "per cent"}, 0, 0}}}
	// Decibels are levels in dB or dBm, which a figure does not mix.
	Decibels = Measure{"level", "a number in dB or dBm: -87.5, 14 dB", []measureUnit{{[]string{"dB", "dBm"}, 0, 0}}}
	// Efficiency is in bit/s/Hz.
	Efficiency = Measure{"spectral efficiency", "a number above zero in bit/s/Hz: 6.1", []measureUnit{{[]string{"bit/s/Hz", "bps/Hz", "b/s/Hz"}, 0, 0}}}
	// Plain has no unit.
	Plain = Measure{"number", "a plain number above zero, such as 200 or 13.3", nil}
)

// Allowed says what the measure reads.
func (m *Measure) Allowed() string { return m.allowed }

// Called is the measure under another name, for errors.
func (m Measure) Called(param string) Measure {
	m.param = param
	return m
}

// Parse reads a figure above zero. The digits stated keep what they leave open: 1.2 Gbit/s
// is 1150 to 1250 Mbit/s. Errors are of type *bands.ValueError.
func (m *Measure) Parse(s string) (Decimal, error) {
	d, err := m.ParseAny(s)
	if err == nil && d.Sign() <= 0 {
		return Decimal{}, m.refuse(s)
	}
	return d, err
}

// ParseAny is Parse that takes zero and less.
func (m *Measure) ParseAny(s string) (Decimal, error) {
	d, unit, err := m.figure(s)
	switch {
	case err != nil:
		return Decimal{}, err
	case unit == "":
		return d, nil
	}
	if u := m.unit(unit); u != nil {
		return u.of(d), nil
	}
	return Decimal{}, m.refuse(s)
}

// ParseUnit reads a figure that has its unit behind it.
func (m *Measure) ParseUnit(s string) (Decimal, error) {
	d, name, err := m.figure(s)
	if u := m.unit(name); err == nil && u != nil {
		return u.of(d), nil
	}
	if err == nil {
		err = m.refuse(s)
	}
	return Decimal{}, err
}

// Scale is what one of a unit is in the usual one; nil for a unit that is none of the
// measure.
func (m *Measure) Scale(unit string) *big.Rat {
	u := m.unit(unit)
	if u == nil {
		return nil
	}
	return u.of(NewDecimal(1, 0)).Rat()
}

// Units lists the units by their usual names, the usual one first.
func (m *Measure) Units() []string {
	var list []string
	for i := range m.units {
		list = append(list, m.units[i].names[0])
	}
	return list
}

// Canonical is the usual name of a unit; the name as it is if it is none of the measure.
func (m *Measure) Canonical(unit string) string {
	if u := m.unit(unit); u != nil {
		return u.names[0]
	}
	return unit
}

func (m *Measure) refuse(s string) error {
	return &bands.ValueError{Param: m.param, Got: s, Allowed: m.allowed}
}

// figure takes a text apart into a number and what stands behind it.
func (m *Measure) figure(s string) (Decimal, string, error) {
	text := strings.TrimSpace(s)
	end := strings.IndexFunc(text, func(r rune) bool { return (r < '0' || r > '9') && r != '.' && r != ',' && r != '-' })
	if end < 0 {
		end = len(text)
	}
	number := text[:end]
	if strings.Contains(number, ",") {
		return Decimal{}, "", &bands.ValueError{Param: m.param, Got: s, Allowed: "written with a decimal point and no commas", Nearest: withoutCommas(text)}
	}
	d, err := ParseDecimal(number)
	if err != nil {
		return Decimal{}, "", m.refuse(s)
	}
	return d, strings.TrimSpace(text[end:]), nil
}

// unit is the unit of a name; nil if there is none.
func (m *Measure) unit(name string) *measureUnit {
	for i := range m.units {
		for _, n := range m.units[i].names {
			if strings.EqualFold(n, name) && strings.Contains(name, "B/") == strings.Contains(n, "B/") {
				return &m.units[i]
			}
		}
	}
	return nil
}

// of is a number of the unit, in the usual one.
func (u *measureUnit) of(d Decimal) Decimal {
	d.places -= u.power
	d.unit = u.times
	return d
}

// withoutCommas is a number as it was most likely meant: a comma stands for the point,
// unless three digits follow each, as where it groups thousands.
func withoutCommas(text string) string {
	first, rest, _ := strings.Cut(text, ",")
	for group := range strings.SplitSeq(rest, ",") {
		if digits := strings.TrimLeft(group, "0123456789"); len(group)-len(digits) != 3 || strings.HasPrefix(digits, ".") || first == "0" {
			return strings.Replace(text, ",", ".", 1)
		}
	}
	return first + strings.ReplaceAll(rest, ",", "")
}
