package ca

import (
	"slices"

	"spectally/bands"
)

// maxFormed bounds the configurations that are named where contiguity is unknown.
const maxFormed = 300

// Form is a configuration that carriers can form.
type Form struct {
	Name Name
	// Ways holds the widths of the carriers as they fall on the components of the
	// name: one way where the channels tell, else every one.
	Ways []Widths
}

// Formed lists the configurations that the carriers can form. There is one where
// the channels tell how the carriers lie to each other; else every possibility is
// named, non-contiguous ones last. The names are those of the kind of the
// assessment, or the one that was assessed; complete is false if there are more than can be listed.
//
// Carriers of an unknown band form no configuration, and neither do contiguous
// carriers that fit no bandwidth class.
func (a *Assessment) Formed() (forms []Form, complete bool) {
	if !a.Name.IsZero() {
		return []Form{{a.Name, a.ways}}, true
	}
	layouts, complete := a.layouts()
	return a.formsOf(layouts), complete
}

// formsOf names layouts.
func (a *Assessment) formsOf(layouts [][][]layoutBlock) (forms []Form) {
	lower := a.lower()
	for _, layout := range layouts {
		components := make([]Component, len(layout))
		widths := Widths{Components: make([][]BlockWidths, len(layout)), Lower: lower}
		for i, blocks := range layout {
			components[i].Band = a.Groups[i].Band.ID
			for _, b := range blocks {
				components[i].Blocks = append(components[i].Blocks, b.class)
				widths.Components[i] = append(widths.Components[i], b.widths)
			}
		}
		for _, n := range a.names(components) {
			i := slices.IndexFunc(forms, func(f Form) bool { return f.Name == n })
			if i < 0 {
				i = len(forms)
				forms = append(forms, Form{Name: n})
			}
			forms[i].Ways = append(forms[i].Ways, widths)
		}
	}
	return forms
}

// layouts lists the ways in which the carriers of all bands can form sub-blocks.
func (a *Assessment) layouts() (list [][][]layoutBlock, complete bool) {
	if len(a.Groups) == 0 || slices.ContainsFunc(a.Carriers, func(p Placed) bool { return p.Info == nil }) {
		return nil, true
	}
	list, complete = [][][]layoutBlock{nil}, true
	for i := range a.Groups {
		splits, whole := a.splits(&a.Groups[i])
		complete = complete && whole
		var next [][][]layoutBlock
		for _, layout := range list {
			for _, s := range splits {
				if len(next) == maxFormed {
					complete = false
					break
				}
				next = append(next, append(slices.Clip(layout), s))
			}
		}
		list = next
	}
	return list, complete
}

// names lists the names of components: one, or several where it is open which LTE
// and NR sub-blocks join or to which cell a supplementary uplink belongs.
func (a *Assessment) names(components []Component) []Name {
	var list []Name
	for _, joined := range a.joins(components) {
		p := Parts{Kind: a.Kind, Joined: joined}
		for _, c := range components {
			if c.Band.RAT == bands.LTE {
				p.LTE = append(p.LTE, c)
			} else {
				p.NR = append(p.NR, c)
			}
		}
		for _, nr := range a.cells(p.NR) {
			p.NR = nr
			n, err := NewName(p)
			if err == nil && !slices.Contains(list, n) {
				list = append(list, n)
			}
		}
	}
	return list
}

// lower is the technology whose carriers are lower in frequency in a band that both
// have; zero if that is not known.
func (a *Assessment) lower() bands.RAT {
	for i := range a.Groups {
		l := &a.Groups[i]
		j := slices.IndexFunc(a.Groups, func(g Group) bool {
			return l.Band.ID.RAT == bands.LTE && g.Band.ID == bands.ID{RAT: bands.NR, Number: l.Band.ID.Number}
		})
		if j < 0 {
			continue
		}
		n := &a.Groups[j]
		switch {
		case len(l.Unplaced) > 0 || len(n.Unplaced) > 0 || len(l.Blocks) == 0 || len(n.Blocks) == 0:
		case l.Blocks[0].Edges.Low < n.Blocks[0].Edges.Low:
			return bands.LTE
		default:
			return bands.NR
		}
	}
	return 0
}

// cells lists the ways in which the supplementary uplinks among NR components can
// belong to cells of the others: where there is more than one downlink band the name
// tells which. A cell whose own uplink is in the same spectrum has no use for one.
func (a *Assessment) cells(nr []Component) [][]Component {
	var hosts, extra []*bands.Band
	for i := range a.Groups {
		switch b := a.Groups[i].Band; {
		case b.ID.RAT != bands.NR:
		case b.Duplex == bands.SUL:
			extra = append(extra, b)
		case b.Has(bands.Uplink):
			hosts = append(hosts, b)
		}
	}
	list := [][]Component{nr}
	if len(nr) == len(extra)+1 {
		return list // there is one cell for all
	}
	for _, b := range extra {
		i := slices.IndexFunc(nr, func(c Component) bool { return c.Band == b.ID })
		var next [][]Component
		for _, way := range list {
			for _, host := range hosts {
				if host.Uplink.Overlaps(b.Uplink) {
					continue
				}
				way = slices.Clone(way)
				way[i].Cell = host.ID
				next = append(next, way)
			}
		}
		list = next
	}
	return list
}
