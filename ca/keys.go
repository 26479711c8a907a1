package ca

import (
	"strconv"
	"strings"

	"spectally/bands"
)

// key is a key of the carrier notation: how it is read and written.
type key struct {
	name    string
	allowed string
	set     func(c *Carrier, value string) bool
	write   func(c *Carrier) string // empty: not given
}

// Ranges of measured levels: SS-RSRP -156 to -31 dBm and SS-SINR -23 to 40 dB
// (TS 38.133 clauses 10.1.6 and 10.1.16, from memory); LTE reports lie within.
const (
	lowestRSRP, highestRSRP = -156, -31
	lowestSINR, highestSINR = -23, 40
)

// keys stand in the order in which a carrier is written.
var keys = [...]key{
	{"scs", "15, 30, 60, 120, 480 or 960 (kHz)", setSCS, func(c *Carrier) string {
		if c.SCS == 0 {
			return ""
		}
		return c.SCS.KHz()
	}},
	{"ssb", "the SS/PBCH block of an NR carrier: an NR-ARFCN, or a frequency on the global raster with its unit such as 3600MHz", setSSB,
		func(c *Carrier) string { return writeCount(int(c.SSB)) }},
	{"layers", "1 to 8", func(c *Carrier, v string) bool { return setCount(&c.Layers, v, 8) },
		func(c *Carrier) string { return writeCount(int(c.Layers)) }},
	{"ullayers", "1 to 8", func(c *Carrier, v string) bool { return setCount(&c.UplinkLayers, v, 8) },
		func(c *Carrier) string { return writeCount(int(c.UplinkLayers)) }},
	{"qam", "4, 16, 64, 256 or 1024", func(c *Carrier, v string) bool { return setQAM(&c.QAM, v, 4) },
		func(c *Carrier) string { return writeCount(int(c.QAM)) }},
	{"ulqam", "2 (pi/2-BPSK), 4, 16, 64, 256 or 1024", func(c *Carrier, v string) bool { return setQAM(&c.UplinkQAM, v, 2) },
		func(c *Carrier) string { return writeCount(int(c.UplinkQAM)) }},
	{"scale", "1, 0.8, 0.75 or 0.4", setScale, writeScale},
	{"rb", "1 to 275 resource blocks of an NR carrier", setRB, func(c *Carrier) string { return writeCount(int(c.RB)) }},
	{"pattern", "a TDD pattern such as DDDSU/10:2:2, or for LTE UL-DL/special configuration such as 2/7", setPattern,
		func(c *Carrier) string { return c.Pattern }},
	{"ul", "1 (transmits) or 0 (does not)", setTransmit, func(c *Carrier) string {
		return [...]string{Open: "", Yes: "1", No: "0"}[c.Transmit]
	}},
	{"role", "pcell, pscell or scell", setRole, func(c *Carrier) string { return c.Role.String() }},
	{"pci", "0 to 1007 for NR, 0 to 503 for LTE", setPCI, func(c *Carrier) string {
		if !c.HasPCI {
			return ""
		}
		return strconv.Itoa(int(c.PCI))
	}},
	{"rsrp", "-156 to -31 (dBm)", func(c *Carrier, v string) bool {
		var ok bool
		c.RSRP, ok = parseLevel(withoutUnit(v, "dBm"), lowestRSRP, highestRSRP)
		return ok
	}, func(c *Carrier) string { return c.RSRP.String() }},
	{"sinr", "-23 to 40 (dB)", func(c *Carrier, v string) bool {
		var ok bool
		c.SINR, ok = parseLevel(withoutUnit(v, "dB"), lowestSINR, highestSINR)
		return ok
	}, func(c *Carrier) string { return c.SINR.String() }},
}

// parseKeys reads "key=value" pairs separated by commas.
func (c *Carrier) parseKeys(s string) error {
	var seen uint32
	for more := true; more; {
		var pair string
		pair, s, more = strings.Cut(s, ",")
		name, value, ok := strings.Cut(pair, "=")
		if !ok || name == "" {
			if len(pair) == 3 && strings.Trim(pair, "0123456789") == "" { // as in @3,540
				return &bands.ValueError{Param: "key", Got: pair, Allowed: "key=value; a number has no comma in it, such as @640000"}
			}
			return &bands.ValueError{Param: "key", Got: pair, Allowed: "key=value with one of the keys " + keyNames()}
		}
		i := findKey(name)
		if i < 0 {
			return &bands.ValueError{Param: "key", Got: name, Allowed: keyNames(), Nearest: nearestKey(name)}
		}
		if seen&(1<<i) != 0 {
			return &bands.ValueError{Param: "key", Got: name, Allowed: "given once"}
		}
		seen |= 1 << i
		if !keys[i].set(c, value) {
			return &bands.ValueError{Param: keys[i].name, Got: value, Allowed: keys[i].allowed}
		}
	}
	return nil
}

func findKey(name string) int {
	for i := range keys {
		if strings.EqualFold(keys[i].name, name) {
			return i
		}
	}
	return -1
}

func keyNames() string {
	names := make([]string, len(keys))
	for i := range keys {
		names[i] = keys[i].name
	}
	return strings.Join(names, ", ")
}

// nearestKey returns the key that differs from name in the fewest letters, and in
// half of its own at most; empty if there is none.
func nearestKey(name string) string {
	name = strings.ToLower(name)
	best, distance := "", len(name)+1
	for i := range keys {
		d := bands.EditDistance(name, keys[i].name)
		if d < distance && 2*d <= len(keys[i].name) && d <= 2 {
			best, distance = keys[i].name, d
		}
	}
	return best
}

func setSCS(c *Carrier, v string) bool {
	v = withoutUnit(v, "kHz")
	switch v {
	case "15", "30", "60", "120", "480", "960":
		n, err := strconv.Atoi(v)
		c.SCS = bands.Frequency(n) * bands.KHz
		return err == nil
	}
	return false
}

// setSSB takes what stands for one NR-ARFCN alone.
func setSSB(c *Carrier, v string) bool {
	if c.Band.RAT != bands.NR {
		return false
	}
	if isDigits(v) {
		n, err := strconv.ParseInt(v, 10, 32)
		if err != nil {
			return false
		}
		c.SSB = bands.ARFCN(n)
		_, err = c.SSB.Frequency()
		return err == nil && n > 0
	}
	f, err := bands.ParseFrequency(v)
	if err != nil || f == 0 {
		return false
	}
	n, exact, err := bands.ARFCNNear(f)
	c.SSB = n
	return err == nil && exact
}

// setRB takes the resource blocks that an NR carrier can have (TS 38.211 clause 4.4.4).
func setRB(c *Carrier, v string) bool {
	n, err := strconv.Atoi(v)
	c.RB = uint16(n)
	return c.Band.RAT == bands.NR && err == nil && 1 <= n && n <= 275 && v[0] != '+' && v[0] != '0'
}

func setCount(field *uint8, v string, most int) bool {
	n, err := strconv.Atoi(v)
	*field = uint8(n)
	return err == nil && 1 <= n && n <= most && v[0] != '+' && v[0] != '0'
}

func writeCount(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

func setQAM(field *uint16, v string, least uint16) bool {
	switch v {
	case "2", "4", "16", "64", "256", "1024":
		n, err := strconv.Atoi(v)
		*field = uint16(n)
		return err == nil && *field >= least
	}
	return false
}

func setScale(c *Carrier, v string) bool {
	const hundredth = bands.MHz / 100
	f, err := bands.ParseMHz(v) // a plain decimal
	if err != nil {
		return false
	}
	switch f {
	case 100 * hundredth, 80 * hundredth, 75 * hundredth, 40 * hundredth:
		c.Scale = uint16(f / hundredth)
		return true
	}
	return false
}

func writeScale(c *Carrier) string {
	if c.Scale == 0 {
		return ""
	}
	return (bands.Frequency(c.Scale) * bands.MHz / 100).MHz()
}

// setPattern takes any text that the notation can hold; what it means is for
// package throughput to say.
func setPattern(c *Carrier, v string) bool {
	c.Pattern = strings.ToUpper(v)
	return v != "" && len(v) <= 100 && strings.IndexFunc(c.Pattern, func(r rune) bool {
		return !('A' <= r && r <= 'Z' || '0' <= r && r <= '9' || strings.ContainsRune("/:|.-", r))
	}) < 0
}

func setTransmit(c *Carrier, v string) bool {
	switch v {
	case "1":
		c.Transmit = Yes
	case "0":
		c.Transmit = No
	default:
		return false
	}
	return true
}

func setRole(c *Carrier, v string) bool {
	for r := PCell; r <= SCell; r++ {
		if strings.EqualFold(roleNames[r], v) {
			c.Role = r
			return true
		}
	}
	return false
}

func setPCI(c *Carrier, v string) bool {
	n, err := strconv.ParseUint(v, 10, 16)
	c.PCI, c.HasPCI = uint16(n), true
	most := uint64(1007)
	if c.Band.RAT == bands.LTE {
		most = 503
	}
	return err == nil && n <= most && (v == "0" || v[0] != '0')
}
