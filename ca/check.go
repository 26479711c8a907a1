package ca

import "spectally/bands"

// check applies the rules.
func check(c Combination) *checker {
	k := &checker{}
	k.Carriers = make([]Placed, len(c))
	for i := range c {
		k.Carriers[i].Carrier = c[i]
		k.place(i)
	}
	k.decideKind()
	k.decideTransmission()
	k.checkPlacesOfWidths()
	k.checkPairs()
	k.checkRoles()
	k.checkCounts()
	k.group()
	k.checkOverlap()
	k.checkGroups()
	return k
}

// usual is a number of carriers that most combinations do not exceed.
const usual = 8

// checker gathers findings while an assessment grows. It brings the room for the
// groups of a usual combination with it, so that they need no memory of their own.
type checker struct {
	Assessment
	order  [usual]int
	blocks [usual]Block
	groups [usual]Group
}

// report adds a finding about carrier i, counted from 0; -1 is the whole
// combination.
func (k *checker) report(s Severity, rule Rule, i int, err error) {
	k.rules = append(k.rules, findingOf(s, rule, i+1, err))
}

// say adds a finding in words of its own.
func (k *checker) say(s Severity, rule Rule, i int, source bands.Source, message string) {
	k.rules = append(k.rules, Finding{s, rule, i + 1, message, source})
}

// decideKind names what the carriers form. Dual connectivity of NR alone, and of NR
// as the master with E-UTRA, shows in the roles only.
func (k *checker) decideKind() {
	var lte, nr, sul int
	var has [bands.NR + 1][SCell + 1]bool
	for i := range k.Carriers {
		p := &k.Carriers[i]
		switch {
		case p.Band.RAT == bands.LTE:
			lte++
		case p.Info != nil && p.Info.Duplex == bands.SUL:
			sul++
		default:
			nr++
		}
		if p.Band.RAT <= bands.NR && p.Role <= SCell {
			has[p.Band.RAT][p.Role] = true
		}
	}
	switch {
	case lte > 0 && nr+sul > 0:
		k.Kind = KindENDC
		if !has[bands.LTE][PCell] && !has[bands.NR][PSCell] && (has[bands.NR][PCell] || has[bands.LTE][PSCell]) {
			k.Kind = KindNEDC
		}
	case lte == 1:
		k.Kind = KindLTE
	case lte > 0:
		k.Kind = KindLTECA
	case nr > 1 && has[bands.NR][PSCell]:
		k.Kind = KindNRDC
	case sul > 0:
		k.Kind = KindSUL
	case nr == 1:
		k.Kind = KindNR
	default:
		k.Kind = KindNRCA
	}
}

// decideTransmission decides on which carriers the UE transmits: by default on those
// that are said to be primary cells and else, in each technology, on the first that
// can be one; what a carrier says of its uplink goes before.
func (k *checker) decideTransmission() {
	for _, rat := range [...]bands.RAT{bands.LTE, bands.NR} {
		if i := k.firstUplink(rat); i >= 0 {
			k.Carriers[i].Transmits = true
		}
	}
	for i := range k.Carriers {
		p := &k.Carriers[i]
		if p.Info == nil || p.UplinkWidth == 0 {
			continue
		}
		if p.Role == PCell || p.Role == PSCell {
			p.Transmits = true
		}
		if p.Transmit != Open {
			p.Transmits = p.Transmit == Yes
		}
		k.checkUplinkWidth(i)
	}
}

// firstUplink returns the carrier of a technology that is the likeliest to be its
// primary cell, the first of equals; -1 if none has an uplink.
func (k *checker) firstUplink(rat bands.RAT) int {
	first, best := -1, uplinkNone
	for i := range k.Carriers {
		if p := &k.Carriers[i]; p.Band.RAT == rat {
			if f := p.uplinkFitness(); f > best {
				first, best = i, f
			}
		}
	}
	return first
}

// The fitness of an uplink to be that of the primary cell.
const (
	uplinkNone      = iota
	uplinkThere     // there is one
	uplinkPrimary   // the carrier can be a primary cell
	uplinkFree      // and is not said to be a secondary one
	uplinkAllowed   // and the band has the width in the uplink
	uplinkPreferred // and it is said to be a primary cell
)

func (p *Placed) uplinkFitness() int {
	switch {
	case p.Info == nil || p.UplinkWidth == 0:
		return uplinkNone
	case !p.canBePrimary():
		if !p.allowsUplink() {
			return uplinkNone
		}
		return uplinkThere
	case p.Role == SCell:
		return uplinkPrimary
	case p.Role != 0:
		return uplinkPreferred
	case !p.allowsUplink():
		return uplinkFree
	}
	return uplinkAllowed
}
