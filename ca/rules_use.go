package ca

import (
	"slices"
	"strings"
	"sync/atomic"

	"spectally/bands"
)

// checkUse looks at what the band is for at all.
func (k *checker) checkUse(i int) {
	for _, f := range usesOf(k.Carriers[i].Info) {
		f.Carrier = i + 1
		k.rules = append(k.rules, f)
	}
}

// IsServed tells whether networks serve UEs on carriers of a band: it is applicable,
// and not for broadcast, sidelink or NB-IoT alone.
func IsServed(b *bands.Band) bool {
	return !slices.ContainsFunc(usesOf(b), func(f Finding) bool { return f.Severity != Note })
}

// knownUses keeps what usesOf found.
var knownUses [2 * bandSlots]atomic.Pointer[[]Finding]

// usesOf gathers what there is to say of the use of a band, whatever the carrier;
// nothing for most bands.
func usesOf(b *bands.Band) []Finding {
	known := &knownUses[bandSlot(b.ID)]
	if uses := known.Load(); uses != nil {
		return *uses
	}
	uses := bandUses(b)
	known.Store(&uses)
	return uses
}

func bandUses(b *bands.Band) (list []Finding) {
	say := func(s Severity, rule Rule, message string) {
		list = append(list, Finding{Severity: s, Rule: rule, Message: b.ID.String() + " is " + message, Source: b.Source})
	}
	has := func(note string) bool { return strings.Contains(b.Note, note) }
	switch {
	case has("not applicable"):
		say(Warning, RuleBandUse, "not applicable in this version of the standard.")
	case has("V2X sidelink"):
		say(Warning, RuleBandUse, "for V2X sidelink alone; networks do not serve UEs on it.")
	case b.Duplex == bands.SDO:
		say(Warning, RuleBandUse, "for standalone downlink broadcast; it carries no unicast traffic.")
	case has("NB-IoT"):
		say(Warning, RuleBandUse, "for standalone NB-IoT alone; it has no LTE channel bandwidths.")
	case b.IsShared() || has("unlicensed operation"): // the latter is n263
		say(Note, RuleSharedSpectrum, "for shared-spectrum channel access (TS 37.213): national rules decide on use and power.")
	}
	for part := range strings.SplitSeq(b.Note, "; ") {
		if isRegional(part) {
			say(Note, RuleRegionalLimit, "limited by its band note: "+part+".")
		}
	}
	return list
}

// isRegional tells whether a part of a band note binds the band to countries or to
// the absence of others.
func isRegional(note string) bool {
	return slices.ContainsFunc([]string{"only where", "China only", "countries under", "USA earth stations"}, func(s string) bool {
		return strings.Contains(note, s)
	})
}
