// Package cells says which carriers of a combination may belong together on the air,
// from what a phone shows of them: physical cell identity (PCI), channel and level.
// None of it is proof: identities are used again and again across a country, and a
// site has several cells.
package cells

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/render"
)

// Group is the carriers of one technology that show the same PCI.
type Group struct {
	RAT      bands.RAT
	PCI      uint16
	Carriers []int // places in the assessment
}

// Groups sorts the carriers by technology and PCI, and lists those without a PCI.
func Groups(a *ca.Assessment) (groups []Group, without []int) {
	for i := range a.Carriers {
		p := &a.Carriers[i]
		if !p.HasPCI {
			without = append(without, i)
			continue
		}
		at := slices.IndexFunc(groups, func(g Group) bool { return g.RAT == p.Band.RAT && g.PCI == p.PCI })
		if at < 0 {
			at, groups = len(groups), append(groups, Group{RAT: p.Band.RAT, PCI: p.PCI})
		}
		groups[at].Carriers = append(groups[at].Carriers, i)
	}
	slices.SortStableFunc(groups, func(x, y Group) int {
		return cmp.Or(cmp.Compare(x.RAT, y.RAT), cmp.Compare(x.PCI, y.PCI))
	})
	return groups, without
}

// Distinct is the number of groups of a technology.
func Distinct(groups []Group, rat bands.RAT) int {
	n := 0
	for i := range groups {
		if groups[i].RAT == rat {
			n++
		}
	}
	return n
}

// PCISource is the clause that numbers the physical cell identities of a technology.
// The clause numbers of this package are from memory.
func PCISource(rat bands.RAT) render.Source {
	if rat == bands.NR {
		return render.Source{Spec: "TS 38.211", Table: "clause 7.4.2.1"}
	}
	return render.Source{Spec: "TS 36.211", Table: "clause 6.11"}
}

// Statement says in one sentence what the group stands for, with its carriers named
// by band.
func (g *Group) Statement(a *ca.Assessment) string {
	name := g.RAT.String() + " PCI " + strconv.Itoa(int(g.PCI))
	if len(g.Carriers) == 1 {
		return name + ": one carrier (" + g.names(a) + "), so the identity says nothing about where the others come from."
	}
	return name + " on " + g.names(a) + ": consistent with one site, where the carriers of a sector often share an identity; no proof, since identities are used again elsewhere."
}

func (g *Group) names(a *ca.Assessment) string {
	names := make([]string, len(g.Carriers))
	for i, c := range g.Carriers {
		names[i] = a.Carriers[c].Band.String()
	}
	return strings.Join(names, ", ")
}

// Remarks says what the groups together do and don't tell.
func Remarks(groups []Group, without []int) []string {
	var list []string
	for _, rat := range [...]bands.RAT{bands.LTE, bands.NR} {
		if Distinct(groups, rat) > 1 {
			list = append(list, "Different PCI among the "+rat.String()+" carriers: different cells. They may still stand on one site, as other sectors or with an identity for each carrier.")
		}
	}
	if Distinct(groups, bands.LTE) > 0 && Distinct(groups, bands.NR) > 0 {
		list = append(list, "LTE and NR number their cells apart (0 to 503, 0 to 1007): identities of the two say nothing about each other.")
	}
	if n := len(without); n > 0 && len(groups) > 0 {
		verb := " carriers have no PCI and stand"
		if n == 1 {
			verb = " carrier has no PCI and stands"
		}
		list = append(list, strconv.Itoa(n)+verb+" in no group.")
	}
	return list
}
