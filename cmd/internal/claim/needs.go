package claim

import (
	"cmp"
	"math/big"
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/words"
	"spectally/throughput"
)

// level is a number of layers and a constellation that open links are given.
type level struct {
	layers uint8
	qam    uint16
}

// levels lists what open links can be given, those that most devices have first: up to
// 4 layers and 256QAM, then 1024QAM, then 8 layers, which no phone is known to have (common
// practice, no source). Within these those that carry least go first, and of equals those
// with fewer layers.
func levels() []level {
	var list []level
	for _, qam := range [...]uint16{4, 16, 64, 256, 1024} {
		for _, layers := range [...]uint8{1, 2, 4, 8} {
			list = append(list, level{layers, qam})
		}
	}
	slices.SortStableFunc(list, func(a, b level) int {
		return cmp.Or(cmp.Compare(a.rarity(), b.rarity()), cmp.Compare(a.bits(), b.bits()), cmp.Compare(a.layers, b.layers))
	})
	return list
}

// rarity is 0 for what most devices have.
func (l level) rarity() int {
	switch {
	case l.layers > 4:
		return 2
	case l.qam > 256:
		return 1
	}
	return 0
}

// bits of a resource element over all layers.
func (l level) bits() int {
	order := 0
	for qam := l.qam; qam > 1; qam >>= 1 {
		order++
	}
	return int(l.layers) * order
}

// needs is the least that has to be stated for the carriers to reach a rate whatever
// stays open, one way of several; empty if nothing does. See [Evidence.enough].
func (e *Evidence) needs(d bands.Direction, reaches func(*big.Rat) bool) []string {
	c := e.enough(d, reaches)
	if c == nil {
		return nil
	}
	parts := e.stating(c, d)
	need := "for example " + parts[0]
	if len(parts) > 1 {
		need += ", with " + words.And(parts[1:])
	}
	return []string{need}
}

// enough is the carriers with as little more stated of them as lets them reach a rate
// whatever they leave open: the usual spacings and uplinks, the usual patterns if that will
// do, and the lowest level that will, less all that turns out not to be needed. Nil if
// nothing is enough.
func (e *Evidence) enough(d bands.Direction, reaches func(*big.Rat) bool) ca.Combination {
	for _, phones := range [...]bool{true, false} {
		for _, generously := range [...]bool{false, true} {
			base := e.settle(d, generously)
			for _, l := range levels() {
				if phones && l.rarity() > 1 {
					continue
				}
				c := e.raiseTo(base, d, l, phones)
				if holds(c, d, reaches) {
					return e.thin(c, d, reaches)
				}
			}
		}
	}
	return nil
}

// holds tells whether carriers reach a rate whatever they leave open.
func holds(c ca.Combination, d bands.Direction, reaches func(*big.Rat) bool) bool {
	b, err := throughput.BoundsOf(c, d)
	return err == nil && reaches(mbps(b.Least.Schedulable)) && reaches(mbps(b.Most.Schedulable))
}

// settle states what is usual of patterns, spacings and uplinks where carriers leave them
// open; generously, the patterns have almost all of the time for the direction.
func (e *Evidence) settle(d bands.Direction, generously bool) ca.Combination {
	c := slices.Clone(e.Stated)
	for i := range c {
		p, r := &e.Assessment.Carriers[i], &e.Rates.Carriers[i]
		if d == bands.Uplink && p.UplinkWidth != 0 && c[i].Transmit == ca.Open {
			c[i].Transmit = ca.No
			if p.Transmits {
				c[i].Transmit = ca.Yes
			}
		}
		if !e.hasLink(i, d) {
			continue
		}
		if c[i].SCS == 0 && c[i].Band.RAT == bands.NR && len(p.Info.Spacings(p.Width(d))) > 1 {
			c[i].SCS = p.Spacing
		}
		if r.Frame.Assumed && c[i].Pattern == "" {
			c[i].Pattern = r.Frame.String()
			if generously {
				c[i].Pattern = generous(c[i].Band.RAT, d, r.Link(d).SCS)
			}
		}
	}
	return c
}

// manyCarriers is how many are thinned one by one; of more, all or none.
const manyCarriers = 8

// thin takes back what need not be stated, kind by kind and carrier by carrier, the
// carriers with least bandwidth first.
func (e *Evidence) thin(c ca.Combination, d bands.Direction, reaches func(*big.Rat) bool) ca.Combination {
	order := make([]int, len(c))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, k int) int {
		return int((e.Assessment.Carriers[i].Width(d) - e.Assessment.Carriers[k].Width(d)) / bands.KHz)
	})
	for _, back := range [...]func(c, stated *ca.Carrier){
		func(c, stated *ca.Carrier) { c.SCS = stated.SCS },
		func(c, stated *ca.Carrier) { c.Transmit = stated.Transmit },
		func(c, stated *ca.Carrier) {
			c.Layers, c.QAM, c.UplinkLayers, c.UplinkQAM = stated.Layers, stated.QAM, stated.UplinkLayers, stated.UplinkQAM
		},
		func(c, stated *ca.Carrier) { c.Pattern = stated.Pattern },
	} {
		all := slices.Clone(c)
		for i := range all {
			back(&all[i], &e.Stated[i])
		}
		if slices.Equal(all, c) || holds(all, d, reaches) {
			c = all
			continue
		}
		if len(c) > manyCarriers {
			continue
		}
		for _, i := range order {
			less := slices.Clone(c)
			back(&less[i], &e.Stated[i])
			if less[i] != c[i] && holds(less, d, reaches) {
				c = less
			}
		}
	}
	return c
}

// fewAntennas is how many layers phones take below 1 GHz and in FR2 (common practice, no
// source).
const fewAntennas = 2

// raise gives the open links of carriers a level, as far as they can have it.
func (e *Evidence) raise(c ca.Combination, d bands.Direction, l level) ca.Combination {
	return e.raiseTo(c, d, l, false)
}

// raiseTo is raise, with no more layers than phones take in a band if that is asked for, and
// no 1024QAM in FR2 (TS 38.306 clause 4.2.7, pdsch-1024QAM-FR1; from memory).
func (e *Evidence) raiseTo(c ca.Combination, d bands.Direction, l level, phones bool) ca.Combination {
	raised := slices.Clone(c)
	for i := range raised {
		p := &raised[i]
		layers, qam := linkOf(p, d)
		if !e.hasLink(i, d) {
			continue
		}
		fits := func() bool {
			_, err := throughput.Rate(ca.Assess(ca.Combination{*p}))
			return err == nil
		}
		if *layers == 0 {
			most := l.layers
			if b := e.Assessment.Carriers[i].Info; phones && (b.Range.IsFR2() || b.Span(bands.Downlink).High < bands.GHz) {
				most = min(most, fewAntennas)
			}
			for *layers = most; *layers > 1 && !fits(); *layers /= 2 {
			}
		}
		if *qam == 0 {
			largest := l.qam
			if phones && e.Assessment.Carriers[i].Info.Range.IsFR2() {
				largest = min(largest, 256)
			}
			for *qam = largest; *qam > 4 && !fits(); *qam /= 4 {
			}
		}
	}
	return raised
}

// linkOf are the layers and the constellation of a carrier in a direction.
func linkOf(c *ca.Carrier, d bands.Direction) (layers *uint8, qam *uint16) {
	if d == bands.Uplink {
		return &c.UplinkLayers, &c.UplinkQAM
	}
	return &c.Layers, &c.QAM
}

func (e *Evidence) hasLink(i int, d bands.Direction) bool {
	return e.Rates != nil && !e.Rates.Carriers[i].Link(d).IsZero()
}

// stating says in words what carriers state beyond those of the evidence.
func (e *Evidence) stating(c ca.Combination, d bands.Direction) []string {
	var need []string
	add := func(list []item) { need = append(need, e.gathered(list)...) }
	add(e.differing(c, func(c, stated *ca.Carrier) string {
		layers, qam := linkOf(c, d)
		had, size := linkOf(stated, d)
		var what []string
		if *layers != *had {
			what = append(what, plural(int(*layers), "layer"))
		}
		if *qam != *size {
			what = append(what, constellation(*qam))
		}
		return strings.Join(what, " of ")
	}))
	add(e.differing(c, func(c, stated *ca.Carrier) string {
		if c.Pattern == stated.Pattern {
			return ""
		}
		if strings.Trim(c.Pattern, "0123456789DU") == "" { // of [generous]: it has no special slots
			return "a TDD pattern with nearly all of the time for the " + d.String()
		}
		return "the TDD pattern " + c.Pattern + " or a larger share for the " + d.String()
	}))
	add(e.differing(c, func(c, stated *ca.Carrier) string {
		if c.SCS == stated.SCS {
			return ""
		}
		return "a subcarrier spacing of " + c.SCS.String()
	}))
	add(e.differing(c, func(c, stated *ca.Carrier) string {
		if c.Transmit == stated.Transmit {
			return ""
		}
		return map[ca.Choice]string{ca.Yes: "a UE that transmits", ca.No: "a UE that does not transmit"}[c.Transmit]
	}))
	return need
}

// plainly says how little 2 layers of 64QAM, which most devices have, reach of a rate;
// empty if they reach it.
func (e *Evidence) plainly(d bands.Direction, reaches func(*big.Rat) bool) string {
	c := e.raise(e.settle(d, false), d, level{2, 64})
	for i := range c {
		if layers, qam := linkOf(&c[i], d); e.hasLink(i, d) && (*layers > 2 || *qam > 64) {
			return "" // more is stated
		}
	}
	b, err := throughput.BoundsOf(c, d)
	if most := mbps(b.Most.Schedulable); err == nil && !reaches(most) {
		return ", and with 2 layers of 64QAM it is at most " + trim(most, 1) + " Mbit/s"
	}
	return ""
}

// item is what carrier i has to state, in words.
type item struct {
	i    int
	what string
}

// differing lists what carriers state differently; nothing for an empty text.
func (e *Evidence) differing(c ca.Combination, of func(c, stated *ca.Carrier) string) []item {
	var list []item
	for i := range c {
		if what := of(&c[i], &e.Stated[i]); what != "" {
			list = append(list, item{i, what})
		}
	}
	return list
}

// gathered says each thing once with the bands that it is for, or with how many of the
// carriers where bands do not tell them apart.
func (e *Evidence) gathered(list []item) []string {
	var texts []string
	for k := range list {
		what := list[k].what
		if slices.ContainsFunc(list[:k], func(o item) bool { return o.what == what }) {
			continue
		}
		var names []string
		count, alike := 0, 0
		for _, o := range list {
			if o.what != what {
				continue
			}
			count++
			if name := e.Stated[o.i].Band.String(); !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
		for i := range e.Stated {
			if slices.Contains(names, e.Stated[i].Band.String()) {
				alike++
			}
		}
		text := what + " in " + words.And(names)
		if count < alike {
			text = what + " on " + strconv.Itoa(count) + " of the " + strconv.Itoa(alike) + " carriers in " + words.And(names)
		}
		texts = append(texts, text)
	}
	return texts
}

// constellation names a constellation by its size.
func constellation(size uint16) string {
	if size == 4 {
		return "QPSK"
	}
	return strconv.Itoa(int(size)) + "QAM"
}

// openOf says what is left open of the carriers that a rate depends on; the carriers
// themselves if nothing is.
func (e *Evidence) openOf(d bands.Direction) string {
	var layers, qam, pattern, spacing, uplinks bool
	for i := range e.Stated {
		c, p := &e.Stated[i], &e.Assessment.Carriers[i]
		uplinks = uplinks || d == bands.Uplink && p.UplinkWidth != 0 && c.Transmit == ca.Open && len(e.Stated) > 1
		if !e.hasLink(i, d) {
			continue
		}
		v, q := linkOf(c, d)
		layers, qam = layers || *v == 0, qam || *q == 0
		pattern = pattern || e.Rates.Carriers[i].Frame.Assumed
		spacing = spacing || c.SCS == 0 && c.Band.RAT == bands.NR && len(p.Info.Spacings(p.Width(d))) > 1
	}
	var list []string
	for _, o := range [...]struct {
		open bool
		what string
	}{{layers, "layers"}, {qam, "modulation"}, {pattern, "TDD pattern"}, {spacing, "subcarrier spacing"}, {uplinks, "uplink carriers"}} {
		if o.open {
			list = append(list, o.what)
		}
	}
	if len(list) == 0 {
		return "the carriers"
	}
	return "the " + words.And(list) + " of " + e.Name
}

// generous is a pattern with all of the time, or as good as all, for a direction.
func generous(rat bands.RAT, d bands.Direction, scs bands.Frequency) string {
	if rat == bands.LTE {
		return map[bool]string{true: "0", false: "5"}[d == bands.Uplink]
	}
	return strconv.Itoa(int(10*scs/(15*bands.KHz))) + map[bool]string{true: "U", false: "D"}[d == bands.Uplink]
}
