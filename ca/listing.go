package ca

import (
	"slices"

	"spectally/bands"
)

// Rules about the lists of configurations, which [Assessment.Findings] has.
const (
	RuleListed       Rule = "configuration-listed"
	RuleBandwidthSet Rule = "bandwidth-set"
	RuleUplinkListed Rule = "uplink-listed"
	RuleUpperBound   Rule = "upper-bound" // the widths come from a name
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

// Source is the table that has the configuration, or one that brings it; zero if none
// does.
func (l *Listing) Source() bands.Source {
	switch {
	case len(l.Listed) > 0:
		return l.Listed[0].Source()
	case len(l.FallbackOf) > 0:
		return l.FallbackOf[0].Source()
	}
	return bands.Source{}
}

// Listings lists the configurations that the carriers can form with how each stands to
// the lists. Where NR carriers of several bands could also be in dual connectivity, or
// E-UTRA with NR have their master cell in NR, those names stand behind the others if
// they are listed. complete is false if the carriers can form names that were left out:
// never one that is listed, and a fallback only where a listed one holds.
func (a *Assessment) Listings() (list []Listing, complete bool) {
	found := a.asked()
	return found.listings, found.complete
}

// Decisive returns the configuration that decides, and the rule that it breaks: the
// first that the standard has with these widths, those that are listed themselves
// before fallbacks; else the first that it has with others, else the first that the
// carriers can form. Nil where there is none, and for a single carrier, which needs none;
// the rule is empty if the lists have nothing against the combination.
func (a *Assessment) Decisive() (l *Listing, broken Rule) {
	found := a.asked()
	return found.decisive, found.broken
}

// Holding lists the configurations that the standard has with these widths, those that
// are listed themselves first.
func (a *Assessment) Holding() []*Listing {
	list, _ := a.Listings()
	var listed, brought []*Listing
	for i := range list {
		switch l := &list[i]; {
		case l.Alone || !l.Holds():
		case len(l.Listed) > 0:
			listed = append(listed, l)
		default:
			brought = append(brought, l)
		}
	}
	return append(listed, brought...)
}

// asked is what the lists say; they are asked once.
func (a *Assessment) asked() *lists {
	if found := a.lists.Load(); found != nil {
		return found
	}
	a.lists.CompareAndSwap(nil, a.judge(a.lookUp()))
	return a.lists.Load()
}

// lookUp asks the lists for every configuration that the carriers can form.
func (a *Assessment) lookUp() (list []Listing, complete bool) {
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
