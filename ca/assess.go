package ca

import (
	"slices"
	"sync/atomic"

	"spectally/bands"
)

// Assessment is the answer about a combination: what its carriers are, whether the
// rules of the standard hold for them, which configurations they can form, and whether
// one of those is listed. [Assess], [AssessName] and [AssessText] make it. The zero
// Assessment is that of no carriers at all: it is not valid and adds up to nothing.
//
// The lists of configurations are read when something is asked of them for the first
// time; an assessment may be used by several goroutines. What it returns is shared and
// must not be changed.
type Assessment struct {
	// Name is the name that was assessed; zero where carriers were.
	Name     Name
	Carriers []Placed
	// Kind is what the carriers form together: one carrier, carrier aggregation
	// of one technology, or E-UTRA with NR.
	Kind Kind
	// Groups holds the carriers of each band with what is known of their
	// contiguity, in order of band.
	Groups []Group

	rules []Finding // what the rules find
	ways  []Widths  // of Name, if there is one
	lists atomic.Pointer[lists]
}

// Assess answers for carriers.
func Assess(c Combination) *Assessment { return &check(c).Assessment }

// AssessName answers for a name of the standard: for the widest carriers that are
// listed for it, an upper bound. The name says how they lie to each other, and a
// configuration that the standard has is not refused for what its carriers lack by
// themselves.
func AssessName(n Name) *Assessment {
	c, _ := Expand(n)
	return assessAs(n, c)
}

// AssessText answers for carriers in the notation that [Parse] reads, or for a name of
// the standard as [ParseName] reads it. The error is that of the one or the other.
func AssessText(s string) (*Assessment, error) {
	n, isName, err := ReadName(s)
	switch {
	case err != nil:
		return nil, err
	case isName:
		return AssessName(n), nil
	}
	c, err := Parse(s)
	if err != nil {
		return nil, err
	}
	return Assess(c), nil
}

// Reassess answers for the same carriers where more is known of them than their bands
// and widths: c is [Assessment.Combination] with such fields filled in.
func (a *Assessment) Reassess(c Combination) *Assessment {
	if a.Name.IsZero() {
		return Assess(c)
	}
	return assessAs(a.Name, c)
}

// CheckRules applies the rules of the standard on carriers and on how they lie to each
// other, and leaves the lists of configurations aside: that nothing is found does not
// mean that the carriers may be aggregated. [Assess] tells that.
func CheckRules(c Combination) []Finding { return check(c).rules }

// RuleFindings is what [CheckRules] finds, softened for a name that the standard has.
func (a *Assessment) RuleFindings() []Finding { return a.rules }

// assessAs answers for a name with its carriers; none if their widths are not known.
func assessAs(n Name, c Combination) *Assessment {
	if n.IsZero() {
		return Assess(c)
	}
	a := &Assessment{}
	if len(c) > 0 {
		a = Assess(c)
	}
	a.Name, a.Kind = n, n.Kind()
	if w, ok := Widest(n); ok {
		a.ways = []Widths{w}
	}
	l := listingOf(Form{n, a.ways})
	found := a.rules
	a.rules = make([]Finding, 0, len(found)+1)
	for _, f := range found {
		if f.Rule == RuleContiguity {
			continue
		}
		if f.Severity == Error && l.Supported() {
			f.Severity = Warning
		}
		a.rules = append(a.rules, f)
	}
	for _, k := range n.Components() {
		if _, err := bands.Lookup(k.Band); err != nil {
			a.rules = append(a.rules, findingOf(Error, RuleBandExists, 0, err))
		}
	}
	a.lists.Store(a.judge([]Listing{l}, true))
	return a
}

// Combination returns the carriers as they were given.
func (a *Assessment) Combination() Combination {
	c := make(Combination, len(a.Carriers))
	for i := range c {
		c[i] = a.Carriers[i].Carrier
	}
	return c
}

// Width is the sum of the channel bandwidths in a direction: in the downlink what
// "aggregated bandwidth" usually means, in the uplink of the carriers on which the UE
// transmits. [Assessment.Totals] has the other meanings.
func (a *Assessment) Width(d bands.Direction) bands.Frequency {
	var sum bands.Frequency
	for i := range a.Carriers {
		if p := &a.Carriers[i]; d == bands.Downlink || p.Transmits {
			sum += p.Width(d)
		}
	}
	return sum
}

// Valid tells whether the standard allows the combination: every rule holds, and one of
// the configurations that the carriers can form is listed, or a fallback of one that
// is, and admits their widths. A single carrier needs no configuration.
func (a *Assessment) Valid() bool {
	return !slices.ContainsFunc(a.rules, isError) && a.asked().broken == ""
}

// FirstError returns the first finding that is an error; false if there is none. The
// lists are not asked where a rule is broken.
func (a *Assessment) FirstError() (Finding, bool) {
	for _, list := range [...]func() []Finding{a.RuleFindings, a.Findings} {
		if found := list(); slices.ContainsFunc(found, isError) {
			return found[slices.IndexFunc(found, isError)], true
		}
	}
	return Finding{}, false
}

func isError(f Finding) bool { return f.Severity == Error }
