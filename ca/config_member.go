package ca

import (
	"slices"
	"strings"

	"spectally/bands"
)

// Member is a part of a dual-connectivity configuration that is checked on its
// own: the carriers of one technology, or the part of both within one band.
type Member struct {
	Name Name
	// Configuration is the listed configuration of that name, valid if Listed. A
	// single carrier is no configuration: its band alone decides.
	Configuration Configuration
	Listed        bool

	components []Component // of Name
}

// Members returns the parts of an EN-DC or NE-DC configuration whose sets hold
// for it: the E-UTRA part, the NR part (their sets are those of the E-UTRA and NR
// CA configurations, TS 38.101-3 clause 5.3B.1.1), and for every band that both
// have the part within that band. All other configurations have none.
func (c Configuration) Members() []Member {
	n := c.Name()
	return membersOf(n.kind, n.Parts())
}

func membersOf(k Kind, p Parts) []Member {
	if k != KindENDC && k != KindNEDC {
		return nil
	}
	members := []Member{memberOf(Parts{LTE: p.LTE}), memberOf(Parts{NR: p.NR})}
	if len(p.LTE) == 1 && len(p.NR) == 1 && p.LTE[0].Band.Number == p.NR[0].Band.Number {
		members = members[:0] // in one band: the sets of the whole say it all
	}
	for _, k := range p.LTE {
		if inner, ok := withinBand(p, k.Band.Number); ok {
			members = append(members, memberOf(inner))
		}
	}
	return members
}

func memberOf(p Parts) Member {
	p.LTE, p.NR = slices.Clone(p.LTE), slices.Clone(p.NR)
	for i := range p.NR {
		p.NR[i].Shared = false // how uplinks take turns does not matter to widths
	}
	p.normalise()
	if err := p.check(); err != nil {
		panic("ca: member of a name: " + err.Error()) // parts of a name make a name
	}
	n := Name{p.render(), p.Kind}
	m := Member{Name: n, components: append(slices.Clip(p.LTE), p.NR...)}
	m.Configuration, m.Listed = Find(n)
	return m
}

// withinBand returns the parts of EN-DC and NE-DC within one band; false if not
// both technologies have it.
func withinBand(p Parts, number uint16) (Parts, bool) {
	inner := Parts{Kind: p.Kind}
	for _, k := range p.LTE {
		if k.Band.Number == number {
			inner.LTE = append(inner.LTE, k)
		}
	}
	for _, k := range p.NR {
		// A supplementary uplink is in the cell of a downlink of another band.
		if k.Band.Number == number && k.Cell == (bands.ID{}) {
			inner.NR = append(inner.NR, k)
		}
	}
	if p.Joined.Band == number {
		inner.Joined = p.Joined
	}
	return inner, len(inner.LTE) > 0 && len(inner.NR) > 0
}

// memberText returns the name of the carriers of one technology in a canonical
// name of EN-DC or NE-DC without joined carriers, as a name of its own: the
// quick way to what Members returns. It is empty where there is none.
func memberText(name string, rat bands.RAT) string {
	t := strings.TrimPrefix(name, "DC_")
	cut := strings.IndexByte(t, '_')
	if cut < 0 || strings.Contains(t, "(n)") {
		return ""
	}
	first, second := t[:cut], t[cut+1:]
	if (first[0] == 'n') != (rat == bands.NR) {
		first = second
	}
	if rest, ok := strings.CutPrefix(first, "SUL_"); ok {
		first = rest
	}
	return first
}
