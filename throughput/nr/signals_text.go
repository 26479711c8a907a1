package nr

import (
	"strconv"
	"strings"
	"time"

	"spectally/bands"
	"spectally/throughput/internal/words"
)

// signalName is how a signal is written: "ssb=8/20" is 8 in 20 ms, "pucch=1x2" is 1
// resource block by 2 symbols.
type signalName struct {
	name, allowed string
	most          int
	periodic      bool // has a period
	bare          bool // which is all that it has
	by            bool // may have symbols
}

var signalNames = [signalKinds]signalName{
	signalPDCCH:   {name: "pdcch", allowed: "0 to 3 symbols at the start of a slot", most: 3},
	signalCCE:     {name: "cce", allowed: "0 to 64 control channel elements between the data of a slot", most: 64},
	signalSSB:     {name: "ssb", allowed: "0 to 64 SS/PBCH blocks and their period, such as 8/20", most: 64, periodic: true},
	signalCSI:     {name: "csirs", allowed: "0 to 48 resource elements of a resource block and their period, such as 8/20", most: 48, periodic: true},
	signalTRS:     {name: "trs", allowed: "0, or the period, such as 20", periodic: true, bare: true},
	signalPTRS:    {name: "ptrs", allowed: "0, 2 or 4: none, or every second or fourth resource block", most: 4},
	signalPUCCH:   {name: "pucch", allowed: "0 to 16 resource blocks, by symbols where they do not fill the slot, such as 1x2", most: 16, by: true},
	signalSRS:     {name: "srs", allowed: "0 to 6 symbols and their period, such as 1/10", most: 6, periodic: true},
	signalSpecial: {name: "special", allowed: "0 or 1: whether special slots carry PUSCH", most: 1},
}

// signalPeriods are the periods that signals may have: they divide 160 ms.
var signalPeriods = [...]time.Duration{5 * ms / 2, 5 * ms, 10 * ms, 20 * ms, 40 * ms, 80 * ms, 160 * ms}

const setName = "tr37910-"

// SignalsAllowed says what [ParseSignals] reads.
const SignalsAllowed = "tr37910-1 to tr37910-4, and pdcch=, cce=, ssb=, csirs=, trs=, ptrs=, pucch=, srs= and special= with commas between them, such as pdcch=1,ssb=8/20,trs=20"

// ParseSignals reads signals: the name of an overhead set, tr37910-1 to tr37910-4, single
// signals, or both, with commas between them. Periods are in milliseconds. Letter case and
// blanks do not matter.
func ParseSignals(s string) (Signals, error) {
	var g Signals
	for part := range strings.SplitSeq(strings.ToLower(strings.ReplaceAll(s, " ", "")), ",") {
		name, value, isKey := strings.Cut(part, "=")
		if set, ok := strings.CutPrefix(part, setName); ok && len(set) == 1 && '1' <= set[0] && set[0] <= '4' && g.Set == 0 {
			g.Set = int(set[0] - '0')
			continue
		}
		k := signalOf(name)
		switch {
		case !isKey:
			return Signals{}, &bands.ValueError{Param: "signals", Got: part, Allowed: SignalsAllowed, Nearest: nearestSignal(part)}
		case k == signalKinds:
			return Signals{}, &bands.ValueError{Param: "signal", Got: name, Allowed: SignalsAllowed, Nearest: nearestSignal(name)}
		case g.given[k]:
			return Signals{}, &bands.ValueError{Param: "signal", Got: name, Allowed: "given once"}
		}
		v, ok := signalNames[k].read(value)
		if !ok {
			return Signals{}, &bands.ValueError{Param: "signal " + name, Got: value, Allowed: signalNames[k].allowed + signalNames[k].periods()}
		}
		g.given[k], g.values[k] = true, v
	}
	return g, nil
}

func (n *signalName) periods() string {
	if !n.periodic {
		return ""
	}
	return " (2.5, 5, 10, 20, 40, 80 or 160 ms)"
}

func signalOf(name string) signalKind {
	for k := range signalNames {
		if signalNames[k].name == name {
			return signalKind(k)
		}
	}
	return signalKinds
}

// Gives tells whether the signals say something of one of them, by its name in
// [ParseSignals]; an overhead set says something of all.
func (g Signals) Gives(name string) bool {
	k := signalOf(name)
	return g.Set != 0 || k < signalKinds && g.given[k]
}

func nearestSignal(name string) string {
	for _, known := range append([]string{setName + "1"}, signalNameList()...) {
		if d := bands.EditDistance(name, known); d <= 2 && d < len(known) {
			return known
		}
	}
	return ""
}

func signalNameList() []string {
	list := make([]string, len(signalNames))
	for k := range signalNames {
		list[k] = signalNames[k].name
	}
	return list
}

func (n *signalName) read(value string) (v recurring, ok bool) {
	v.by = 1
	if n.by {
		var symbols string
		if value, symbols, ok = strings.Cut(value, "x"); ok {
			if v.by, ok = number(symbols, slotSymbols); !ok || v.by == 0 {
				return v, false
			}
		} else {
			v.by = slotSymbols
		}
	}
	count, period, hasPeriod := strings.Cut(value, "/")
	if n.bare {
		count, period, hasPeriod = "1", value, value != "0"
		if !hasPeriod {
			count = "0"
		}
	}
	if v.count, ok = number(count, max(n.most, 1)); !ok || n.name == "ptrs" && v.count%2 != 0 {
		return v, false
	}
	if !n.periodic || v.count == 0 {
		return v, !hasPeriod
	}
	for _, p := range signalPeriods {
		if periodText(p) == period {
			v.period = p
		}
	}
	return v, v.period > 0
}

// number reads a whole number of at most two digits.
func number(s string, most int) (int, bool) {
	n, ok := words.Digits(s)
	return int(n), ok && len(s) <= 2 && int(n) <= most
}

// String writes the signals as [ParseSignals] reads them.
func (g Signals) String() string {
	var list []string
	if g.Set != 0 {
		list = append(list, setName+strconv.Itoa(g.Set))
	}
	for k := range g.values {
		if g.given[k] {
			list = append(list, signalNames[k].name+"="+signalNames[k].write(g.values[k]))
		}
	}
	return strings.Join(list, ",")
}

func (n *signalName) write(v recurring) string {
	s := strconv.Itoa(v.count)
	switch {
	case n.bare && v.period > 0:
		return periodText(v.period)
	case n.by && v.by < slotSymbols:
		s += "x" + strconv.Itoa(v.by)
	case v.period > 0:
		s += "/" + periodText(v.period)
	}
	return s
}
