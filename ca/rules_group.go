package ca

import (
	"strconv"

	"spectally/bands"
)

// Limits on the number of carriers: at most 16 NR carriers of a cell group
// (TS 38.300 clause 5.4.1 speaks of up to 16 contiguous and non-contiguous
// carriers, from memory).
const maxNRCarriers = 16

// checkRoles looks at what each carrier can be in its cell group.
func (k *checker) checkRoles() {
	for i := range k.Carriers {
		p := &k.Carriers[i]
		if p.Info == nil {
			continue
		}
		if (p.Role == PCell || p.Role == PSCell) && !p.canBePrimary() {
			k.report(Error, RuleRole, i, &bands.ValueError{
				Param: "role of " + p.Band.String(), Got: p.Role.String(), Allowed: "scell: a primary cell has both directions and a width that is not for secondary cells alone", Source: p.Info.Source})
		}
	}
	for _, rat := range [...]bands.RAT{bands.LTE, bands.NR} {
		k.checkPrimary(rat)
	}
}

// canBePrimary tells whether the carrier can be the primary cell of a cell group.
func (p *Placed) canBePrimary() bool {
	b := p.Info
	if b == nil || p.UplinkWidth == 0 && p.Uplink == 0 || b.Duplex != bands.FDD && b.Duplex != bands.TDD {
		return false
	}
	if b.ID == (bands.ID{RAT: bands.LTE, Number: 46}) || b.ID == (bands.ID{RAT: bands.LTE, Number: 49}) {
		return false // licensed-assisted access: secondary cells alone
	}
	w, _ := b.Width(p.Spacing, p.DownlinkWidth)
	return w.Marks&bands.SCellOnly == 0
}

// checkPrimary looks for a carrier of a technology that can be the primary cell,
// and for one on which the UE transmits.
func (k *checker) checkPrimary(rat bands.RAT) {
	count, known, transmits, first := 0, true, false, -1
	for i := range k.Carriers {
		p := &k.Carriers[i]
		if p.Band.RAT != rat {
			continue
		}
		count++
		if first < 0 {
			first = i
		}
		known = known && p.Info != nil
		transmits = transmits || p.Transmits
		if p.Role != SCell && p.canBePrimary() {
			first = len(k.Carriers)
		}
	}
	switch {
	case count == 0 || !known:
	case first < len(k.Carriers):
		k.reportPrimary(rat, first, count)
	case !transmits:
		k.say(Warning, RuleUplink, -1, bands.Source{}, "The UE transmits on no "+rat.String()+" carrier: a cell group needs an uplink.")
	}
}

// reportPrimary says why no carrier of the technology can be the primary cell, in
// the words of the first of them.
func (k *checker) reportPrimary(rat bands.RAT, first, count int) {
	p := &k.Carriers[first]
	w, _ := p.Info.Width(p.Spacing, p.DownlinkWidth)
	b := p.Info
	switch {
	case k.Kind == KindENDC && rat == bands.LTE:
		k.say(Error, RuleDualConnectivity, -1, bands.Source{Spec: "TS 37.340", Table: "clause 4.1.2"},
			"E-UTRA with NR needs an LTE carrier with both directions as its anchor; none of these can be one.")
	case b.Duplex == bands.SDL || b.Duplex == bands.SUL:
		k.say(Error, RuleSupplementary, first, b.Source, p.Band.String()+" is "+b.Duplex.String()+": it stands only beside a carrier that has both directions.")
	case w.Marks&bands.SCellOnly != 0:
		k.say(Error, RuleSCellOnly, first, b.WidthSource(), "The width "+p.DownlinkWidth.String()+" of "+p.Band.String()+" is for secondary cells alone and needs another carrier beside it.")
	default:
		k.say(Error, RulePrimaryCell, first, b.Source, "None of the "+strconv.Itoa(count)+" "+rat.String()+" carriers can be the primary cell: it needs both directions and a band that may stand alone.")
	}
}

// checkCounts bounds the number of carriers and looks at supplementary uplinks.
func (k *checker) checkCounts() {
	nr, sul := 0, -1
	host := false
	for i := range k.Carriers {
		p := &k.Carriers[i]
		if p.Band.RAT != bands.NR {
			continue
		}
		if p.Info != nil && p.Info.Duplex == bands.SUL {
			sul = i
			continue
		}
		nr++
		host = true
	}
	if nr > maxNRCarriers {
		k.report(Error, RuleCarrierCount, -1, &bands.ValueError{
			Param: "number of NR carriers", Got: strconv.Itoa(nr), Allowed: "at most " + strconv.Itoa(maxNRCarriers), Source: bands.Source{Spec: "TS 38.300", Table: "clause 5.4.1"}})
	}
	if sul >= 0 && !host && k.Kind == KindENDC {
		k.say(Error, RuleSULPairing, sul, k.Carriers[sul].Info.Source, k.Carriers[sul].Band.String()+" is a supplementary uplink of an NR cell, and there is no NR downlink here.")
	}
}
