// Package products names products of uplinks, and says in one line what they do to a
// combination.
package products

import (
	"strconv"
	"strings"

	"spectally/ca"
	"spectally/ca/interference"
)

// Names are the names of carriers, in their order.
type Names []string

// Of names the carriers of a combination by their bands, with a number where several are in
// one band.
func Of(a *ca.Assessment) Names {
	list := make([]string, len(a.Carriers))
	for i := range a.Carriers {
		list[i] = a.Carriers[i].Band.String()
	}
	return Numbered(list)
}

// Numbered adds a number to bands that stand several times.
func Numbered(bands []string) Names {
	names := make(Names, len(bands))
	for i, band := range bands {
		names[i] = band
		for j := range bands {
			if j != i && bands[j] == band {
				names[i] = band + " (no. " + strconv.Itoa(i+1) + ")"
			}
		}
	}
	return names
}

// Formula writes a product with its carriers: "2 × B3", "2 × n78 − B1".
func (n Names) Formula(p *interference.Product) string {
	var b strings.Builder
	for _, positive := range [...]bool{true, false} { // what is added before what is taken away
		for _, src := range p.Sources() {
			times := int(src.Coefficient)
			if times > 0 != positive {
				continue
			}
			switch {
			case times < 0:
				b.WriteString(" − ")
				times = -times
			case b.Len() > 0:
				b.WriteString(" + ")
			}
			if times > 1 {
				b.WriteString(strconv.Itoa(times) + " × ")
			}
			b.WriteString(n[src.Carrier])
		}
	}
	return b.String()
}

// Victim names what a product is compared with: the downlink "n78", or "2 × B3" where a
// harmonic of its oscillator brings the product in.
func (n Names) Victim(p *interference.Product) string {
	if p.ReceiverOrder > 1 {
		return strconv.Itoa(int(p.ReceiverOrder)) + " × " + n[p.Victim]
	}
	return n[p.Victim]
}

// Short names a product and its victim: "harmonic 2 × B3 on n78".
func (n Names) Short(p *interference.Product) string {
	switch p.Kind {
	case interference.Mixing:
		return "mixing of " + n.Formula(p) + " at " + n.Victim(p)
	case interference.Harmonic:
		return "harmonic " + n.Formula(p) + " on " + n.Victim(p)
	}
	return "intermodulation " + n.Formula(p) + " on " + n.Victim(p)
}

// Worst names the product of the lowest order that falls on a downlink of the combination, in
// some place at least, and counts all that do; empty if there is none.
func Worst(a *ca.Assessment) (worst string, hits int) {
	list := a.Hits()
	if len(list) == 0 {
		return "", 0
	}
	worst = Of(a).Short(&list[0])
	if list[0].Places == interference.SomePlaces {
		worst += " in some places"
	}
	return worst, len(list)
}

// Line says in one line which of its own downlinks the uplinks of a combination hit; empty
// if they hit none.
func Line(worst string, hits int) string {
	if hits > 1 {
		worst += ", and " + strconv.Itoa(hits-1) + " more"
	}
	return worst
}
