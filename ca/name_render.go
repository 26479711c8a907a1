package ca

import (
	"slices"
	"strconv"

	"spectally/bands"
)

// render writes normalised parts as the standard spells them.
func (p *Parts) render() string {
	b := make([]byte, 0, 48)
	switch p.Kind {
	case KindLTE, KindNR:
	case KindLTECA, KindNRCA:
		b = append(b, "CA_"...)
	case KindSUL:
		if p.plainSUL() {
			b = append(b, "SUL_"...)
		} else {
			b = append(b, "CA_"...)
		}
		return string(appendCells(b, p.NR))
	default:
		b = append(b, "DC_"...)
	}
	if p.Joined != (Joined{}) {
		return string(p.appendJoined(b))
	}
	first, second := p.LTE, p.NR
	if p.Kind == KindNEDC {
		first, second = p.NR, p.LTE
	}
	b = p.appendPart(b, first)
	if len(first) > 0 && len(second) > 0 {
		b = append(b, '_')
	}
	return string(p.appendPart(b, second))
}

// plainSUL reports whether the name is one downlink carrier with one
// supplementary uplink: those begin with SUL_, all others with CA_.
func (p *Parts) plainSUL() bool {
	if len(p.NR) != 2 {
		return false
	}
	for _, c := range p.NR {
		if !single([]Component{c}) {
			return false
		}
	}
	return true
}

// appendPart writes the components of one technology.
func (p *Parts) appendPart(b []byte, list []Component) []byte {
	if slices.ContainsFunc(list, func(c Component) bool { return c.Shared }) {
		return appendShared(b, list)
	}
	if slices.ContainsFunc(list, func(c Component) bool { return c.Cell != (bands.ID{}) }) {
		return appendCells(append(b, "SUL_"...), list)
	}
	return appendList(b, list)
}

// appendShared writes the shared uplinks first: n84A_ULSUP-TDM_n78A.
func appendShared(b []byte, list []Component) []byte {
	var shared, rest []Component
	for _, c := range list {
		if c.Shared {
			shared = append(shared, c)
		} else {
			rest = append(rest, c)
		}
	}
	b = append(appendList(b, shared), "_ULSUP-TDM"...)
	if len(rest) > 0 {
		b = appendList(append(b, '_'), rest)
	}
	return b
}

// appendCells writes NR components with supplementary uplinks, each of these
// beside the downlink band of its cell. Cells are parted by "_": first the
// downlink bands that have none, then the others. Two supplementary uplinks of
// a single downlink band stand behind a "_" of their own.
func appendCells(b []byte, list []Component) []byte {
	var plain, hosts []Component
	uplinks := map[bands.ID][]Component{}
	for _, c := range list {
		if supplementary(c.Band) {
			uplinks[c.Cell] = append(uplinks[c.Cell], c)
		}
	}
	for _, c := range list {
		switch {
		case supplementary(c.Band):
		case len(uplinks[c.Band]) > 0:
			hosts = append(hosts, c)
		default:
			plain = append(plain, c)
		}
	}
	b = appendList(b, plain)
	for i, h := range hosts {
		if i > 0 || len(plain) > 0 {
			b = append(b, '_')
		}
		s := uplinks[h.Band]
		if len(plain)+len(hosts) == 1 && len(s) > 1 {
			b = append(appendComponent(b, h), '_')
			b = appendList(b, s)
			continue
		}
		b = appendList(b, inOrder(append([]Component{h}, s...)))
	}
	return b
}

// appendJoined writes a name with E-UTRA and NR carriers that join: the other
// components of the master cell's technology, the joined ones, the rest.
func (p *Parts) appendJoined(b []byte) []byte {
	j := p.Joined
	lte := without(p.LTE, bands.ID{RAT: bands.LTE, Number: j.Band}, j.LTE)
	nr := without(p.NR, bands.ID{RAT: bands.NR, Number: j.Band}, j.NR)
	before, after := lte, nr
	if p.Kind == KindNEDC {
		before, after = nr, lte
	}
	if len(before) > 0 {
		b = append(appendList(b, before), '-')
	}
	if p.Kind == KindNEDC {
		b = strconv.AppendUint(b, uint64(j.Band), 10)
		b = append(append(append(b, "(n)"...), j.NR...), j.LTE...)
	} else {
		b = append(b, "(n)"...)
		b = strconv.AppendUint(b, uint64(j.Band), 10)
		b = append(append(b, j.LTE...), j.NR...)
	}
	if len(after) > 0 {
		b = appendList(append(b, '-'), after)
	}
	return b
}

// without returns list less one block of class c in a band.
func without(list []Component, id bands.ID, c Class) []Component {
	list = cloneComponents(list)
	for i := range list {
		if list[i].Band != id {
			continue
		}
		if k := slices.Index(list[i].Blocks, c); k >= 0 {
			list[i].Blocks = slices.Delete(list[i].Blocks, k, k+1)
		}
		if len(list[i].Blocks) == 0 {
			list = slices.Delete(list, i, i+1)
		}
		break
	}
	return list
}

func appendList(b []byte, list []Component) []byte {
	for i, c := range list {
		if i > 0 {
			b = append(b, '-')
		}
		b = appendComponent(b, c)
	}
	return b
}

func appendComponent(b []byte, c Component) []byte {
	if c.Band.RAT == bands.LTE {
		for i, class := range c.Blocks {
			if i > 0 {
				b = append(b, '-')
			}
			b = strconv.AppendUint(b, uint64(c.Band.Number), 10)
			b = append(b, class...)
		}
		return b
	}
	b = append(b, 'n')
	b = strconv.AppendUint(b, uint64(c.Band.Number), 10)
	if len(c.Blocks) == 1 {
		return append(b, c.Blocks[0]...)
	}
	b = append(b, '(')
	for i := 0; i < len(c.Blocks); {
		n := 1
		for i+n < len(c.Blocks) && c.Blocks[i+n] == c.Blocks[i] {
			n++
		}
		if i > 0 {
			b = append(b, '-')
		}
		if n > 1 {
			b = strconv.AppendInt(b, int64(n), 10)
		}
		b = append(b, c.Blocks[i]...)
		i += n
	}
	return append(b, ')')
}
