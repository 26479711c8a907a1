package imports

import (
	"bytes"
	"strings"

	"spectally/bands"
)

// modemFields are the levels that a modem manager states.
var modemFields = []struct {
	rat        bands.RAT
	name       string
	rsrp, sinr string
}{{bands.LTE, "lte", "rsrp", "snr"}, {bands.NR, "5g", "rsrp", "snr"}}

func isModem(data []byte) bool {
	return first(data).at("modem").is() || bytes.HasPrefix(data, []byte("modem.")) || bytes.Contains(data, []byte("\nmodem.signal."))
}

// readModem reads the levels of a modem manager, as JSON or as lines "modem.signal.lte.rsrp
// : -95.00". It states no widths, so there is no carrier to write.
func readModem(m *Import, data []byte, _ *Options) error {
	t := first(data)
	if !t.is() {
		t = keyed(data)
	}
	var n Network
	for _, f := range modemFields {
		l := Level{RAT: f.rat}
		signal := t.at("modem", "signal", f.name)
		if r, ok := signal.at(f.rsrp).rat(); ok {
			l.RSRP = levelOf(tenths(r), lowestRSRP, highestRSRP)
		}
		if r, ok := signal.at(f.sinr).rat(); ok {
			l.SINR = levelOf(tenths(r), lowestSINR, highestSINR)
		}
		switch {
		case l.RSRP.IsGiven() || l.SINR.IsGiven():
			n.Levels = append(n.Levels, l)
		case signal.is():
			m.note("", "no level of "+f.rat.String()+" (modem.signal."+f.name+")")
		}
	}
	if len(n.Levels) == 0 {
		m.note("", "no level (modem.signal.lte, modem.signal.5g)")
		return nil
	}
	m.note("", "no widths and channel numbers: levels alone")
	m.Networks = append(m.Networks, n)
	return nil
}

// keyed reads lines of a name with dots and a value behind a colon. Only the levels are
// kept.
func keyed(data []byte) tree {
	signal := make(map[string]any)
	for line := range strings.Lines(string(data)) {
		name, value, ok := strings.Cut(line, ":")
		path := strings.Split(strings.TrimSpace(name), ".")
		if !ok || len(path) != 4 || path[0] != "modem" || path[1] != "signal" {
			continue
		}
		of, _ := signal[path[2]].(map[string]any)
		if of == nil {
			of = make(map[string]any)
			signal[path[2]] = of
		}
		of[path[3]] = strings.TrimSpace(value)
	}
	return tree{map[string]any{"modem": map[string]any{"signal": signal}}}
}
