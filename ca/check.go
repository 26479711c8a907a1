package ca

import (
	"errors"

	"spectally/bands"
)

// Assessment is what [Check] finds out about a combination.
type Assessment struct {
	Carriers []Placed
	// Kind is what the carriers form together: one carrier, carrier aggregation
	// of one technology, or E-UTRA with NR.
	Kind     Kind
	Findings []Finding
	// Groups holds the carriers of each band with what is known of their
	// contiguity, in order of band.
	Groups []Group
}

// Valid tells whether no finding is an error.
func (a *Assessment) Valid() bool {
	for i := range a.Findings {
		if a.Findings[i].Severity == Error {
			return false
		}
	}
	return true
}

// FirstError returns the first finding that is an error; false if there is none.
func (a *Assessment) FirstError() (Finding, bool) {
	for _, f := range a.Findings {
		if f.Severity == Error {
			return f, true
		}
	}
	return Finding{}, false
}

// Check applies the rules of the standard to a combination, one carrier at least.
// It looks at the carriers and how they lie to each other; whether a
// configuration is listed is a question of its own.
func Check(c Combination) *Assessment {
	k := &checker{Assessment{Carriers: make([]Placed, len(c))}}
	for i := range c {
		k.Carriers[i].Carrier = c[i]
		k.place(i)
	}
	k.decideKind()
	k.decideTransmission()
	k.checkPairs()
	k.checkRoles()
	k.checkCounts()
	k.group()
	k.checkOverlap()
	k.checkGroups()
	return &k.Assessment
}

// checker gathers findings while an assessment grows.
type checker struct{ Assessment }

// report adds a finding about carrier i, counted from 0; -1 is the whole
// combination.
func (k *checker) report(s Severity, rule Rule, i int, err error) {
	f := Finding{Severity: s, Rule: rule, Carrier: i + 1, Message: err.Error()}
	var v *bands.ValueError
	if errors.As(err, &v) {
		f.Source = v.Source
	}
	k.Findings = append(k.Findings, f)
}

// say adds a finding in words of its own.
func (k *checker) say(s Severity, rule Rule, i int, source bands.Source, message string) {
	k.Findings = append(k.Findings, Finding{s, rule, i + 1, message, source})
}

// decideKind names what the carriers form.
func (k *checker) decideKind() {
	var lte, nr, sul int
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
	}
	switch {
	case lte > 0 && nr+sul > 0:
		k.Kind = KindENDC
	case lte == 1:
		k.Kind = KindLTE
	case lte > 0:
		k.Kind = KindLTECA
	case sul > 0:
		k.Kind = KindSUL
	case nr == 1:
		k.Kind = KindNR
	default:
		k.Kind = KindNRCA
	}
}

// decideTransmission decides on which carriers the UE transmits: by default on the
// first carrier of each technology that can be a primary cell, or the first with an
// uplink if none can; what a carrier says of itself goes before.
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
		if p.Transmit != Open {
			p.Transmits = p.Transmit == Yes
		}
		k.checkUplinkWidth(i)
	}
}

func (k *checker) firstUplink(rat bands.RAT) int {
	first := -1
	for i := range k.Carriers {
		p := &k.Carriers[i]
		if p.Band.RAT != rat || p.Info == nil || p.UplinkWidth == 0 {
			continue
		}
		if p.canBePrimary() {
			return i
		}
		if first < 0 {
			first = i
		}
	}
	return first
}
