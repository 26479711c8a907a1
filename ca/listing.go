package ca

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
)

// Rules about the lists of configurations, which [Assessment.Judge] applies.
const (
	RuleListed       Rule = "configuration-listed"
	RuleBandwidthSet Rule = "bandwidth-set"
	RuleUplinkListed Rule = "uplink-listed"
)

// Listing is how a configuration that carriers can form stands to the lists.
type Listing struct {
	Status
	// Admission is about the widths of the carriers: of the way in which they fall on
	// the name that is admitted, else of the first.
	Admission Admission
	// Sets are the bandwidth combination sets that admit the widths in any way.
	Sets []int
}

// Holds tells whether the standard has the configuration with these widths.
func (l *Listing) Holds() bool { return l.Supported() && l.Admission.Admitted() }

// BandwidthSets are the sets that admit the widths: those of the configuration, or, for
// E-UTRA with NR, those of its only part that has any.
func (l *Listing) BandwidthSets() []int {
	if len(l.Sets) > 0 {
		return l.Sets
	}
	var sets []int
	parts := 0
	for i := range l.Admission.Members {
		if m := &l.Admission.Members[i]; !m.Alone {
			parts++
			sets = m.Sets
		}
	}
	if parts != 1 {
		return nil
	}
	return sets
}

// manyForms is how many names are looked up one by one. Where carriers without a
// place can form more, names that are not listed themselves are left out if one that
// is holds.
const manyForms = 12

// Listings looks up every configuration that the carriers can form. Where NR
// carriers of several bands could also be in dual connectivity, or E-UTRA with NR
// have their master cell in NR, those names stand behind the others if they are
// listed. complete is false if the carriers can form names that were left out: never
// one that is listed, and a fallback only where a listed one holds.
func (a *Assessment) Listings() (list []Listing, complete bool) {
	layouts, complete := a.layouts()
	if !complete {
		return a.seek(layouts), false
	}
	forms := a.formsOf(layouts)
	duals := a.duals(forms)
	if len(forms) > manyForms {
		if short := listingsOf(slices.DeleteFunc(slices.Clone(forms), unlisted)); slices.ContainsFunc(short, holds) {
			list, complete = short, len(short) == len(forms)
		}
	}
	if list == nil {
		list = listingsOf(forms)
	}
	return append(list, listingsOf(slices.DeleteFunc(duals, unlisted))...), complete
}

func holds(l Listing) bool { return l.Holds() }

func unlisted(f Form) bool {
	_, ok := Find(f.Name)
	return !ok
}

// seek looks up the configurations of carriers that can form more names than are
// formed: those that are listed, and if none of these holds those to which one falls
// back, until one holds. Where there is neither, it returns some of the names.
func (a *Assessment) seek(layouts [][][]layoutBlock) []Listing {
	s := a.seeker()
	list := listingsOf(s.listed(a.Kind))
	duals := listingsOf(s.listed(otherDual[a.Kind]))
	if !slices.ContainsFunc(list, holds) && !slices.ContainsFunc(duals, holds) {
		s.brought(func(f Form) bool {
			if !slices.ContainsFunc(list, func(l Listing) bool { return l.Name == f.Name }) {
				list = append(list, listingOf(f))
			}
			return !list[len(list)-1].Holds()
		})
	}
	if list = append(list, duals...); len(list) == 0 {
		list = listingsOf(a.formsOf(layouts[:min(len(layouts), manyForms)]))
	}
	return list
}

// otherDual is the other kind of dual connectivity in which carriers can be.
var otherDual = map[Kind]Kind{KindNRCA: KindNRDC, KindENDC: KindNEDC, KindNEDC: KindENDC}

// duals gives forms the names that they have in the other kind of dual connectivity.
func (a *Assessment) duals(forms []Form) []Form {
	other := otherDual[a.Kind]
	if other == 0 {
		return nil
	}
	var list []Form
	for _, f := range forms {
		p := f.Name.Parts()
		p.Kind = other
		if n, err := NewName(p); err == nil {
			list = append(list, Form{Name: n, Ways: f.Ways})
		}
	}
	return list
}

func listingsOf(forms []Form) []Listing {
	var list []Listing
	for _, f := range forms {
		list = append(list, listingOf(f))
	}
	return list
}

func listingOf(f Form) Listing {
	l := Listing{Status: StatusOf(f.Name)}
	admitted := false
	for i, w := range f.Ways {
		a, err := Admit(f.Name, w)
		if err != nil {
			continue // the ways are made to the measure of the name
		}
		if i == 0 || a.Admitted() && !admitted {
			l.Admission = a
		}
		admitted = admitted || a.Admitted()
		for _, n := range a.Sets {
			if !slices.Contains(l.Sets, n) {
				l.Sets = append(l.Sets, n)
			}
		}
	}
	slices.Sort(l.Sets)
	return l
}

// Judge says what the lists mean for the combination: an error if none of the
// configurations that the carriers can form is listed, directly or as a fallback,
// or none that is admits their widths. A single carrier needs no list.
func (a *Assessment) Judge(list []Listing) []Finding {
	k := checker{Assessment: Assessment{Carriers: a.Carriers, Kind: a.Kind, Groups: a.Groups}}
	if len(list) == 0 || list[0].Alone {
		return nil
	}
	best := slices.IndexFunc(list, func(l Listing) bool { return l.Holds() && len(l.Listed) > 0 })
	if best < 0 {
		best = slices.IndexFunc(list, func(l Listing) bool { return l.Holds() })
	}
	if best < 0 {
		k.refuse(list)
		return k.Findings
	}
	l := &list[best]
	if len(l.Listed) == 0 && len(l.FallbackOf) > 0 {
		c := l.FallbackOf[0]
		k.say(Note, RuleListed, -1, c.Source(), l.Name.String()+" is not listed itself; it is a fallback of "+c.Name().String()+", which brings it.")
	}
	for _, limit := range l.Admission.Limits {
		k.say(Note, RuleBandwidthSet, -1, l.Admission.Source, "In set "+strconv.Itoa(limit.BCS)+" of "+l.Name.String()+" the width "+limit.Width.String()+": "+limit.Limit.String()+".")
	}
	k.checkUplink(l)
	return k.Findings
}

// refuse says why no configuration holds.
func (k *checker) refuse(list []Listing) {
	supported := slices.IndexFunc(list, func(l Listing) bool { return l.Supported() })
	if supported >= 0 {
		l := &list[supported]
		k.say(Error, RuleBandwidthSet, -1, l.Admission.refusalSource(), "No bandwidth combination set of "+l.Name.String()+" admits these widths: "+l.Admission.RefusalText()+".")
		return
	}
	names := make([]string, 0, 3)
	for i := range list {
		if i == 3 {
			names = append(names, "…")
			break
		}
		names = append(names, list[i].Name.String())
	}
	text := strings.Join(names, ", ") + " is not listed, nor a fallback of a listed configuration"
	if len(names) > 1 {
		text = "None of " + strings.Join(names, ", ") + " is listed, nor a fallback of a listed configuration"
	}
	var source bands.Source
	if near := NearestTo(list[0].Name); len(near) > 0 {
		text += "; the nearest, " + near[0].Configuration.Name().String() + ", " + near[0].Why()
		source = near[0].Configuration.Source()
	}
	k.say(Error, RuleListed, -1, source, text+".")
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
func (k *checker) checkUplink(l *Listing) {
	if len(l.Listed) == 0 {
		return
	}
	p := Parts{}
	if k.Kind == KindENDC || k.Kind == KindNEDC || l.Name.Kind() == KindNRDC {
		p.Kind = l.Name.Kind()
	}
	count := 0
	for i := range k.Carriers {
		c := &k.Carriers[i]
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
			k.say(Note, RuleUplinkListed, -1, c.Source(), "The uplink is listed as "+shared.String()+" alone: the UE sends by E-UTRA and by NR in turn.")
			return
		}
	}
	c := l.Listed[0]
	n = names[len(names)-1]
	if u := c.Uplinks(); len(u) == 1 && u[0].Text == "N/A" {
		k.say(Warning, RuleUplinkListed, -1, c.Source(), "The table names no uplink for "+l.Name.String()+" by itself: it is listed as a part of larger configurations.")
		return
	}
	k.say(Warning, RuleUplinkListed, -1, c.Source(), "The uplink "+n.String()+" is not among those listed with "+l.Name.String()+": "+uplinkTexts(c)+".")
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

// Expand gives the carriers of a name the widest channel bandwidths that the
// standard lists for them: an upper bound on what the configuration can be. It is
// false if the standard does not have the name. A supplementary uplink has its
// uplink alone; a width that the band has in the downlink alone comes with the
// widest uplink that may be paired with it, if there is one.
func Expand(n Name) (Combination, bool) {
	widest, ok := Widest(n)
	if !ok {
		return nil, false
	}
	var c Combination
	for i, component := range n.Components() {
		for _, block := range widest.Components[i] {
			for _, w := range block.Carriers {
				c = append(c, Carrier{Band: component.Band, Downlink: w, Uplink: widestUplink(component.Band, w)})
			}
		}
	}
	return c, true
}

// widestUplink is the widest uplink that goes with a width: the width itself if the
// band has it in the uplink.
func widestUplink(id bands.ID, width bands.Frequency) bands.Frequency {
	b, err := bands.Lookup(id)
	if err != nil || !b.Has(bands.Uplink) || b.HasWidth(bands.Uplink, width) {
		return width
	}
	var widest bands.Frequency
	for _, pair := range b.WidthPairs() {
		if pair.Downlink == width {
			widest = max(widest, pair.Uplink)
		}
	}
	return widest
}
