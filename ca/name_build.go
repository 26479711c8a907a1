package ca

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
)

const (
	maxBlocks     = 64 // sub-blocks in a band; the standard lists up to ten
	maxComponents = 32 // bands of a technology; the standard lists up to six
	maxBand       = 1024
)

// NewName makes a name from its parts. The kind may be left zero or given as
// [KindLTECA] or [KindNRCA] where the parts tell the rest: one carrier alone
// makes [KindLTE] or [KindNR], a supplementary uplink makes [KindSUL], and
// E-UTRA with NR makes [KindENDC]. Order does not matter. An error says which
// part does not fit.
func NewName(p Parts) (Name, error) {
	p.LTE, p.NR = cloneComponents(p.LTE), cloneComponents(p.NR)
	p.normalise()
	if err := p.check(); err != nil {
		return Name{}, err
	}
	return Name{text: p.render(), kind: p.Kind}, nil
}

func cloneComponents(list []Component) []Component {
	list = slices.Clone(list)
	for i := range list {
		list[i].Blocks = slices.Clone(list[i].Blocks)
	}
	return list
}

// normalise merges components of one band, puts everything in order, and
// settles the kind.
func (p *Parts) normalise() {
	p.LTE, p.NR = inOrder(p.LTE), inOrder(p.NR)

	down, up := 0, 0 // NR bands with and without a downlink
	var host bands.ID
	for _, c := range p.NR {
		if supplementary(c.Band) {
			up++
		} else {
			down++
			host = c.Band
		}
	}
	if down == 1 {
		for i := range p.NR {
			if supplementary(p.NR[i].Band) {
				p.NR[i].Cell = host
			}
		}
	}

	switch p.Kind {
	case 0, KindLTE, KindNR, KindLTECA, KindNRCA, KindSUL:
	default:
		return
	}
	switch {
	case len(p.LTE) > 0 && len(p.NR) > 0:
		p.Kind = KindENDC
	case up > 0 && down > 0:
		p.Kind = KindSUL
	case single(p.LTE):
		p.Kind = KindLTE
	case single(p.NR):
		p.Kind = KindNR
	case len(p.LTE) > 0:
		p.Kind = KindLTECA
	default:
		p.Kind = KindNRCA
	}
}

// single reports whether list is one carrier. A class of several carriers
// counts as more than one even where the band has no such class.
func single(list []Component) bool {
	return len(list) == 1 && len(list[0].Blocks) == 1 && list[0].Blocks[0] == "A"
}

func inOrder(list []Component) []Component {
	slices.SortStableFunc(list, func(a, b Component) int { return a.Band.Compare(b.Band) })
	out := list[:0]
	for _, c := range list {
		if last := len(out) - 1; last >= 0 && out[last].Band == c.Band && out[last].Cell == c.Cell && out[last].Shared == c.Shared {
			out[last].Blocks = append(slices.Clip(out[last].Blocks), c.Blocks...)
			continue
		}
		out = append(out, c)
	}
	for i := range out {
		slices.SortFunc(out[i].Blocks, Class.compare)
	}
	return out
}

// check reports what is wrong with normalised parts.
func (p *Parts) check() error {
	for _, part := range [...]struct {
		rat  bands.RAT
		list []Component
	}{{bands.LTE, p.LTE}, {bands.NR, p.NR}} {
		for i, c := range part.list {
			if err := c.check(part.rat); err != nil {
				return err
			}
			if i > 0 && part.list[i-1].Band == c.Band {
				return partError(c.Band.String()+" twice", "a band once as a carrier of its own, once in one cell")
			}
		}
	}
	if len(p.LTE) > maxComponents || len(p.NR) > maxComponents {
		return partError(strconv.Itoa(max(len(p.LTE), len(p.NR)))+" bands", "at most "+strconv.Itoa(maxComponents)+" bands of a technology")
	}
	if err := p.checkKind(); err != nil {
		return err
	}
	if err := p.checkCells(); err != nil {
		return err
	}
	return p.checkJoined()
}

func (c Component) check(rat bands.RAT) error {
	if c.Band.RAT != rat || c.Band.Number == 0 || c.Band.Number > maxBand {
		return partError(c.Band.String(), "a band of "+rat.String())
	}
	if len(c.Blocks) == 0 || len(c.Blocks) > maxBlocks {
		return partError(c.Band.String()+" with "+strconv.Itoa(len(c.Blocks))+" sub-blocks", "1 to "+strconv.Itoa(maxBlocks)+" sub-blocks in a band")
	}
	for _, b := range c.Blocks {
		if b.carriers(c.Band) == 0 {
			return classError(c.Band, string(b))
		}
	}
	return nil
}

func classError(id bands.ID, class string) error {
	e := &bands.ValueError{Param: "bandwidth class of " + id.String(), Got: class}
	switch {
	case id.RAT == bands.LTE:
		e.Allowed, e.Source = classesLTE, bands.Source{Spec: "TS 36.101", Version: "19.6.0", Table: "5.6A-1"}
	case rangeFR2(id):
		e.Allowed, e.Source = classesFR2, bands.Source{Spec: "TS 38.101-2", Version: "19.4.0", Table: "5.3A.4-1"}
	default:
		e.Allowed, e.Source = classesFR1, bands.Source{Spec: "TS 38.101-1", Version: "19.5.0", Table: "5.3A.5-1"}
	}
	return e
}

func (p *Parts) checkKind() error {
	lte, nr := len(p.LTE), len(p.NR)
	switch p.Kind {
	case KindENDC, KindNEDC:
		if lte == 0 || nr == 0 {
			return partError(p.Kind.String(), "a component of E-UTRA and one of NR, such as DC_3A_n78A")
		}
	case KindNRDC:
		if lte > 0 || nr == 0 || single(p.NR) {
			return partError(p.Kind.String(), "two NR carriers or more and no E-UTRA, such as DC_n78A-n257A")
		}
	case KindLTE, KindNR, KindLTECA, KindNRCA, KindSUL:
		if lte+nr == 0 {
			return partError("", "a component such as n78A or 3A")
		}
	default:
		return partError(p.Kind.String(), strings.Join(kindNames[1:], ", "))
	}
	for _, c := range p.NR {
		if c.Shared && p.Kind != KindENDC {
			return partError("ULSUP-TDM", "an uplink shared in time only with E-UTRA, as in DC_1A_n84A_ULSUP-TDM_n78A")
		}
	}
	return nil
}

// checkCells wants every supplementary uplink beside a downlink band of the
// name, if the name has any.
func (p *Parts) checkCells() error {
	down := false
	for _, c := range p.NR {
		down = down || !supplementary(c.Band)
	}
	for _, c := range p.NR {
		sul := supplementary(c.Band)
		if !sul && c.Cell != (bands.ID{}) || sul && !down && c.Cell != (bands.ID{}) {
			return partError(c.Band.String()+" in a cell of "+c.Cell.String(), "a cell only for a supplementary uplink beside a downlink band")
		}
		if sul && down && p.Kind != KindENDC && p.Kind != KindNEDC && p.Kind != KindSUL && p.Kind != KindNRDC {
			return partError(p.Kind.String()+" with "+c.Band.String(), KindSUL.String())
		}
		if !sul || !down {
			continue
		}
		host := slices.IndexFunc(p.NR, func(h Component) bool { return h.Band == c.Cell })
		if host < 0 || supplementary(c.Cell) {
			return partError(c.Band.String(), "a supplementary uplink beside the one downlink band of its cell, the cells parted by _ as in CA_n1A_n78A-n80A")
		}
	}
	return nil
}

func (p *Parts) checkJoined() error {
	j := p.Joined
	if j == (Joined{}) {
		return nil
	}
	if p.Kind != KindENDC && p.Kind != KindNEDC {
		return partError("(n)"+strconv.Itoa(int(j.Band)), "joined carriers only in EN-DC and NE-DC")
	}
	for _, c := range p.NR {
		if c.Shared || supplementary(c.Band) {
			return partError(c.Band.String(), "no supplementary or shared uplink beside joined carriers")
		}
	}
	if !hasBlock(p.LTE, bands.ID{RAT: bands.LTE, Number: j.Band}, j.LTE) || !hasBlock(p.NR, bands.ID{RAT: bands.NR, Number: j.Band}, j.NR) {
		return partError("(n)"+strconv.Itoa(int(j.Band))+string(j.LTE)+string(j.NR), "joined sub-blocks that are among those of their band")
	}
	return nil
}

func hasBlock(list []Component, id bands.ID, c Class) bool {
	for _, x := range list {
		if x.Band == id {
			return slices.Contains(x.Blocks, c)
		}
	}
	return false
}

func partError(got, allowed string) error {
	return &bands.ValueError{Param: "configuration", Got: got, Allowed: allowed}
}
