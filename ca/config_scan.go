package ca

import (
	"strings"

	"spectally/bands"
)

// part is a component of a canonical name, cut out of its text: a band and the
// classes of its sub-blocks, "A" or "(2A-C)" without the brackets. A name may
// give a band more than one part.
type part struct {
	band    bands.ID
	classes string
	joined  bool // joins the carriers of the other technology
}

// nameScan walks over the parts of a canonical name without allocating.
// It reads less carefully than [ParseName] and takes only what that accepts.
type nameScan struct {
	rest string
	half part // the NR half of a joined part, still to come
}

func scanName(text string) nameScan {
	if text != "" && text[0] >= 'A' && text[0] <= 'Z' {
		text = text[strings.IndexByte(text, '_')+1:]
	}
	return nameScan{rest: text}
}

// next returns the next part; false at the end.
func (s *nameScan) next() (part, bool) {
	if s.half.joined {
		p := s.half
		s.half = part{}
		return p, true
	}
	s.rest = strings.TrimPrefix(s.rest, "SUL_")
	t := s.rest
	if t == "" {
		return part{}, false
	}
	p := part{band: bands.ID{RAT: bands.LTE}}
	i := 0
	switch {
	case t[0] == 'n':
		p.band.RAT = bands.NR
		i = 1
	case strings.HasPrefix(t, "(n)"):
		i = len("(n)")
	}
	for i < len(t) && t[i] >= '0' && t[i] <= '9' {
		p.band.Number = p.band.Number*10 + uint16(t[i]-'0')
		i++
	}
	start := i
	switch {
	case strings.HasPrefix(t[i:], "(n)"): // 3(n)AC: NR before E-UTRA
		i += len("(n)")
		p.classes = t[i+1 : i+2]
		s.half = part{bands.ID{RAT: bands.NR, Number: p.band.Number}, t[i : i+1], true}
		p.joined = true
		i += 2
	case t[0] == '(': // (n)3CA: E-UTRA before NR
		p.classes = t[i : i+1]
		s.half = part{bands.ID{RAT: bands.NR, Number: p.band.Number}, t[i+1 : i+2], true}
		p.joined = true
		i += 2
	case i < len(t) && t[i] == '(':
		end := strings.IndexByte(t[i:], ')')
		p.classes = t[i+1 : i+end]
		i += end + 1
	default:
		for i < len(t) && t[i] != '-' && t[i] != '_' {
			i++
		}
		p.classes = t[start:i]
	}
	if i < len(t) {
		i++ // the "-" or "_"
	}
	s.rest = t[i:]
	return p, true
}

// blockScan walks over the sub-blocks of a part.
type blockScan struct {
	rest  string
	class Class
	again int
}

func (p part) blocks() blockScan { return blockScan{rest: p.classes} }

func (b *blockScan) next() (Class, bool) {
	if b.again > 0 {
		b.again--
		return b.class, true
	}
	if b.rest == "" {
		return "", false
	}
	i, n := 0, 0
	for b.rest[i] >= '0' && b.rest[i] <= '9' {
		n = n*10 + int(b.rest[i]-'0')
		i++
	}
	if n > 1 {
		b.again = n - 1
	}
	end := strings.IndexByte(b.rest[i:], '-')
	if end < 0 {
		b.class, b.rest = Class(b.rest[i:]), ""
	} else {
		b.class, b.rest = Class(b.rest[i:i+end]), b.rest[i+end+1:]
	}
	return b.class, true
}

// carriers returns the number of carriers of the part.
func (p part) carriers() int {
	if p.classes == "A" {
		return 1
	}
	n := 0
	for b := p.blocks(); ; {
		c, ok := b.next()
		if !ok {
			return n
		}
		n += c.carriers(p.band)
	}
}
