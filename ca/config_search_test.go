package ca

import (
	"slices"
	"strings"
	"testing"

	"spectally/bands"
)

// TestSearch compares searches with going through all configurations and looking
// at their names.
func TestSearch(t *testing.T) {
	id := func(s string) bands.ID {
		v, err := bands.ParseID(s)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	for _, q := range []Query{
		{},
		{With: []bands.ID{id("n78"), id("B3")}},
		{With: []bands.ID{id("n78"), id("n3")}, Only: true},
		{With: []bands.ID{id("n78")}, Only: true},
		{With: []bands.ID{id("n41")}, Without: []bands.ID{id("n1"), id("n3"), id("B1"), id("B3")}},
		{With: []bands.ID{id("B3"), id("B3")}, Kinds: []Kind{KindLTECA}, MinCarriers: 4},
		{Kinds: []Kind{KindNEDC}},
		{Kinds: []Kind{KindSUL, KindNRDC}, MaxCarriers: 2},
		{Kinds: []Kind{KindENDC}, MinCarriers: 3, MaxCarriers: 3, MinDL: 140 * bands.MHz},
		{MinDL: 1000 * bands.MHz},
		{With: []bands.ID{id("n80")}},
		{With: []bands.ID{id("n78")}, Kinds: []Kind{KindNRCA}, Uplink: named(t, "CA_n3A-n78A")},
		{With: []bands.ID{id("n512")}},
		{Kinds: []Kind{KindLTE}},
	} {
		got := Search(q)
		want := map[*entry]bool{}
		for c := range All() {
			if matches(c, q) {
				want[c.entry] = true
			}
		}
		seen := map[*entry]bool{}
		for i, c := range got {
			if !want[c.entry] || seen[c.entry] {
				t.Errorf("%+v finds %s", q, c.Name())
			}
			seen[c.entry] = true
			if i > 0 && (c.MaxDL() > got[i-1].MaxDL() || c.MaxDL() == got[i-1].MaxDL() && c.Carriers() < got[i-1].Carriers()) {
				t.Errorf("%+v: %s stands behind %s", q, c.Name(), got[i-1].Name())
			}
		}
		if len(got) != len(want) {
			t.Errorf("%+v finds %d, want %d", q, len(got), len(want))
		}
	}
}

// matches is the plain reading of a query.
func matches(c Configuration, q Query) bool {
	var have []bands.ID
	for _, k := range c.Name().Components() {
		have = append(have, k.Band)
	}
	for _, id := range q.With {
		if !slices.Contains(have, id) {
			return false
		}
	}
	for _, id := range have {
		if slices.Contains(q.Without, id) || q.Only && !slices.Contains(q.With, id) {
			return false
		}
	}
	if len(q.Kinds) > 0 && !slices.Contains(q.Kinds, c.Kind()) {
		return false
	}
	if c.Carriers() < q.MinCarriers || q.MaxCarriers > 0 && c.Carriers() > q.MaxCarriers || c.MaxDL() < q.MinDL {
		return false
	}
	if !q.Uplink.IsZero() {
		_, ok := c.AllowsUplink(q.Uplink)
		return ok
	}
	return true
}

// Every configuration with n41 holds for n90 (TS 38.101-1 clause 5.5A.0), save those
// that join it with E-UTRA band 41, as n90 has no such band.
func TestSearchN90(t *testing.T) {
	n41, n90 := bands.ID{RAT: bands.NR, Number: 41}, bands.ID{RAT: bands.NR, Number: 90}
	want := 0
	for _, c := range Search(Query{With: []bands.ID{n41}}) {
		if c.Name().Parts().Joined.Band != n41.Number {
			want++
		}
	}
	found := Search(Query{With: []bands.ID{n90}})
	for _, c := range found {
		n := c.Name()
		if again, ok := Find(n); !ok || again.Name() != n || !strings.Contains(n.String(), "n90") {
			t.Errorf("%q is found for n90, looked up as %v", n, ok)
		}
	}
	if len(found) != want || want == 0 {
		t.Errorf("%d found for n90, want %d", len(found), want)
	}
}

// What is free of interference is what cannot interfere, of all that else holds.
func TestSearchFreeOfInterference(t *testing.T) {
	q := Query{With: []bands.ID{{RAT: bands.NR, Number: 78}}, MaxCarriers: 3}
	all := Search(q)
	q.FreeOfInterference = true
	free := Search(q)
	i := 0
	for _, c := range all {
		if c.MayInterfere(0) {
			continue
		}
		if i == len(free) || free[i] != c {
			t.Fatalf("%s is left out, or out of order", c.Name())
		}
		i++
	}
	if i != len(free) || i == 0 || i == len(all) {
		t.Errorf("%d of %d are free, %d expected", len(free), len(all), i)
	}
}
