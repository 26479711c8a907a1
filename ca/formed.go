package ca

import (
	"slices"

	"spectally/bands"
)

// maxFormed bounds the configurations that are named where contiguity is unknown.
const maxFormed = 200

// Formed lists the names of the configurations that the carriers can form. There is
// one where the channels tell how the carriers lie to each other; else every
// possibility is named, non-contiguous ones last. The names are those of the kind of
// the assessment; complete is false if there are more than can be listed.
//
// Carriers of an unknown band form no configuration, and neither do contiguous
// carriers that fit no bandwidth class.
func (a *Assessment) Formed() (names []Name, complete bool) {
	if len(a.Groups) == 0 || slices.ContainsFunc(a.Carriers, func(p Placed) bool { return p.Info == nil }) {
		return nil, true
	}
	forms := [][]Component{nil}
	complete = true
	for i := range a.Groups {
		blocks, whole := a.splits(&a.Groups[i])
		complete = complete && whole
		var next [][]Component
		for _, form := range forms {
			for _, b := range blocks {
				if len(next) == maxFormed {
					complete = false
					break
				}
				next = append(next, append(slices.Clip(form), Component{Band: a.Groups[i].Band.ID, Blocks: b}))
			}
		}
		forms = next
	}
	for _, form := range forms {
		for _, joined := range a.joins(form) {
			p := Parts{Kind: a.Kind, Joined: joined}
			for _, c := range form {
				if c.Band.RAT == bands.LTE {
					p.LTE = append(p.LTE, c)
				} else {
					p.NR = append(p.NR, c)
				}
			}
			for _, nr := range a.cells(p.NR) {
				p.NR = nr
				n, err := NewName(p)
				if err == nil && !slices.Contains(names, n) {
					names = append(names, n)
				}
			}
		}
	}
	return names, complete
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

// splits lists the ways in which the carriers of a band can form sub-blocks, each
// as the classes of its blocks; fewer blocks first. whole is false if there are
// more than can be listed.
func (a *Assessment) splits(g *Group) (list [][]Class, whole bool) {
	var units [][]bands.Frequency // widths of known blocks, then of single carriers
	for _, b := range g.Blocks {
		units = append(units, a.widths(b.Carriers))
	}
	for n := range g.Unplaced {
		units = append(units, a.widths(g.Unplaced[n:n+1]))
	}
	s := splitter{band: g.Band, placed: len(g.Blocks), seen: make(map[string]bool)}
	s.split(nil, units)
	slices.SortStableFunc(s.forms, func(x, y [][]Class) int { return len(x) - len(y) })
	whole = !s.cut
	for _, form := range s.forms {
		for _, blocks := range choices(form) {
			slices.SortFunc(blocks, Class.compare)
			if slices.ContainsFunc(list, func(b []Class) bool { return slices.Equal(b, blocks) }) {
				continue
			}
			if len(list) == maxFormed {
				return list, false
			}
			list = append(list, blocks)
		}
	}
	return list, whole
}

// splitter walks through the ways to put units together in blocks. Units of the
// same widths are alike, so that sixteen equal carriers are sixteen counts and not
// sixteen things.
type splitter struct {
	band   *bands.Band
	placed int
	forms  [][][]Class // for each way, the classes that each block may have
	seen   map[string]bool
	steps  int
	cut    bool
}

const maxSteps = 20_000

func (s *splitter) split(blocks [][]bands.Frequency, rest [][]bands.Frequency) {
	if s.steps++; s.steps > maxSteps || len(s.forms) >= maxFormed {
		s.cut = true
		return
	}
	if len(rest) == 0 {
		s.finish(blocks)
		return
	}
	key := stateKey(blocks, rest)
	if s.seen[key] {
		return
	}
	s.seen[key] = true
	unit, tail := rest[0], rest[1:]
	if len(blocks) >= s.placed { // an unplaced carrier may join any block
		for i := range blocks {
			joined := slices.Clone(blocks)
			joined[i] = append(slices.Clip(joined[i]), unit...)
			s.split(joined, tail)
		}
	}
	s.split(append(slices.Clip(blocks), unit), tail)
}

func (s *splitter) finish(blocks [][]bands.Frequency) {
	form := make([][]Class, 0, len(blocks))
	for _, b := range blocks {
		classes := Classes(s.band, b)
		if len(classes) == 0 {
			return
		}
		form = append(form, classes)
	}
	s.forms = append(s.forms, form)
}

// stateKey tells states apart by the widths of their blocks, whatever the order.
func stateKey(blocks, rest [][]bands.Frequency) string {
	parts := make([]string, 0, len(blocks))
	for _, b := range blocks {
		w := slices.Clone(b)
		slices.Sort(w)
		parts = append(parts, widthKey(w))
	}
	slices.Sort(parts)
	key := make([]byte, 0, 64)
	for _, p := range parts {
		key = append(append(key, p...), '|')
	}
	key = append(key, '/')
	for _, r := range rest {
		key = append(append(key, widthKey(r)...), '|')
	}
	return string(key)
}

func widthKey(widths []bands.Frequency) string {
	key := make([]byte, 0, 8*len(widths))
	for _, w := range widths {
		key = append(append(key, w.MHz()...), ' ')
	}
	return string(key)
}

// choices takes one class for each block in every way.
func choices(form [][]Class) [][]Class {
	list := [][]Class{nil}
	for _, classes := range form {
		var next [][]Class
		for _, head := range list {
			for _, c := range classes {
				if len(next) < maxFormed {
					next = append(next, append(slices.Clip(head), c))
				}
			}
		}
		list = next
	}
	return list
}
