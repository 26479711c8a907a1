package ca

import (
	"cmp"
	"slices"
	"strings"

	"spectally/bands"
	"spectally/ca/interference"
)

// Emissions describes the carriers for package interference, each at its place in the list:
// what the UE receives, and what it transmits where it does. A carrier of an unknown band
// is none.
func (a *Assessment) Emissions() []interference.Carrier {
	list := make([]interference.Carrier, len(a.Carriers))
	for i := range a.Carriers {
		p := &a.Carriers[i]
		list[i] = p.emission(p.Transmits)
	}
	return list
}

// EmissionsWith describes the carriers as [Assessment.Emissions] does, while the UE
// transmits in the bands given: on the first carriers of each, as many as it stands there.
func (a *Assessment) EmissionsWith(uplinks []bands.ID) []interference.Carrier {
	uplinks = slices.Clone(uplinks)
	list := make([]interference.Carrier, len(a.Carriers))
	for n := range a.Carriers {
		p := &a.Carriers[n]
		i := slices.Index(uplinks, p.Band)
		if p.UplinkWidth == 0 {
			i = -1
		}
		if list[n] = p.emission(i >= 0); i >= 0 {
			uplinks = slices.Delete(uplinks, i, i+1)
		}
	}
	return list
}

// emission describes a carrier whose uplink transmits or does not.
func (p *Placed) emission(transmits bool) interference.Carrier {
	if p.Info == nil {
		return interference.Carrier{Band: p.Band}
	}
	uplink := p.UplinkWidth
	if !transmits {
		uplink = 0
	}
	c := interference.Of(p.Info, p.DownlinkWidth, uplink)
	if uplink > 0 && p.UplinkCentre != 0 {
		c = c.Transmitting(p.UplinkCentre)
	}
	if p.DownlinkCentre != 0 {
		c = c.Receiving(p.DownlinkCentre)
	}
	if !p.Centres.IsZero() { // known within a range, by the SS/PBCH block
		c = c.Within(p.Centres)
	}
	return c
}

// uplinkSets are the carriers with each set of uplinks that may transmit at once: those on
// which they are said to, and for a name those that its table lists with it.
func (a *Assessment) uplinkSets() [][]interference.Carrier {
	var sets [][]interference.Carrier
	if !a.Name.IsZero() {
		for _, c := range FindAll(a.Name) {
			for _, uplinks := range c.UplinkBands() {
				sets = append(sets, a.EmissionsWith(uplinks))
			}
		}
	}
	if len(sets) == 0 { // carriers, or a name that is a part of what is listed
		sets = append(sets, a.Emissions())
	}
	return sets
}

// Interference studies what the uplinks of the combination do to its own downlinks: those on
// which the carriers transmit, and for a name those that its table lists with it, one after
// the other.
func (a *Assessment) Interference(class interference.PowerClass, o interference.Options) *interference.Study {
	return interference.Examine(a.uplinkSets(), class, o)
}

// Hits are the products of the uplinks that fall on a downlink, in some place at least, those
// of the lowest order first. No table is read for them.
func (a *Assessment) Hits() []interference.Product {
	var list []interference.Product
	for _, carriers := range a.uplinkSets() {
		for _, p := range interference.Find(carriers, interference.Options{}) {
			if p.Hit == interference.Direct && !slices.Contains(list, p) {
				list = append(list, p)
			}
		}
	}
	slices.SortStableFunc(list, func(p, q interference.Product) int {
		return cmp.Or(cmp.Compare(p.Order+p.ReceiverOrder, q.Order+q.ReceiverOrder), cmp.Compare(p.Kind, q.Kind))
	})
	return list
}

// SingleUplink tells what the standard says of a UE that is limited to one uplink at a
// time in EN-DC (TS 38.101-3 clauses 5.5B.2 to 5.5B.4).
type SingleUplink struct {
	// Configuration is the EN-DC of the two bands that transmit; zero if there is none.
	Configuration Name
	// Allowed is what its table says: "Yes", "No", "N/A", or the pair of bands for which a
	// UE may be so limited. Empty where the table does not say.
	Allowed string
	Source  bands.Source
}

// Holds tells whether a UE may be limited to one uplink; known is false where the standard
// does not say.
func (s *SingleUplink) Holds() (allowed, known bool) {
	switch s.Allowed {
	case "", "N/A":
		return false, false
	case "No":
		return false, true
	}
	return true, true
}

// SingleUplink finds out whether a UE may be limited to one uplink while the carriers say
// that it transmits on two: on the first of each technology that does. It is zero unless
// E-UTRA and NR both transmit.
func (a *Assessment) SingleUplink() SingleUplink {
	var pair [2]*Placed
	for i := range a.Carriers {
		p := &a.Carriers[i]
		if at := int(p.Band.RAT - bands.LTE); p.Transmits && pair[at] == nil {
			pair[at] = p
		}
	}
	if pair[0] == nil || pair[1] == nil {
		return SingleUplink{}
	}
	n, err := NewName(Parts{
		Kind: KindENDC,
		LTE:  []Component{{Band: pair[0].Band, Blocks: []Class{"A"}}},
		NR:   []Component{{Band: pair[1].Band, Blocks: []Class{"A"}}},
	})
	if err != nil {
		return SingleUplink{}
	}
	for _, c := range FindAll(n) {
		return SingleUplink{Configuration: n, Allowed: c.SingleUplink(), Source: c.Source()}
	}
	return SingleUplink{}
}

// UplinkBands lists the bands in which the standard lets a UE transmit at once with a
// configuration: a list for each of the uplinks of its table, and for each band in which
// one carrier may transmit alone. A band stands as often as its uplink has sub-blocks. A
// supplementary uplink does not transmit at once with that of its cell (TS 38.101-1 clause
// 5.2C), nor do uplinks that are switched.
func (c Configuration) UplinkBands() [][]bands.ID {
	var all [][]bands.ID
	add := func(list ...bands.ID) {
		slices.SortFunc(list, bands.ID.Compare)
		if len(list) > 0 && !slices.ContainsFunc(all, func(have []bands.ID) bool { return slices.Equal(have, list) }) {
			all = append(all, list)
		}
	}
	for _, u := range c.Uplinks() {
		var list, cells, supplementary []bands.ID
		for _, k := range u.Name.Components() {
			id := c.band(k.Band)
			if b, err := bands.Lookup(id); err == nil && b.Duplex == bands.SUL {
				supplementary, cells = append(supplementary, id), append(cells, k.Cell)
				continue
			}
			for range k.Blocks {
				list = append(list, id)
			}
		}
		switch {
		case u.Switched:
			for _, id := range append(list, supplementary...) {
				add(id)
			}
		case len(supplementary) > 0:
			add(slices.Clone(list)...)
			add(append(slices.DeleteFunc(list, func(id bands.ID) bool {
				return slices.Contains(cells, id) || slices.Contains(cells, bands.ID{})
			}), supplementary...)...)
		default:
			add(list...)
		}
	}
	if kind := c.Kind(); (kind == KindLTECA || kind == KindNRCA) && !strings.Contains(c.Note(), "uplink") {
		for _, k := range c.Name().Components() {
			if b, err := bands.Lookup(k.Band); err == nil && b.Has(bands.Uplink) {
				add(k.Band)
			}
		}
	}
	return all
}

// MayInterfere tells whether a product of uplinks that the standard allows with the
// configuration can fall on one of its downlinks: at any widths and places of carriers in
// its bands, up to an order of intermodulation, 0 for [interference.DefaultOrder].
func (c Configuration) MayInterfere(order int) bool {
	for _, uplinks := range c.UplinkBands() {
		found := interference.Find(emissionsOf(c.Name(), uplinks), interference.Options{Order: order})
		if slices.ContainsFunc(found, func(p interference.Product) bool { return p.Hit == interference.Direct }) {
			return true
		}
	}
	return false
}

// emissionsOf describes a carrier anywhere in its band for each sub-block of a name, while
// the UE transmits in some bands.
func emissionsOf(n Name, uplinks []bands.ID) []interference.Carrier {
	uplinks = slices.Clone(uplinks)
	var list []interference.Carrier
	for _, k := range n.Components() {
		b, err := bands.Lookup(k.Band)
		if err != nil {
			continue // the bands of names are looked up where they are read
		}
		for range k.Blocks {
			i := slices.Index(uplinks, k.Band)
			list = append(list, interference.OfBand(b, i >= 0))
			if i >= 0 {
				uplinks = slices.Delete(uplinks, i, i+1)
			}
		}
	}
	return list
}
