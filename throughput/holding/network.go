package holding

import (
	"slices"

	"spectally/bands"
	"spectally/ca"
	"spectally/ca/deploy"
)

// Network is the spectrum of a network, ready to be searched.
type Network struct {
	// Blocks are those given, joined where they touch, in order of frequency.
	Blocks []deploy.Block

	finder *Finder
	places []place
	ids    []bands.ID
	slots  [aims][modes][]slot // by the number of the slot
	plans  [technologies][]*plan
	made   [technologies]bool
	only   map[bands.ID]int // the block, counted from 1, of each band that has but one
	best   map[bestKey]Best
}

type bestKey struct {
	technology Technology
	aim        Aim
}

// Network prepares blocks of spectrum; the order does not matter.
func (f *Finder) Network(blocks []deploy.Block) *Network {
	n := &Network{Blocks: deploy.Merge(blocks), finder: f, only: make(map[bands.ID]int), best: make(map[bestKey]Best)}
	for i, b := range n.Blocks {
		for _, r := range f.roomsOf(b) {
			n.places = append(n.places, place{Room: r, block: i, key: b.String() + " " + r.Band.ID.String()})
			if !slices.Contains(n.ids, r.Band.ID) {
				n.ids = append(n.ids, r.Band.ID)
				n.only[r.Band.ID] = i + 1
			} else {
				n.only[r.Band.ID] = 0
			}
		}
	}
	return n
}

// plan is a configuration as the slots that it has to fill: its sub-blocks.
type plan struct {
	configuration ca.Configuration // none for a single carrier
	name          ca.Name
	slots         []ca.NamedBlock // those alike side by side
	numbers       []int           // of the slots, see Finder.number
	carriers      int
	joined        bool            // carriers of both technologies are contiguous
	span          bands.Frequency // of its bands
	components    []ca.Component  // of its name, once they are asked for
}

// plansOf lists the configurations of a technology that the network has spectrum for.
func (n *Network) plansOf(t Technology) []*plan {
	if n.made[t] {
		return n.plans[t]
	}
	n.made[t] = true
	var list []*plan
plans:
	for _, p := range n.finder.plansOf(t, n.ids) {
		for i := range p.slots {
			if len(n.options(p, i, DownlinkRate, silent)) == 0 {
				continue plans
			}
		}
		list = append(list, p)
	}
	n.plans[t] = list
	return list
}

// isSingle tells whether the plan is one carrier alone, which no list needs to have.
func (p *plan) isSingle() bool { return p.configuration == (ca.Configuration{}) }

// maxCarriers bounds the carriers of a combination: more cannot be added up safely.
const maxCarriers = 32

func single(id bands.ID) ca.Name {
	c := []ca.Component{{Band: id, Blocks: []ca.Class{"A"}}}
	p := ca.Parts{NR: c}
	if id.RAT == bands.LTE {
		p = ca.Parts{LTE: c}
	}
	name, _ := ca.NewName(p) // one carrier always makes a name
	return name
}
