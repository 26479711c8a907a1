package ca

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/data"
	"spectally/data/pace"
)

// drawer picks widths from the sets as they are published by Sets, resolving
// references and keeping to the limits of classes and to stated maxima by itself.
type drawer struct {
	*rand.Rand
	t testing.TB
}

func pick[T any](d drawer, list []T) T { return list[d.IntN(len(list))] }

// set draws the widths of every component of a configuration from a set; false
// if the draw breaks a limit.
func (d drawer) set(c Configuration, s Set) (Widths, bool) {
	components := c.Name().Components()
	w := Widths{Components: make([][]BlockWidths, len(components)), Lower: s.Lower}
	if len(components) == 1 {
		blocks, ok := d.blocks(c, s)
		w.Components[0] = blocks
		return w, ok
	}
	var total bands.Frequency
	for i, k := range components {
		x := slices.IndexFunc(s.Components, func(x SetComponent) bool { return x.Band == k.Band })
		blocks, ok := d.component(s.Components[x])
		if !ok {
			return w, false
		}
		w.Components[i] = blocks
		if !supplementary(k.Band) {
			total += totalOf(blocks)
		}
	}
	return w, s.MaxAggregated == 0 || total <= s.MaxAggregated
}

func totalOf(blocks []BlockWidths) bands.Frequency {
	var total bands.Frequency
	for _, b := range blocks {
		for _, f := range b.Carriers {
			total += f
		}
	}
	return total
}

func (d drawer) component(x SetComponent) ([]BlockWidths, bool) {
	if x.Ref == "" {
		b := BlockWidths{Ordered: true}
		for _, list := range x.Carriers {
			b.Carriers = append(b.Carriers, pick(d, list))
		}
		return []BlockWidths{b}, true
	}
	name, bcs, _ := strings.Cut(x.Ref, "_BCS")
	c := listed(d.t, name)
	var sets []Set
	for _, s := range c.Sets() {
		if bcs == string(rune('0'+s.BCS)) {
			sets = append(sets, s)
		}
	}
	return d.blocks(c, pick(d, sets))
}

// blocks draws the sub-blocks of a configuration within one band.
func (d drawer) blocks(c Configuration, s Set) ([]BlockWidths, bool) {
	k := c.Name().Components()[0]
	var blocks []BlockWidths
	byClass := map[Class][]BlockWidths{} // rows of E-UTRA have them in order of frequency
	for _, x := range s.Components {
		if x.Ref != "" {
			inner, ok := d.component(x)
			if !ok {
				return nil, false
			}
			name, _, _ := strings.Cut(x.Ref, "_BCS")
			for i, class := range named(d.t, name).Components()[0].Blocks {
				byClass[class] = append(byClass[class], inner[i])
			}
			continue
		}
		for _, list := range x.Carriers {
			b := BlockWidths{Carriers: []bands.Frequency{pick(d, list)}, Ordered: true}
			byClass["A"] = append(byClass["A"], b)
			blocks = append(blocks, b)
		}
	}
	if len(k.Blocks) == 1 {
		b := BlockWidths{Ordered: true}
		for _, x := range blocks {
			b.Carriers = append(b.Carriers, x.Carriers...)
		}
		blocks = []BlockWidths{b}
		if !classAllows(k.Band, k.Blocks[0], b.Carriers) {
			return nil, false
		}
	} else {
		blocks = nil
		for _, class := range slices.Compact(slices.Clone(k.Blocks)) {
			blocks = append(blocks, byClass[class]...)
		}
	}
	return blocks, s.MaxAggregated == 0 || totalOf(blocks) <= s.MaxAggregated
}

// classAllows reads the limits of an NR class straight from its table: TS
// 38.101-1 V19.5.0 Table 5.3A.5-1, TS 38.101-2 V19.4.0 Table 5.3A.4-1.
func classAllows(id bands.ID, class Class, widths []bands.Frequency) bool {
	if id.RAT == bands.LTE {
		return true // classes of resource blocks; no printed row breaks one
	}
	table := "fr1"
	if id.Number >= 257 {
		table = "fr2"
	}
	for _, row := range data.Find(classTable(), table).Rows {
		if row[1] != string(class) {
			continue
		}
		var sum bands.Frequency
		for _, w := range widths {
			sum += w
			if _, most, ok := strings.Cut(row[6], "at most "); ok && w.InMHz() > float64(decimal(strings.Fields(most)[0])) {
				return false
			}
		}
		least := bands.Frequency(decimal(strings.TrimLeft(row[2], ">="))) * bands.MHz
		if strings.HasPrefix(row[2], ">=") && sum < least || !strings.HasPrefix(row[2], ">=") && sum <= least {
			return false
		}
		return sum <= bands.Frequency(decimal(row[3]))*bands.MHz
	}
	return false
}

var classTable = data.Lazy("ca_classes")

// drawable returns the configurations that have sets of their own.
func drawable() []Configuration {
	var list []Configuration
	for c := range pace.Some(All(), 17) {
		if len(c.Sets()) > 0 {
			list = append(list, c)
		}
	}
	return list
}

// draw draws a set of a configuration and widths from it; false if no draw of
// many keeps the limits.
func (d drawer) draw(c Configuration) (Set, Widths, bool) {
	s := pick(d, c.Sets())
	for range 500 {
		if w, ok := d.set(c, s); ok {
			return s, w, true
		}
	}
	return s, Widths{}, false
}

// TestDrawnWidths draws widths from random sets and wants the set back; then it
// makes one width illegal and wants an error that names the legal ones.
func TestDrawnWidths(t *testing.T) {
	d := drawer{rand.New(rand.NewPCG(3, 2026)), t}
	list := drawable()
	drawn, undrawn := 0, 0
	for range 4000 {
		c := pick(d, list)
		s, w, ok := d.draw(c)
		if !ok {
			undrawn++
			continue
		}
		drawn++
		a, err := Admit(c.Name(), w)
		if err != nil {
			t.Fatalf("%s with %v: %v", c.Name(), w, err)
		}
		if !slices.Contains(a.Sets, s.BCS) || !a.Admitted() || !slices.IsSorted(a.Sets) {
			t.Errorf("%s with %v drawn from set %d: admitted by %v, %s", c.Name(), w, s.BCS, a.Sets, a.RefusalText())
		}
		d.spoil(c, s, w)
	}
	if drawn < 3900 {
		t.Errorf("%d draws, %d without a result", drawn, undrawn)
	}
}

// spoil gives one carrier a width that no set has for its component.
func (d drawer) spoil(c Configuration, s Set, w Widths) {
	components := c.Name().Components()
	i := d.IntN(len(components))
	j := d.IntN(len(w.Components[i]))
	x := d.IntN(len(w.Components[i][j].Carriers))
	has := map[bands.Frequency]bool{}
	for _, set := range c.Sets() {
		for _, k := range set.Components {
			if k.Band == components[i].Band {
				for _, list := range k.Carriers {
					for _, f := range list {
						has[f] = true
					}
				}
			}
		}
	}
	var not []bands.Frequency
	for _, u := range channelWidths {
		if f := bands.Frequency(u) * widthUnit; !has[f] {
			not = append(not, f)
		}
	}
	not = append(not, 12*bands.MHz, bands.MHz+1, 7*bands.GHz)
	good := w.Components[i][j].Carriers[x]
	w.Components[i][j].Carriers[x] = pick(d, not)
	a, err := Admit(c.Name(), w)
	if err != nil {
		d.t.Fatal(err)
	}
	if len(a.Sets) != 0 || a.Admitted() || len(a.Refusals) == 0 {
		d.t.Fatalf("%s with %v: admitted by %v", c.Name(), w, a.Sets)
	}
	if !slices.IsSortedFunc(a.Refusals, func(a, b Refusal) int { return len(a.Misfits) - len(b.Misfits) }) || len(a.Refusals[0].Misfits) == 0 {
		d.t.Errorf("%s: refusals %v are not in order", c.Name(), a.Refusals)
	}
	for _, r := range a.Refusals {
		if r.BCS != s.BCS {
			continue
		}
		named := false
		for _, m := range r.Misfits {
			named = named || m.At == (Place{i, j, x}) && !m.Together && slices.Contains(m.Allowed, good)
		}
		if !named {
			d.t.Errorf("%s, set %d with %v: %v does not name %s", c.Name(), s.BCS, w, r.Misfits, good)
		}
	}
	if text := a.RefusalText(); text == "" || strings.Contains(text, "\n") {
		d.t.Errorf("%s: refusal %q", c.Name(), text)
	}
}

// TestShuffledWidths wants the same answer for the sub-blocks of one class and
// the carriers of NR in any order, and for those of E-UTRA if their order is not
// known.
func TestShuffledWidths(t *testing.T) {
	d := drawer{rand.New(rand.NewPCG(4, 2026)), t}
	list := drawable()
	for range 1500 {
		c := pick(d, list)
		s, w, ok := d.draw(c)
		if !ok {
			continue
		}
		for i, k := range c.Name().Components() {
			blocks := w.Components[i]
			d.Shuffle(len(blocks), func(a, b int) {
				if k.Blocks[a] == k.Blocks[b] {
					blocks[a], blocks[b] = blocks[b], blocks[a]
				}
			})
			for j := range blocks {
				b := &blocks[j]
				d.Shuffle(len(b.Carriers), func(x, y int) { b.Carriers[x], b.Carriers[y] = b.Carriers[y], b.Carriers[x] })
				b.Ordered = false
			}
		}
		if a, err := Admit(c.Name(), w); err != nil || !slices.Contains(a.Sets, s.BCS) {
			t.Errorf("%s with %v drawn from set %d and shuffled: admitted by %v, %v", c.Name(), w, s.BCS, a.Sets, err)
		}
	}
}

// TestDrawnMembers draws widths for EN-DC and NE-DC of several bands from the
// sets of its members and wants those sets back.
func TestDrawnMembers(t *testing.T) {
	d := drawer{rand.New(rand.NewPCG(5, 2026)), t}
	var list []Configuration
	for c := range All(KindENDC, KindNEDC) {
		if len(c.Members()) == 2 {
			list = append(list, c)
		}
	}
	compared := 0
draws:
	for range 1500 {
		c := pick(d, list)
		w := Widths{}
		var want []int
		for _, m := range c.Members() {
			if !m.Listed {
				k := m.Name.Components()[0]
				b, err := bands.Lookup(k.Band)
				if err != nil || k.Carriers() != 1 {
					t.Fatalf("%s: member %s is not listed; %v", c.Name(), m.Name, err)
				}
				f := pick(d, b.WidthsIn(bands.Downlink, 0))
				w.Components = append(w.Components, []BlockWidths{{Carriers: []bands.Frequency{f}}})
				want = append(want, -1)
				continue
			}
			s, inner, ok := d.draw(m.Configuration)
			if !ok {
				continue draws // its maximum leaves few combinations
			}
			w.Components = append(w.Components, inner.Components...)
			want = append(want, s.BCS)
		}
		compared++
		a, err := Admit(c.Name(), w)
		if err != nil || !a.Admitted() || len(a.Members) != len(want) {
			t.Errorf("%s with %v: %s, %v", c.Name(), w, a.RefusalText(), err)
			continue
		}
		for i, m := range a.Members {
			if want[i] >= 0 && !slices.Contains(m.Sets, want[i]) {
				t.Errorf("%s with %v: %s drawn from set %d, admitted by %v", c.Name(), w, m.Name, want[i], m.Sets)
			}
		}
	}
	if compared < 1450 {
		t.Errorf("%d of 1500 draws compared", compared)
	}
}
