package fieldlog

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/cells"
)

// cells groups the carriers by identity, looks for clashes and compares levels.
func (n *network) cells() CellsReport {
	a := n.assessment
	r := CellsReport{Groups: []GroupReport{}, Neighbours: []NeighbourReport{}, Clashes: []ClashReport{}, Levels: []LevelReport{}, Pairs: []PairReport{}}
	groups, without := cells.Groups(a)
	for i := range groups {
		g := &groups[i]
		r.Groups = append(r.Groups, GroupReport{g.RAT.String(), int(g.PCI), numbers(g.Carriers), g.Statement(a)})
	}
	r.Without, r.Remarks = numbers(without), present(cells.Remarks(groups, without))

	var heard []cells.Heard
	for i := range a.Carriers {
		if p := &a.Carriers[i]; p.HasPCI {
			heard = append(heard, cells.Heard{Name: "carrier " + strconv.Itoa(i+1), Band: p.Band, PCI: p.PCI, Centre: p.DownlinkCentre})
		}
	}
	for i := range n.log.Neighbours {
		c := &n.log.Neighbours[i].Carrier
		centre, _ := n.log.Neighbours[i].Centre() // Read has reported a fault
		heard = append(heard, cells.Heard{Name: "neighbour " + strconv.Itoa(i+1), Band: c.Band, PCI: c.PCI, Centre: centre})
		out := NeighbourReport{Number: i + 1, Band: c.Band.String(), Centre: mhz(centre), PCI: int(c.PCI), RSRP: decibels(c.RSRP)}
		if c.HasChannel {
			out.Channel = &c.Channel
		}
		r.Neighbours = append(r.Neighbours, out)
	}
	for _, c := range cells.Clashes(heard) {
		r.Clashes = append(r.Clashes, ClashReport{[2]string{heard[c.A].Name, heard[c.B].Name}, c.Relation, c.Statement, c.Source})
	}
	for _, h := range cells.Hints(a) {
		r.Pairs = append(r.Pairs, PairReport{[2]int{h.A + 1, h.B + 1}, h.Strength, h.Reason})
	}
	for _, o := range cells.Offsets(a) {
		r.Levels = append(r.Levels, LevelReport{
			Carrier: o.Carrier + 1, Reference: o.Reference + 1, Measured: o.Measured, Expected: o.Expected, Difference: o.Difference(),
			Within: o.Within(), Approximate: o.Approximate, Statement: o.Statement(a),
			Basis: "20 log10 of the ratio of the frequencies: common practice, no source",
		})
	}
	return r
}

// sharedCells finds carriers that several networks show on the same channel.
func sharedCells(l *Log) []SharedCell {
	type place struct {
		band   bands.ID
		centre bands.Frequency
	}
	type seen struct {
		networks []string
		carriers []ca.Carrier
	}
	found := make(map[place]*seen)
	var order []place
	for i := range l.Networks {
		for _, p := range ca.Assess(l.Networks[i].Carriers).Carriers {
			at := place{p.Band, p.DownlinkCentre}
			if at.centre == 0 {
				continue
			}
			s := found[at]
			if s == nil {
				s = new(seen)
				found[at], order = s, append(order, at)
			}
			if !slices.Contains(s.networks, l.Networks[i].Name) {
				s.networks = append(s.networks, l.Networks[i].Name)
			}
			s.carriers = append(s.carriers, p.Carrier)
		}
	}
	list := []SharedCell{}
	for _, at := range order {
		s := found[at]
		if len(s.networks) < 2 {
			continue
		}
		c := SharedCell{Networks: s.networks, Band: at.band.String(), Centre: at.centre.InMHz()}
		first := s.carriers[0]
		same := first.HasPCI && !slices.ContainsFunc(s.carriers, func(x ca.Carrier) bool { return !x.HasPCI || x.PCI != first.PCI })
		where := fmt.Sprintf("%s show a carrier on %s at %s MHz", strings.Join(s.networks, " and "), at.band, at.centre.MHz())
		if same {
			pci := int(first.PCI)
			c.PCI = &pci
			c.Statement = fmt.Sprintf("%s with the same PCI %d: consistent with one cell that the networks share.", where, pci)
		} else {
			c.Statement = where + ": at one place two networks seldom use one channel apart from each other, so either they share it or a channel number is wrong."
		}
		list = append(list, c)
	}
	return list
}
