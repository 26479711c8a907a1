package ca

import (
	"slices"
	"strings"
	"testing"

	"spectally/bands"
	"spectally/data/pace"
)

// droppings yields the names that are left when one carrier of a configuration
// is dropped: a sub-block of one carrier goes, a wider one gets a class of one
// carrier less, in NR of the same fallback group. The last carrier of the master
// cell's technology stays, and so does the downlink of a supplementary uplink.
func droppings(t *testing.T, c Configuration, visit func(Name)) {
	p := c.Name().Parts()
	for side, list := range [][]Component{p.LTE, p.NR} {
		for i, k := range list {
			for j, class := range k.Blocks {
				if j > 0 && k.Blocks[j-1] == class {
					continue // the same again
				}
				for _, lower := range lowerBy(k.Band, class) {
					q := p
					q.LTE, q.NR = cloneComponents(p.LTE), cloneComponents(p.NR)
					changed := &q.LTE
					if side == 1 {
						changed = &q.NR
					}
					if lower == "" {
						(*changed)[i].Blocks = slices.Delete((*changed)[i].Blocks, j, j+1)
						if len((*changed)[i].Blocks) == 0 {
							*changed = slices.Delete(*changed, i, i+1)
						}
					} else {
						(*changed)[i].Blocks[j] = lower
						if q.Joined.Band == k.Band.Number && side == 0 && q.Joined.LTE == class {
							q.Joined.LTE = lower
						} else if q.Joined.Band == k.Band.Number && side == 1 && q.Joined.NR == class {
							q.Joined.NR = lower
						}
					}
					if n, ok := remaining(t, c, q); ok {
						visit(n)
					}
				}
			}
		}
	}
}

// lowerBy returns the classes with one carrier less, "" for none at all.
func lowerBy(id bands.ID, class Class) []Class {
	n := class.carriers(id)
	if n == 1 {
		return []Class{""}
	}
	b, err := bands.Lookup(id)
	if err != nil {
		return nil
	}
	var groups []int
	for _, r := range ClassRows(b) {
		if r.Class == class {
			groups = r.Groups
		}
	}
	var list []Class
	for _, r := range ClassRows(b) {
		shares := slices.ContainsFunc(r.Groups, func(g int) bool {
			return slices.Contains(groups, g) && (g != 3 || b.Range.IsFR2() || b.IsShared())
		})
		if r.Carriers == n-1 && (id.RAT == bands.LTE || r.Class == "A" || shares) {
			list = append(list, r.Class)
		}
	}
	return list
}

// remaining makes a name of what is left of a configuration.
func remaining(t *testing.T, c Configuration, p Parts) (Name, bool) {
	if c.Kind() == KindENDC && len(p.LTE) == 0 || c.Kind() == KindNEDC && len(p.NR) == 0 {
		return Name{}, false
	}
	down := false
	for _, k := range p.NR {
		down = down || !supplementary(k.Band)
		if k.Cell != (bands.ID{}) && !slices.ContainsFunc(p.NR, func(h Component) bool { return h.Band == k.Cell }) {
			return Name{}, false
		}
	}
	if len(p.NR) > 0 && !down {
		return Name{}, false
	}
	if len(p.LTE) == 0 || len(p.NR) == 0 {
		p.Joined = Joined{}
		if c.Kind() != KindNRDC || single(p.NR) {
			p.Kind = 0
		}
	}
	if j := p.Joined; j != (Joined{}) && (!hasBlock(p.LTE, bands.ID{RAT: bands.LTE, Number: j.Band}, j.LTE) || !hasBlock(p.NR, bands.ID{RAT: bands.NR, Number: j.Band}, j.NR)) {
		p.Joined = Joined{}
	}
	if c.Kind() == KindSUL {
		p.Kind = 0
	}
	n, err := NewName(p)
	if err != nil {
		t.Errorf("%s less a carrier: %v", c.Name(), err)
		return Name{}, false
	}
	return n, true
}

// TestDropOne drops each carrier of each configuration: what is left is listed,
// a fallback, or one carrier alone (TS 36.101 V19.6.0 clause 4.3A, TS 38.101-1
// V19.5.0 clause 5.5A.0).
func TestDropOne(t *testing.T) {
	dropped, fallbacks := 0, 0
	for c := range pace.Some(All(), 17) {
		droppings(t, c, func(n Name) {
			dropped++
			s := StatusOf(n)
			if !s.Supported() {
				t.Errorf("%s is left of %s and not supported", n, c.Name())
			}
			if len(s.FallbackOf) == 0 {
				return
			}
			fallbacks++
			for i, f := range s.FallbackOf {
				if f.Carriers() < n.Carriers() || i > 0 && familyOf(f.Kind()) == familyOf(s.FallbackOf[i-1].Kind()) && f.Carriers() < s.FallbackOf[i-1].Carriers() {
					t.Errorf("%s: fallback of %s, with fewer carriers", n, f.Name())
				}
			}
		})
	}
	if pace.Whole && (dropped < 90000 || fallbacks < 2000) {
		t.Errorf("%d names left, %d of them fallbacks", dropped, fallbacks)
	}
}

func TestStatus(t *testing.T) {
	for _, c := range []struct {
		name               string
		listed, fallbackOf string // one of them
		nearest, why       string // the first
	}{
		{name: "CA_n3A-n78(2A)", listed: "TS 38.101-1 Table 5.5A.3.1-1c"},
		{name: "CA_3A-7A-20A", listed: "TS 36.101 Table 5.6A.1-2a"},
		{name: "DC_(n)41AA", listed: "TS 38.101-3 Table 5.5B.2-1"},
		{name: "DC_40(n)AD", listed: "TS 38.101-3 Table 5.5B.2a-1"},
		{name: "CA_n78C_n84A-n89A", listed: "TS 38.101-1 Table 5.5C-5"},
		// A class of fewer carriers lies below one of more.
		{name: "CA_42A-42B", fallbackOf: "CA_42A-42D"},
		{name: "CA_n77A-n78A-n257A", nearest: "CA_n77A-n78A", why: "without n257"},
		{name: "CA_3A-41F", nearest: "CA_3A-41D", why: "with 41D instead of 41F"},
		{name: "CA_n40A-n260A", nearest: "CA_n40B", why: "without n260"},
		// n257 class G is of fallback group 3, D of group 2.
		{name: "CA_n78A-n257(D-M)", nearest: "CA_n78A-n257M", why: "with n257M instead of n257(D-M)"},
		{name: "DC_12A_n12A", fallbackOf: "DC_12A-66A_n12A"},
		{name: "n78A"},
	} {
		s := StatusOf(named(t, c.name))
		switch {
		case c.listed != "":
			if len(s.Listed) == 0 || s.Listed[0].Source().Short() != c.listed {
				t.Errorf("%s: %v, want listed in %s", c.name, s.Listed, c.listed)
			}
		case c.fallbackOf != "":
			if len(s.FallbackOf) == 0 || !slices.ContainsFunc(s.FallbackOf, func(f Configuration) bool { return f.Printed() == c.fallbackOf }) {
				t.Errorf("%s: not a fallback of %s", c.name, c.fallbackOf)
			}
		case c.nearest != "":
			near := NearestTo(s.Name)
			if s.Supported() || len(near) == 0 || len(near) > maxNearest {
				t.Errorf("%s is supported, or near to %v", c.name, near)
				continue
			}
			m := near[0]
			if m.Configuration.Printed() != c.nearest || c.why != "" && m.Why() != c.why {
				t.Errorf("%s: nearest %s, %s; want %s, %s", c.name, m.Configuration.Printed(), m.Why(), c.nearest, c.why)
			}
		default:
			if !s.Alone || !s.Supported() {
				t.Errorf("%s is not one carrier", c.name)
			}
		}
	}
}

// TestCovers checks the rules of fallback one by one on made names.
func TestCovers(t *testing.T) {
	for _, c := range []struct {
		have, want string
		covers     bool
	}{
		{"CA_n3A-n78C", "CA_n3A-n78C", true},
		{"CA_n3A-n78C", "n78A", true},
		{"CA_n3A-n78C", "CA_n78C", true},
		{"CA_n3A-n78C", "CA_n78(2A)", false}, // not contiguous
		{"CA_n3A-n78C", "CA_n78B", false},    // no fewer carriers, and of another group
		{"CA_n78(A-C)", "CA_n78(2A)", true},
		{"CA_n78(A-C)", "CA_n78C", true},
		{"CA_n78(3A)", "CA_n78C", false},
		{"CA_n41E", "CA_n41D", true}, // FR1 group 1
		{"CA_n41G", "CA_n41B", true}, // FR1 group 2
		{"CA_n41G", "CA_n41C", false},
		{"CA_n46D", "CA_n46B", true},  // FR1 group 3, shared spectrum
		{"CA_n41D", "CA_n41B", false}, // group 3 does not hold for n41
		{"CA_n257M", "CA_n257G", true},
		{"CA_n257M", "CA_n257D", false},
		{"CA_n258R12", "CA_n258R2", true},
		{"CA_n258R12", "CA_n258O", false},
		{"CA_n260(2A-Q)", "CA_n260(A-P)", true},
		{"CA_n260(2A-Q)", "CA_n260(3A)", true},
		{"CA_n260(2A-Q)", "CA_n260(2P)", false},
		{"CA_3D-7A", "CA_3C-7A", true},
		{"CA_3D-7A", "CA_3B", true},
		{"CA_3C-7A", "CA_3B", false},
		{"CA_3A-3A-7A", "CA_3A-3A", true},
		{"DC_3A-7A_n78A", "CA_3A-7A", true},
		{"DC_3A-7A_n78A", "DC_7A_n78A", true},
		{"DC_3A_n1A-n78A", "CA_n1A-n78A", false}, // the master cell stays
		{"DC_n1A-n78A_3A", "CA_n1A-n78A", true},
		{"DC_3A_n78A", "DC_n78A_3A", false},
		{"DC_(n)3CA", "DC_(n)3AA", true},
		{"DC_(n)3CA", "DC_3A_n3A", false},
		{"DC_66A-(n)66AA", "DC_66A_n66A", true},
		{"DC_66A-(n)66AA", "DC_(n)66AA", true},
		{"DC_1A-(n)3AA-n78A", "DC_1A-3A_n78A", true},
		{"DC_1A-3A_n3A", "DC_(n)3AA", false},
		{"CA_n1A_n78A-n80A", "SUL_n78A-n80A", true},
		{"CA_n1A_n78A-n80A", "CA_n1A-n78A", true},
		{"CA_n1A_n78A-n80A", "SUL_n1A-n80A", false},
	} {
		have, want := shapeOf(named(t, c.have)), shapeOf(named(t, c.want))
		if got := have.covers(&want); got != c.covers {
			t.Errorf("%s falls back to %s: %v, want %v", c.have, c.want, got, c.covers)
		}
	}
}

// TestFallbackWidths compares the widths of a name that is not listed with the
// sets of what it is a fallback of.
func TestFallbackWidths(t *testing.T) {
	// CA_n46O has the set 0: 20 or 60 MHz, then four carriers of 20 or 40 MHz, at
	// most 220 MHz (TS 38.101-1 V19.5.0 Table 5.5A.1-1).
	n := named(t, "CA_n46E")
	carriers := []bands.Frequency{40 * bands.MHz, 60 * bands.MHz, 20 * bands.MHz, 40 * bands.MHz}
	w := Widths{Components: [][]BlockWidths{{{Carriers: carriers}}}}
	a, err := Admit(n, w)
	if err != nil || !a.Found || !slices.Equal(a.Sets, []int{0}) || a.Configuration.Printed() != "CA_n46O" {
		t.Errorf("%s with %v: %+v, %v", n, w, a, err)
	}
	carriers[2] = 60 * bands.MHz // a second one
	a, err = Admit(n, w)
	if err != nil || !a.Found || a.Admitted() || !strings.Contains(a.RefusalText(), "n46 with 60 MHz beside its other carriers: must be 20 or 40 MHz") {
		t.Errorf("%s with %v: %s, %v", n, w, a.RefusalText(), err)
	}
}
