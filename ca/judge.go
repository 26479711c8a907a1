package ca

import (
	"slices"
	"strconv"
	"strings"
	"sync/atomic"

	"spectally/bands"
)

// lists is what the lists of configurations say of a combination.
type lists struct {
	listings []Listing
	complete bool
	decisive *Listing // nil if none decides
	broken   Rule     // of the lists, or that there are no carriers
	findings atomic.Pointer[[]Finding]
}

// judgement puts what the lists mean into words.
type judgement struct {
	*Assessment
	*lists
	found []Finding
}

func (j *judgement) say(s Severity, rule Rule, source bands.Source, message string) {
	j.found = append(j.found, Finding{s, rule, 0, message, source})
}

// Findings lists what the rules and the lists find, the rules first: an error of the
// lists if none of the configurations that the carriers can form is listed, directly or
// as a fallback, or none that is admits their widths.
func (a *Assessment) Findings() []Finding {
	l := a.asked()
	if found := l.findings.Load(); found != nil {
		return *found
	}
	j := &judgement{a, l, slices.Clip(a.rules)}
	switch {
	case j.broken == RuleCarrierCount:
		j.say(Error, RuleCarrierCount, bands.Source{}, "There are no carriers.")
	case j.broken == RuleListed && j.decisive == nil && slices.ContainsFunc(j.rules, isError): // which says why
	case j.broken == RuleListed && j.decisive == nil:
		j.say(Error, RuleListed, bands.Source{}, "These carriers form no configuration with a name, so none that is listed.")
	case j.decisive == nil:
	case j.broken == RuleListed:
		j.refuse()
	case j.broken == RuleBandwidthSet:
		j.refuseWidths(j.decisive)
	default:
		j.hold(j.decisive)
	}
	if !j.Name.IsZero() {
		j.sayBound(&j.listings[0])
	}
	l.findings.CompareAndSwap(nil, &j.found)
	return *l.findings.Load()
}

// judge finds the listing that decides, and the rule that it breaks.
func (a *Assessment) judge(list []Listing, complete bool) *lists {
	l := &lists{listings: list, complete: complete}
	l.decisive, l.broken = a.decide(list)
	return l
}

func (a *Assessment) decide(list []Listing) (decisive *Listing, broken Rule) {
	switch {
	case len(a.Carriers) == 0 && a.Name.IsZero():
		return nil, RuleCarrierCount
	case len(list) == 0 && len(a.Carriers) > 1:
		return nil, RuleListed // several carriers form nothing that could be listed
	case len(list) == 0 || list[0].Alone:
		return nil, ""
	}
	for _, step := range [...]struct {
		decides func(*Listing) bool
		broken  Rule
	}{
		{func(l *Listing) bool { return l.Holds() && len(l.Listed) > 0 }, ""},
		{(*Listing).Holds, ""},
		{func(l *Listing) bool { return l.Supported() }, RuleBandwidthSet},
		{func(*Listing) bool { return true }, RuleListed},
	} {
		for i := range list {
			if step.decides(&list[i]) {
				return &list[i], step.broken
			}
		}
	}
	return nil, "" // not reached: the last step takes any
}

// sayBound says of a name that its widths are an upper bound, or not known.
func (j *judgement) sayBound(l *Listing) {
	switch {
	case len(j.Carriers) > 0:
		j.say(Note, RuleUpperBound, l.Source(), "The widths are the widest that the standard lists for "+j.Name.String()+", an upper bound: a network and a UE may have less.")
	case l.Supported():
		j.say(Warning, RuleBandwidthSet, l.Source(), "The widths of "+j.Name.String()+" are not certain in the tables, so there is nothing to add up.")
	}
}

// hold says what there is to know of a configuration that the standard has.
func (j *judgement) hold(l *Listing) {
	if len(l.Listed) == 0 && len(l.FallbackOf) > 0 {
		c := l.FallbackOf[0]
		j.say(Note, RuleListed, c.Source(), l.Name.String()+" is not listed itself; it is a fallback of "+c.Name().String()+".")
	}
	for _, limit := range l.Admission.Limits {
		j.say(Note, RuleBandwidthSet, l.Admission.Source, "In set "+strconv.Itoa(limit.BCS)+" of "+l.Name.String()+" the width "+limit.Width.String()+": "+limit.Limit.String()+".")
	}
	j.checkUplink(l)
}

// refuseWidths says why no set of a configuration admits the widths, unless it is that
// the band does not have them.
func (j *judgement) refuseWidths(l *Listing) {
	if !slices.ContainsFunc(j.rules, func(f Finding) bool { return f.Rule == RuleWidthAllowed && f.Severity == Error }) {
		j.say(Error, RuleBandwidthSet, l.Admission.refusalSource(), l.Name.String()+" is listed, but not with these widths: "+l.Admission.RefusalText()+".")
	}
}

// refuse says that no configuration is listed.
func (j *judgement) refuse() {
	names := make([]string, 0, 3)
	for i := range j.listings {
		if i == 3 {
			names = append(names, "…")
			break
		}
		names = append(names, j.listings[i].Name.String())
	}
	text := "Not listed, not even as a fallback: " + strings.Join(names, ", ")
	if len(names) < 4 {
		text += "."
	}
	var source bands.Source
	if near := NearestTo(j.listings[0].Name); len(near) > 0 {
		text += " Closest: " + near[0].Configuration.Name().String() + ", " + near[0].Why() + "."
		source = near[0].Configuration.Source()
	}
	j.say(Error, RuleListed, source, text)
}

// refusalSource is the table of the part that refuses.
func (a *Admission) refusalSource() bands.Source {
	for i := range a.Members {
		if !a.Members[i].Admitted() {
			return a.Members[i].refusalSource()
		}
	}
	return a.Source
}

// checkUplink compares the carriers on which the UE transmits with the uplinks of
// the configuration.
func (j *judgement) checkUplink(l *Listing) {
	if len(l.Listed) == 0 {
		return
	}
	p := Parts{}
	if j.Kind == KindENDC || j.Kind == KindNEDC || l.Name.Kind() == KindNRDC {
		p.Kind = l.Name.Kind()
	}
	count := 0
	for i := range j.Carriers {
		c := &j.Carriers[i]
		if !c.Transmits {
			continue
		}
		count++
		component := Component{Band: c.Band, Blocks: []Class{"A"}}
		if c.Band.RAT == bands.LTE {
			p.LTE = append(p.LTE, component)
		} else {
			p.NR = append(p.NR, component)
		}
	}
	if count < 2 || repeats(p.LTE) || repeats(p.NR) {
		return // one carrier may transmit alone; several in one band are a matter of their classes
	}
	n, err := NewName(p)
	if err != nil {
		return
	}
	names := []Name{n}
	if joined := l.Name.Parts().Joined; joined.Band != 0 {
		p.Joined = Joined{joined.Band, "A", "A"} // if both transmit in it: else it makes no name
		if m, err := NewName(p); err == nil {
			names = append(names, m)
		}
	}
	allows := func(n Name) (Configuration, bool) {
		for _, c := range l.Listed {
			if _, ok := c.AllowsUplink(n); ok {
				return c, true
			}
		}
		return Configuration{}, false
	}
	for _, n := range names {
		if _, ok := allows(n); ok {
			return
		}
	}
	if shared, ok := sharedUplink(p); ok {
		if c, ok := allows(shared); ok {
			j.say(Note, RuleUplinkListed, c.Source(), "The uplink is listed as "+shared.String()+" alone: the UE transmits LTE and NR in turn.")
			return
		}
	}
	c := l.Listed[0]
	n = names[len(names)-1]
	if u := c.Uplinks(); len(u) == 1 && u[0].Text == "N/A" {
		j.say(Warning, RuleUplinkListed, c.Source(), "The table names no uplink for "+l.Name.String()+" by itself: it is listed as a part of larger configurations.")
		return
	}
	j.say(Warning, RuleUplinkListed, c.Source(), "The uplink "+n.String()+" is not among those listed with "+l.Name.String()+": "+uplinkTexts(c)+".")
}

// sharedUplink is the uplink in which E-UTRA and its only NR carrier share their time.
func sharedUplink(p Parts) (Name, bool) {
	if len(p.LTE) == 0 || len(p.NR) != 1 {
		return Name{}, false
	}
	p.Joined, p.NR = Joined{}, []Component{p.NR[0]}
	p.NR[0].Shared = true
	n, err := NewName(p)
	return n, err == nil
}

func repeats(list []Component) bool {
	for i := range list {
		if slices.ContainsFunc(list[:i], func(c Component) bool { return c.Band == list[i].Band }) {
			return true
		}
	}
	return false
}

// uplinkTexts lists the uplinks of a configuration, the first of many.
func uplinkTexts(c Configuration) string {
	var words []string
	for _, u := range c.Uplinks() {
		if len(words) == 8 {
			words = append(words, "…")
			break
		}
		word := u.Text
		if word == "*" {
			word = "any single carrier"
		}
		words = append(words, word)
	}
	if len(words) == 0 {
		return "none is"
	}
	return strings.Join(words, ", ")
}
