package ca

import (
	"strconv"

	"spectally/bands"
)

// maxNRCarriers bounds the NR carriers of a cell group (TS 38.300 clause 5.4.1
// speaks of up to 16 contiguous and non-contiguous carriers, from memory).
const maxNRCarriers = 16

// checkRoles looks at what each carrier can be in its cell group.
func (k *checker) checkRoles() {
	var holder [SCell + 1]int // the first carrier of each role, counted from 1
	for i := range k.Carriers {
		p := &k.Carriers[i]
		if p.Role != PCell && p.Role != PSCell {
			continue
		}
		if p.Info != nil && !p.canBePrimary() {
			k.report(Error, RuleRole, i, &bands.ValueError{
				Param: "role of " + p.Band.String(), Got: p.Role.String(), Allowed: "scell: a primary cell has both directions and a width that is not for secondary cells alone", Source: p.Info.Source})
		}
		if first := holder[p.Role]; first != 0 {
			k.report(Warning, RuleRole, i, &bands.ValueError{
				Param: "role of " + p.Band.String(), Got: p.Role.String(), Allowed: "one " + p.Role.String() + " in a combination, and carrier " + strconv.Itoa(first) + " is it"})
			continue
		}
		holder[p.Role] = i + 1
	}
	for _, rat := range [...]bands.RAT{bands.LTE, bands.NR} {
		k.checkPrimary(rat)
	}
}

// canBePrimary tells whether the carrier can be the primary cell of a cell group.
func (p *Placed) canBePrimary() bool {
	b := p.Info
	if b == nil || p.Uplink == 0 || p.unpaired || b.Duplex != bands.FDD && b.Duplex != bands.TDD {
		return false
	}
	return p.marks&bands.SCellOnly == 0 && !p.isAssisted()
}

// isAssisted tells whether the band is for licensed-assisted access, which has
// secondary cells alone: LTE bands 46 and 49.
func (p *Placed) isAssisted() bool {
	return p.Band.RAT == bands.LTE && (p.Band.Number == 46 || p.Band.Number == 49)
}

// checkPrimary looks for a carrier of a technology that can be the primary cell,
// and for one on which the UE transmits.
func (k *checker) checkPrimary(rat bands.RAT) {
	count, first := 0, -1
	known, able, free, transmits, assisted := true, false, false, false, false
	for i := range k.Carriers {
		p := &k.Carriers[i]
		if p.Band.RAT != rat {
			continue
		}
		if count++; first < 0 {
			first = i
		}
		known = known && p.Info != nil
		transmits = transmits || p.Transmits
		assisted = assisted || p.isAssisted()
		if p.canBePrimary() {
			able, free = true, free || p.Role != SCell
		}
	}
	switch {
	case count == 0 || !known:
	case !able && assisted && len(k.Carriers) > 1:
		k.reportAssisted(rat)
	case !able:
		k.reportPrimary(rat, first, count)
	case !free:
		k.say(Warning, RuleRole, -1, bands.Source{}, "Every "+rat.String()+" carrier that can be a primary cell is said to be a secondary one.")
	case !transmits:
		k.say(Warning, RuleUplink, -1, bands.Source{}, "The UE transmits on no "+rat.String()+" carrier: a cell group needs an uplink.")
	}
}

// reportAssisted speaks of carriers of licensed-assisted access without a licensed
// one. The standard lists them so, as parts of larger configurations, which is why
// this is no error.
func (k *checker) reportAssisted(rat bands.RAT) {
	rule, source := RulePrimaryCell, bands.Source{}
	if k.Kind == KindENDC {
		rule, source = RuleDualConnectivity, anchorSource
	}
	k.say(Warning, rule, -1, source, "The only "+rat.String()+" carriers that have an uplink are for licensed-assisted access, as secondary cells: they need a primary cell in another band.")
}

var anchorSource = bands.Source{Spec: "TS 37.340", Table: "clause 4.1.2"}

// reportPrimary says why no carrier of the technology can be the primary cell, in
// the words of the first of them.
func (k *checker) reportPrimary(rat bands.RAT, first, count int) {
	p := &k.Carriers[first]
	b := p.Info
	switch {
	case b.Duplex == bands.SDO && count == 1: // broadcast stands alone
	case k.Kind == KindENDC && rat == bands.LTE:
		k.say(Error, RuleDualConnectivity, -1, anchorSource,
			"E-UTRA with NR needs an LTE carrier with both directions as its anchor; none of these can be one.")
	case k.Kind == KindENDC && b.Duplex == bands.SUL && count == 1:
		k.say(Error, RuleSULPairing, first, b.Source, p.Band.String()+" is the supplementary uplink of an NR cell, and there is no NR downlink here.")
	case b.Duplex == bands.SDL || b.Duplex == bands.SUL:
		k.say(Error, RuleSupplementary, first, b.Source, p.Band.String()+" is "+b.Duplex.String()+": it needs a carrier with both directions.")
	case p.marks&bands.SCellOnly != 0:
		k.say(Error, RuleSCellOnly, first, b.WidthSource(), "The width "+mhz(p.DownlinkWidth)+" of "+p.Band.String()+" is for secondary cells only and needs another carrier.")
	case count == 1:
		k.say(Error, RulePrimaryCell, first, b.Source, "The only "+rat.String()+" carrier cannot be a primary cell: that needs both directions and a band that may stand alone.")
	default:
		k.say(Error, RulePrimaryCell, -1, b.Source, "None of the "+strconv.Itoa(count)+" "+rat.String()+" carriers can be the primary cell: that needs both directions and a band that may stand alone.")
	}
}

// checkCounts bounds the number of NR carriers of a cell group; supplementary uplinks
// belong to the cell of another carrier.
func (k *checker) checkCounts() {
	nr := 0
	for i := range k.Carriers {
		if p := &k.Carriers[i]; p.Band.RAT == bands.NR && (p.Info == nil || p.Info.Duplex != bands.SUL) {
			nr++
		}
	}
	if nr > maxNRCarriers && k.Kind != KindNRDC { // which has two groups
		k.report(Error, RuleCarrierCount, -1, &bands.ValueError{
			Param: "number of NR carriers", Got: strconv.Itoa(nr), Allowed: "at most " + strconv.Itoa(maxNRCarriers), Source: bands.Source{Spec: "TS 38.300", Table: "clause 5.4.1"}})
	}
}
