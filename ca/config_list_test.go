package ca

import (
	"slices"
	"strings"
	"testing"

	"spectally/bands"
)

// named parses a name that is known to be good.
func named(t testing.TB, s string) Name {
	t.Helper()
	n, err := ParseName(s)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// listed finds a configuration that is known to be listed.
func listed(t testing.TB, s string) Configuration {
	t.Helper()
	c, ok := Find(named(t, s))
	if !ok {
		t.Fatalf("%s is not listed", s)
	}
	return c
}

// TestNames reads every name of the lists and compares the quick scan of the
// index with the parser. The counts are those of the tables of TS 36.101
// V19.6.0 clause 5.6A.1, TS 38.101-1 V19.5.0 clauses 5.5A to 5.5C, TS 38.101-2
// V19.4.0 clause 5.5A and TS 38.101-3 V19.5.0 clauses 5.5A and 5.5B, counted when
// the facts were taken from them.
func TestNames(t *testing.T) {
	counts := map[Kind]int{}
	seen := map[Name]bool{}
	entries := 0
	for c := range All() {
		entries++
		n, err := ParseName(c.Printed())
		if err != nil {
			t.Errorf("%s: %v", c.Printed(), err)
			continue
		}
		if n != c.Name() || n.Kind() != c.Kind() || n.Carriers() != c.Carriers() {
			t.Errorf("%s is %v of kind %v with %d carriers; the list has %v, %v, %d",
				c.Printed(), n, n.Kind(), n.Carriers(), c.Name(), c.Kind(), c.Carriers())
		}
		var parts []Component
		for s := scanName(c.entry.name); ; {
			p, ok := s.next()
			if !ok {
				break
			}
			k := Component{Band: p.band}
			for b := p.blocks(); ; {
				class, ok := b.next()
				if !ok {
					break
				}
				k.Blocks = append(k.Blocks, class)
			}
			parts = append(parts, k)
		}
		parts = inOrder(parts)
		for i, k := range n.Components() {
			if i >= len(parts) || parts[i].Band != k.Band || !slices.Equal(parts[i].Blocks, k.Blocks) {
				t.Errorf("%s scanned as %v", n, parts)
			}
		}
		if !seen[n] {
			seen[n] = true
			counts[c.Kind()]++
		}
		if found, ok := Find(n); !ok || found.Name() != n {
			t.Errorf("%s is not found", n)
		}
	}
	for k, want := range map[Kind]int{KindLTECA: 1907, KindNRCA: 7988, KindENDC: 14397, KindNEDC: 695, KindNRDC: 3714, KindSUL: 133} {
		if counts[k] != want {
			t.Errorf("%d names of kind %v, want %d", counts[k], k, want)
		}
	}
	if len(seen) != 28834 || entries != 28841 {
		t.Errorf("%d names in %d listings, want 28834 in 28841", len(seen), entries)
	}
}

// TestOtherSpellings finds configurations under spellings that the tables do not
// use.
func TestOtherSpellings(t *testing.T) {
	for typed, want := range map[string]string{
		"ca_n78(2a)-n3a":               "CA_n3A-n78(2A)",
		"CA_7A-3A":                     "CA_3A-7A",
		"DC_n78A-n3A_1A":               "",
		"DC_7A-3A_n78A":                "DC_3A-7A_n78A",
		"DC_n8A-n77(2A)-n257A-3(n)AA":  "DC_n77(2A)-n257A-n8A-3(n)AA",
		"CA_n78A-n78A":                 "CA_n78(2A)",
		"SUL_n80A-n78A":                "SUL_n78A-n80A",
		"CA_n3A-n90A":                  "CA_n3A-n41A",
		"DC_3A_n90A":                   "DC_3A_n41A",
		"CA_n41A-n90A":                 "",
		"CA_n78A":                      "",
		"DC_n257A-n77A":                "DC_n77A-n257A",
		"CA_n79A-n98A_n41A-n95A":       "CA_n41A-n95A_n79A-n98A",
		"DC_1A_SUL_n84A-n78A":          "DC_1A_SUL_n78A-n84A",
		"CA_n260(Q-3O-A)":              "CA_n260(A-3O-Q)",
		"DC_n77A-n8A-3(n)AA-1A":        "DC_n8A-n77A-3(n)AA-1A",
		"CA_66A-66A-66A-66A-66A-66A":   "",
		"CA_n46N-n48(4A)-n96B":         "CA_n46N-n48(4A)-n96B",
		" CA_n1A - n3A - n7A - n78A\t": "CA_n1A-n3A-n7A-n78A",
	} {
		c, ok := Find(named(t, typed))
		switch {
		case want == "" && ok:
			t.Errorf("%s is found as %s", typed, c.Printed())
		case want != "" && (!ok || c.Printed() != want):
			t.Errorf("%s is not found as %s", typed, want)
		}
	}
	if n := named(t, "CA_n3A-n90A"); listed(t, "CA_n3A-n90A").Name() != n {
		t.Errorf("%s comes back as %s", n, listed(t, "CA_n3A-n90A").Name())
	}
	if all := FindAll(named(t, "DC_66A-(n)66AA")); len(all) != 3 {
		t.Errorf("DC_66A-(n)66AA is listed %d times, want 3 (TS 38.101-3 V19.5.0 Tables 5.5B.2-1 and 5.5B.3-2)", len(all))
	}
}

// TestReferences wants every set that a table refers to: a configuration of the
// list, within the band, with a set of that number.
func TestReferences(t *testing.T) {
	refs := 0
	check := func(e *entry) {
		for _, r := range e.setRows() {
			for _, x := range r.cells {
				if x.ref == "" {
					continue
				}
				refs++
				if x.nested == nil {
					t.Errorf("%s refers to %s, which is not listed", e.name, x.ref)
					continue
				}
				if p, _ := firstPart(x.nested.name); p.band != x.band {
					t.Errorf("%s refers to %s for %s", e.name, x.ref, x.band)
				}
				if !slices.Contains(x.nested.setNumbers(), int(x.bcs)) {
					t.Errorf("%s refers to %s, which has the sets %v", e.name, x.ref, x.nested.setNumbers())
				}
			}
		}
	}
	for c := range All() {
		check(c.entry)
	}
	for _, e := range endcIntraFamily.all().entries {
		check(e)
	}
	if refs < 10000 {
		t.Errorf("%d references, want more than 10000", refs)
	}
}

// unlistedWidths holds the widths of sets that Table 5.6.1-1 does not give the
// band (TS 36.101 V19.6.0): band 8 with 15 and 20 MHz, told as a doubt.
var unlistedWidths = widthBit(150) | widthBit(200)

// TestSets checks what must hold for the sets of every configuration.
func TestSets(t *testing.T) {
	without := 0
	for c := range All() {
		sets := c.Sets()
		if len(sets) == 0 {
			switch {
			case c.Kind() == KindENDC || c.Kind() == KindNEDC:
				if len(c.Members()) == 0 {
					t.Errorf("%s has neither sets nor members", c.Name())
				}
			default:
				without++
			}
			continue
		}
		checkSets(t, c, sets)
	}
	// CA_n5A-n25(2A)-n41A, whose set is not certain.
	if without != 1 {
		t.Errorf("%d configurations have no sets, want 1", without)
	}
}

func checkSets(t *testing.T, c Configuration, sets []Set) {
	n := c.Name()
	components := n.Components()
	for i, s := range sets {
		if s.BCS < 0 || s.BCS > 5 || s.Source == (bands.Source{}) {
			t.Errorf("%s: set %d of %v", n, s.BCS, s.Source)
		}
		if want := 1; i > 0 && sets[i-1].BCS == s.BCS {
			if want = sets[i-1].Alternative + 1; s.Alternative != want {
				t.Errorf("%s: set %d has alternative %d after %d", n, s.BCS, s.Alternative, want-1)
			}
		}
		carriers := map[bands.ID]int{}
		for _, k := range s.Components {
			carriers[k.Band] += len(k.Carriers)
			for _, list := range k.Carriers {
				checkWidths(t, c, k.Band, list)
			}
			for _, l := range k.Limits {
				if len(k.Carriers) != 1 || !slices.Contains(k.Carriers[0], l.Width) || l.Limit.Code() == "" {
					t.Errorf("%s: set %d limits %v of %s", n, s.BCS, l, k.Band)
				}
			}
		}
		if len(carriers) != len(components) {
			t.Errorf("%s: set %d has the bands %v", n, s.BCS, carriers)
		}
		for _, k := range components {
			if carriers[k.Band] != k.Carriers() {
				t.Errorf("%s: set %d has %d carriers of %s, want %d", n, s.BCS, carriers[k.Band], k.Band, k.Carriers())
			}
		}
	}
}

func checkWidths(t *testing.T, c Configuration, id bands.ID, list []bands.Frequency) {
	if len(list) == 0 || !slices.IsSorted(list) {
		t.Errorf("%s: widths %v of %s", c.Name(), list, id)
	}
	has := bandWidths(id)
	if id.RAT == bands.LTE && id.Number == 8 && c.Doubt() != "" {
		has |= unlistedWidths
	}
	for _, w := range list {
		if b := carrierOf(w).bit; b == 0 || b&has == 0 {
			t.Errorf("%s: %s has no %s", c.Name(), id, w)
		}
	}
}

// TestBandWidthsKnown wants every width of every band among those that a set can
// hold.
func TestBandWidthsKnown(t *testing.T) {
	for _, b := range bands.All(0) {
		if b.Duplex == bands.SDO {
			continue // broadcast bands take no part in carrier aggregation
		}
		for _, w := range b.Widths() {
			if carrierOf(w.Width).bit == 0 {
				t.Errorf("%s has %s, which no set can hold", b.ID, w.Width)
			}
		}
		if (b.Duplex == bands.SUL) != supplementary(b.ID) {
			t.Errorf("%s is %v; supplementary uplink %v", b.ID, b.Duplex, supplementary(b.ID))
		}
		if b.Range.IsFR2() != rangeFR2(b.ID) {
			t.Errorf("%s is in %v", b.ID, b.Range)
		}
		for _, r := range ClassRows(b) {
			if got := r.Class.carriers(b.ID); got != r.Carriers {
				t.Errorf("%s: class %s has %d carriers, the table has %d", b.ID, r.Class, got, r.Carriers)
			}
		}
	}
}

// TestUplinks reads every uplink. Each uses only bands of its configuration, no
// more carriers than it has there, and is itself a configuration of the standard.
func TestUplinks(t *testing.T) {
	count, empty := 0, 0
	for c := range All() {
		uplinks := c.Uplinks()
		if len(uplinks) == 0 {
			empty++
		}
		have := map[bands.ID]int{}
		for _, k := range c.Name().Components() {
			have[k.Band] = k.Carriers()
		}
		for _, u := range uplinks {
			count++
			if u.Name.IsZero() {
				if u.Text != "*" && u.Text != "N/A" {
					t.Errorf("%s: uplink %q", c.Name(), u.Text)
				}
				continue
			}
			for _, k := range u.Name.Components() {
				if have[k.Band] < k.Carriers() {
					t.Errorf("%s: uplink %s", c.Name(), u.Text)
				}
			}
			for _, p := range u.PowerClasses {
				if p != "2" && p != "1.5" {
					t.Errorf("%s: power class %q of %s", c.Name(), p, u.Text)
				}
			}
			if strings.HasPrefix(u.Text, "CA_") || strings.HasPrefix(u.Text, "SUL_") {
				if s := StatusOf(u.Name); len(s.Listed) == 0 {
					t.Errorf("%s: uplink %s is not listed", c.Name(), u.Text)
				}
			}
			if got, ok := c.AllowsUplink(u.Name); !ok || got.Name != u.Name {
				t.Errorf("%s does not allow its own uplink %s", c.Name(), u.Text)
			}
		}
	}
	// 38588 + 2785 of NR and E-UTRA CA; the uplink cells of three FR2
	// configurations are empty (TS 38.101-2 V19.4.0 Table 5.5A.2-2).
	if count < 41373 || empty != 3 {
		t.Errorf("%d uplinks, %d configurations without; want more than 41373 and 3", count, empty)
	}
}
