package ca

import (
	"strconv"
	"strings"

	"spectally/bands"
)

// maxNameLength bounds what is read as a name; the longest of the standard has
// 33 letters.
const maxNameLength = 512

// ParseName reads the name of a configuration in any of the standard's
// spellings: CA_3A-7A, CA_n78(2A)-n3A, DC_3A-7A_n78A, DC_(n)41AA, DC_n78A_3A,
// DC_n77A-n257A, SUL_n78A-n80A, CA_n1A_n78A-n80A. Letter case, blanks and the
// order of components do not matter, except that the technology named first is
// that of the master cell. A repeated NR band is the same as one with brackets
// (CA_n78A-n78A is CA_n78(2A)). One carrier alone, with or without a prefix,
// is a name as well: n78A.
//
// The error is a [bands.ValueError].
func ParseName(s string) (Name, error) {
	p, err := parseParts(s)
	if err != nil {
		return Name{}, err
	}
	p.normalise()
	if err := p.check(); err != nil {
		return Name{}, nameError(s, err)
	}
	return Name{text: p.render(), kind: p.Kind}, nil
}

// ReadName reads a name where carriers may stand as well; isName tells whether the text
// is meant as a name, which holds for one that cannot be read too.
func ReadName(s string) (n Name, isName bool, err error) {
	if strings.Contains(s, ":") {
		return n, false, nil
	}
	if n, err = ParseName(s); err == nil {
		return n, true, nil
	}
	folded := strings.ToUpper(s)
	for _, prefix := range [...]string{"CA", "DC", "SUL"} {
		if strings.HasPrefix(folded, prefix) {
			return n, true, err
		}
	}
	if strings.Contains(s, "_") {
		return n, true, err
	}
	return n, false, nil
}

// nameError tells of a fault of parts as a fault of the whole text.
func nameError(s string, err error) error {
	e, ok := err.(*bands.ValueError)
	if !ok {
		return err
	}
	if e.Param == "configuration" {
		return &bands.ValueError{Param: "configuration name", Got: s, Allowed: e.Allowed, Source: e.Source}
	}
	return &bands.ValueError{Param: "configuration name", Got: s, Allowed: e.Allowed + " as the " + e.Param + " instead of " + e.Got, Source: e.Source}
}

const tdmSuffix = "_ULSUP-TDM"

// nameReader holds what has been read of a name.
type nameReader struct {
	parts    Parts
	whole    string // the text as given, for errors
	cell     int    // number of the group of NR components between "_"
	cells    []int  // the group of every component of parts.NR
	runs     int    // how often the technology has changed
	last     bands.RAT
	first    bands.RAT
	joinedNR bool // the joined part is written 3(n)AA
}

func parseParts(s string) (Parts, error) {
	r := nameReader{whole: s}
	text, ok := foldName(s)
	if !ok {
		return Parts{}, r.fail("up to " + strconv.Itoa(maxNameLength) + " letters, digits, brackets, - and _")
	}
	prefix := ""
	for _, p := range [...]string{"CA_", "DC_", "SUL_"} {
		if rest, ok := strings.CutPrefix(text, p); ok {
			prefix, text = p, rest
			break
		}
	}
	if text == "" {
		return Parts{}, r.fail("a name such as CA_3A-7A, CA_n78(2A), DC_3A_n78A or SUL_n78A-n80A")
	}
	sharedText, rest, shared := strings.Cut(text, tdmSuffix)
	if shared {
		if prefix != "DC_" || rest != "" && (rest[0] != '_' || rest == "_") {
			return Parts{}, r.fail("ULSUP-TDM as in DC_1A_n84A_ULSUP-TDM_n78A")
		}
		text = sharedText
	}
	if err := r.readAll(text); err != nil {
		return Parts{}, err
	}
	if shared {
		for i := range r.parts.NR {
			r.parts.NR[i].Shared = true
		}
		if rest != "" {
			r.cell++
			before := len(r.parts.LTE)
			if err := r.readAll(rest[1:]); err != nil {
				return Parts{}, err
			}
			if len(r.parts.LTE) != before {
				return Parts{}, r.fail("NR components behind ULSUP-TDM")
			}
		}
	}
	if err := r.setKind(prefix); err != nil {
		return Parts{}, err
	}
	if err := r.setCells(); err != nil {
		return Parts{}, err
	}
	return r.parts, nil
}

// foldName brings a text to capital letters without blanks, and the hyphens of
// typesetting to plain ones.
func foldName(s string) (string, bool) {
	if len(s) > maxNameLength {
		return "", false
	}
	b := make([]byte, 0, len(s))
	for _, c := range s {
		switch {
		case c == ' ' || c == '\t' || c == '\u00a0':
		case c >= 'a' && c <= 'z':
			b = append(b, byte(c)-'a'+'A')
		case c >= 'A' && c <= 'Z', c >= '0' && c <= '9', c == '(', c == ')', c == '-', c == '_':
			b = append(b, byte(c))
		case c >= '\u2010' && c <= '\u2013', c == '\u2212':
			b = append(b, '-')
		default:
			return "", false
		}
	}
	return string(b), true
}

// readAll reads components parted by "-" and "_".
func (r *nameReader) readAll(text string) error {
	for start, depth, i := 0, 0, 0; i <= len(text); i++ {
		sep := byte(0)
		if i < len(text) {
			sep = text[i]
		}
		switch sep {
		case '(':
			depth++
			continue
		case ')':
			depth--
			continue
		case '-', '_':
			if depth > 0 {
				continue
			}
		case 0:
		default:
			continue
		}
		token := text[start:i]
		start = i + 1
		if token == "SUL" && sep == '_' {
			continue
		}
		if err := r.read(token); err != nil {
			return err
		}
		if sep == '_' {
			r.cell++
		}
	}
	return nil
}

// read reads one component.
func (r *nameReader) read(token string) error {
	if before, after, ok := strings.Cut(token, "(N)"); ok {
		return r.readJoined(token, before, after)
	}
	rat, digits := bands.LTE, token
	if strings.HasPrefix(token, "N") {
		rat, digits = bands.NR, token[1:]
	}
	end := 0
	for end < len(digits) && digits[end] >= '0' && digits[end] <= '9' {
		end++
	}
	number, ok := bandNumber(digits[:end])
	if !ok {
		return r.bad(token)
	}
	c := Component{Band: bands.ID{RAT: rat, Number: number}}
	classes := digits[end:]
	inner, bracket := strings.CutPrefix(classes, "(")
	if bracket {
		inner, bracket = strings.CutSuffix(inner, ")")
		if !bracket || rat == bands.LTE {
			return r.bad(token)
		}
		for part := range strings.SplitSeq(inner, "-") {
			var ok bool
			if c.Blocks, ok = appendBlocks(c.Blocks, part); !ok {
				return r.bad(token)
			}
		}
	} else {
		if !Class(classes).valid() {
			return r.bad(token)
		}
		c.Blocks = []Class{Class(classes)}
	}
	r.add(c)
	return nil
}

// appendBlocks reads a count and a class: "A", "3O", "2R12".
func appendBlocks(list []Class, s string) ([]Class, bool) {
	end := 0
	for end < len(s) && s[end] >= '0' && s[end] <= '9' {
		end++
	}
	n := 1
	if end > 0 {
		v, err := strconv.Atoi(s[:end])
		if err != nil || v < 1 || v > maxBlocks || s[0] == '0' {
			return nil, false
		}
		n = v
	}
	c := Class(s[end:])
	if !c.valid() || len(list)+n > maxBlocks {
		return nil, false
	}
	for range n {
		list = append(list, c)
	}
	return list, true
}

func bandNumber(digits string) (uint16, bool) {
	n, err := strconv.ParseUint(digits, 10, 16)
	if err != nil || n == 0 || n > maxBand || digits[0] == '0' {
		return 0, false
	}
	return uint16(n), true
}

func (r *nameReader) add(c Component) {
	if c.Band.RAT != r.last {
		r.last = c.Band.RAT
		r.runs++
		if r.first == 0 {
			r.first = c.Band.RAT
		}
	}
	if c.Band.RAT == bands.LTE {
		r.parts.LTE = append(r.parts.LTE, c)
		return
	}
	r.parts.NR = append(r.parts.NR, c)
	r.cells = append(r.cells, r.cell)
}

// readJoined reads (n)3CA, E-UTRA first, or 3(n)AC, NR first.
func (r *nameReader) readJoined(token, before, after string) error {
	if r.parts.Joined != (Joined{}) {
		return r.fail("one joined part such as (n)3AA")
	}
	digits, classes := before, after
	r.joinedNR = before != ""
	if !r.joinedNR {
		end := 0
		for end < len(after) && after[end] >= '0' && after[end] <= '9' {
			end++
		}
		digits, classes = after[:end], after[end:]
	}
	number, ok := bandNumber(digits)
	if !ok || len(classes) != 2 || !Class(classes[:1]).valid() || !Class(classes[1:]).valid() {
		return r.bad(token)
	}
	lte := Component{Band: bands.ID{RAT: bands.LTE, Number: number}, Blocks: []Class{Class(classes[:1])}}
	nr := Component{Band: bands.ID{RAT: bands.NR, Number: number}, Blocks: []Class{Class(classes[1:])}}
	if r.joinedNR {
		lte.Blocks, nr.Blocks = nr.Blocks, lte.Blocks
		r.add(nr)
		r.add(lte)
	} else {
		r.add(lte)
		r.add(nr)
	}
	r.parts.Joined = Joined{Band: number, LTE: lte.Blocks[0], NR: nr.Blocks[0]}
	return nil
}

func (r *nameReader) setKind(prefix string) error {
	lte, nr := len(r.parts.LTE) > 0, len(r.parts.NR) > 0
	switch {
	case lte && nr:
		if prefix != "DC_" && prefix != "" {
			return r.fail("the prefix DC_ for E-UTRA with NR")
		}
		if r.runs != 2 {
			return r.fail("the components of each technology side by side")
		}
		r.parts.Kind = KindENDC
		if r.first == bands.NR {
			r.parts.Kind = KindNEDC
		}
	case prefix == "DC_" && nr:
		r.parts.Kind = KindNRDC
	case prefix == "DC_":
		return r.fail("an NR component in dual connectivity, such as DC_3A_n78A")
	case prefix == "SUL_" && lte:
		return r.fail("NR bands behind SUL_")
	case prefix == "SUL_":
		down, up := 0, 0
		for _, c := range r.parts.NR {
			if supplementary(c.Band) {
				up++
			} else {
				down++
			}
		}
		if down == 0 || up == 0 {
			return r.fail("a band with downlink and a supplementary uplink behind SUL_, such as SUL_n78A-n80A")
		}
	}
	return nil
}

// setCells finds the downlink band of every supplementary uplink: the one
// downlink band of its group, or, for a group without any, of the whole name.
func (r *nameReader) setCells() error {
	var whole bands.ID
	down := 0 // components, but repeated bands count once
	for _, c := range r.parts.NR {
		if !supplementary(c.Band) && c.Band != whole {
			whole = c.Band
			down++
		}
	}
	for i, c := range r.parts.NR {
		if !supplementary(c.Band) || down == 0 {
			continue
		}
		var cell bands.ID
		for k, h := range r.parts.NR {
			if supplementary(h.Band) || r.cells[k] != r.cells[i] || h.Band == cell {
				continue
			}
			if cell != (bands.ID{}) {
				return r.fail("one downlink band beside " + c.Band.String() + ", the cells parted by _ as in CA_n1A_n78A-n80A")
			}
			cell = h.Band
		}
		if cell == (bands.ID{}) {
			if down > 1 {
				return r.fail("a downlink band beside " + c.Band.String() + " as in CA_n1A_n78A-n80A")
			}
			cell = whole
		}
		r.parts.NR[i].Cell = cell
	}
	return nil
}

func (r *nameReader) bad(token string) error {
	if token == "" {
		return r.fail("a component such as n78A, n78(2A) or 3A between any two of - and _")
	}
	return r.fail("a component such as n78A, n78(2A) or 3A in place of " + token)
}

func (r *nameReader) fail(allowed string) error {
	return &bands.ValueError{Param: "configuration name", Got: r.whole, Allowed: allowed}
}
