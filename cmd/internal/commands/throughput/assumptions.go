package throughput

import (
	"slices"
	"strconv"

	"spectally/bands"
	"spectally/cmd/internal/assumed"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
	"spectally/throughput"
)

// assumptions lists what the answer rests on, with the numbers of the site's
// carriers.
func (k *peak) assumptions() []throughput.Assumption {
	var list []throughput.Assumption
	if k.taken != nil {
		for _, a := range k.taken.Assumptions() {
			numbers := make([]int, len(a.Carriers))
			for i, c := range a.Carriers {
				numbers[i] = k.number(c - 1)
			}
			a.Carriers = numbers
			list = append(list, a)
		}
	}
	return append(list, k.assumed...)
}

// statements says the assumptions in sentences.
func (k *peak) statements() []assumed.Statement {
	list := assumed.Statements(k.assumptions())
	for _, rat := range [...]bands.RAT{bands.NR, bands.LTE} {
		if k.flag.goodput && k.hasRAT(rat) {
			list = append(list, assumed.Statement{Text: headersText(rat)})
		}
	}
	return list
}

// hasRAT tells whether a carrier is of a technology.
func (k *peak) hasRAT(rat bands.RAT) bool {
	for i := range k.count() {
		if k.carriers.Carriers[i].Band.RAT == rat {
			return true
		}
	}
	return false
}

// headersText says which headers stand between transport blocks and TCP.
func headersText(rat bands.RAT) string {
	h := throughput.DefaultPacketHeaders
	if rat == bands.LTE {
		h = throughput.LTEPacketHeaders
	}
	list := []string{"MAC " + strconv.Itoa(h.MAC), "RLC " + strconv.Itoa(h.RLC), "PDCP " + strconv.Itoa(h.PDCP)}
	if h.SDAP > 0 {
		list = append(list, "SDAP "+strconv.Itoa(h.SDAP))
	}
	return "IP and TCP, " + rat.String() + ": packets of " + strconv.Itoa(h.Packet) + " bytes with headers of " + words.And(append(list, "IP "+strconv.Itoa(h.IP), "TCP "+strconv.Itoa(h.TCP))) +
		" bytes, and " + strconv.Itoa(h.Segment) + " bytes in each transport block for the packet that is cut (header sizes from memory); no compression, no retransmission, no acknowledgements."
}

// assumptionTexts are the assumptions for people, those of some carriers with their
// numbers.
func (k *peak) assumptionTexts() []string {
	var list []string
	for _, a := range k.statements() {
		text := a.String()
		if len(a.Carriers) > 0 && len(k.site.Carriers) > 1 {
			word := "carrier "
			if len(a.Carriers) > 1 {
				word = "carriers "
			}
			text = word + figures.List(a.Carriers, ", ") + ": " + text
		}
		list = append(list, text)
	}
	return list
}

// notes say which flags were given in vain.
func (k *peak) notes() []string {
	var list []string
	for _, rat := range [...]bands.RAT{bands.LTE, bands.NR} {
		if p := k.flag.patterns.Of(rat); p != "" && !k.flag.patterned[rat] {
			list = append(list, "--pattern "+p+" has no effect: every "+rat.String()+" TDD carrier states its own pattern.")
		}
	}
	return list
}

// cautions say where the answer can mislead or work can hurt someone.
func (k *peak) cautions() []string {
	list := []string{"Ceilings, not promises: load, signal and backhaul take their share."}
	levels := k.flag.sinr.Carrier.SINR.IsGiven()
	for i := range k.site.Carriers {
		c := &k.site.Carriers[i]
		levels = levels || c.SINR.IsGiven() || c.RSRP.IsGiven()
	}
	if levels {
		list = []string{"Ceilings, not promises.", "Never read a phone while driving."}
	}
	return list
}

// sources lists the tables that the answer is read from.
func (k *peak) sources() render.Sources {
	var s render.Sources
	add := func(source bands.Source) {
		if source != (bands.Source{}) && !slices.Contains(s, render.Source(source)) {
			s = append(s, render.Source(source))
		}
	}
	for i := range k.count() {
		p := &k.carriers.Carriers[i]
		add(p.Info.Source)
		add(p.Info.WidthSource())
	}
	for _, a := range k.assumptions() {
		add(a.Source)
	}
	for _, f := range k.findings {
		add(f.Source)
	}
	return s
}
