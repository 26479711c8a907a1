package ca

import (
	"errors"

	"spectally/bands"
)

// Severity says how much a finding weighs.
type Severity uint8

// The severities. A combination with an Error is not allowed by the standard.
const (
	Note Severity = iota + 1
	Warning
	Error
)

// String names the severity: "note", "warning", "error".
func (s Severity) String() string {
	switch s {
	case Note:
		return "note"
	case Warning:
		return "warning"
	case Error:
		return "error"
	}
	return "none"
}

// Finding is what a rule has to say of a combination.
type Finding struct {
	Severity Severity
	Rule     Rule
	// Carrier counts from 1; 0 stands for the combination as a whole.
	Carrier int
	Message string // one sentence
	Source  bands.Source
}

// Error writes the finding on one line, with the source at its end, for those who refuse what it finds fault with.
func (f Finding) Error() string {
	if f.Source != (bands.Source{}) {
		return f.Message + " (" + f.Source.Short() + ")"
	}
	return f.Message
}

// findingOf is a finding in the words of an error, whose source it has apart.
func findingOf(s Severity, rule Rule, carrier int, err error) Finding {
	f := Finding{Severity: s, Rule: rule, Carrier: carrier, Message: err.Error()}
	if v, ok := errors.AsType[*bands.ValueError](err); ok {
		f.Message, f.Source = v.Text(), v.Source
	}
	return f
}

// Rule is the stable name of a rule, in kebab case.
type Rule string

// The rules that [CheckRules] applies.
const (
	RuleBandExists       Rule = "band-exists"
	RuleBandUse          Rule = "band-use"
	RuleDirection        Rule = "direction"
	RuleWidthAllowed     Rule = "width-allowed"
	RuleSpacingAllowed   Rule = "scs-allowed"
	RuleOptionalWidth    Rule = "optional-width"
	RuleWidthPair        Rule = "width-pair"
	RuleSCellOnly        Rule = "scell-only"
	RuleSupplementary    Rule = "supplementary-alone"
	RulePrimaryCell      Rule = "primary-cell"
	RuleRole             Rule = "role"
	RuleUplink           Rule = "uplink"
	RuleChannelNumber    Rule = "channel-number"
	RuleInBand           Rule = "in-band"
	RuleUnpaired         Rule = "unpaired"
	RuleOnRaster         Rule = "on-raster"
	RuleBlock            Rule = "ssb"
	RulePlaceOfWidth     Rule = "place-of-width"
	RuleRegionalLimit    Rule = "regional-limit"
	RuleSharedSpectrum   Rule = "shared-spectrum"
	RuleOverlap          Rule = "overlap"
	RuleExceedsBand      Rule = "exceeds-band"
	RuleCarrierSpacing   Rule = "carrier-spacing"
	RuleContiguity       Rule = "contiguity-unknown"
	RuleBandwidthClass   Rule = "bandwidth-class"
	RuleCarrierCount     Rule = "carrier-count"
	RuleDualConnectivity Rule = "en-dc-anchor"
	RuleSULPairing       Rule = "sul-pairing"
	RuleSeparation       Rule = "frequency-separation"
)

// Rules lists every rule that [CheckRules] applies, in the order in which it does.
func Rules() []Rule {
	return []Rule{
		RuleBandExists, RuleBandUse, RuleDirection, RuleSpacingAllowed, RuleWidthAllowed, RuleOptionalWidth,
		RuleWidthPair, RuleSCellOnly, RuleChannelNumber, RuleInBand, RuleUnpaired, RuleOnRaster, RuleBlock,
		RulePlaceOfWidth, RuleRegionalLimit, RuleSharedSpectrum, RuleSupplementary, RulePrimaryCell, RuleRole, RuleUplink, RuleDualConnectivity,
		RuleSULPairing, RuleCarrierCount, RuleOverlap, RuleExceedsBand, RuleCarrierSpacing, RuleContiguity,
		RuleBandwidthClass, RuleSeparation,
	}
}

// mhz writes a width or a place in the spectrum in megahertz, as the trade does
// even above 1000 of them.
func mhz(f bands.Frequency) string { return f.MHz() + " MHz" }
