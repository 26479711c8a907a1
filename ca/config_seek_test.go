package ca

import (
	"math/rand/v2"
	"slices"
	"testing"

	"spectally/bands"
	"spectally/data/pace"
)

// drawn returns the carriers of a configuration with widths of their bands, some
// carriers fewer, and some of them placed one above the other.
func (d drawer) drawn(c Configuration) Combination {
	var list Combination
	for _, k := range c.Name().Components() {
		b, err := bands.Lookup(k.Band)
		if err != nil {
			d.t.Fatal(err)
		}
		widths := b.WidthsIn(lead(b), 0)
		at := b.Span(lead(b)).Low
		for range k.Carriers() {
			w := pick(d, widths)
			at += w
			x := Carrier{Band: k.Band, Downlink: w, Uplink: widestUplink(k.Band, w)}
			if d.IntN(4) == 0 {
				x.Centre = at - w/2
			}
			list = append(list, x)
		}
	}
	return slices.Delete(list, 0, d.IntN(2))
}

// TestSeekAgreesWithFormed asks for the configurations of carriers in both ways: from
// the names that the carriers can form, and from the lists.
func TestSeekAgreesWithFormed(t *testing.T) {
	d := drawer{rand.New(rand.NewPCG(14, 2026)), t}
	all := slices.Collect(All())
	compared, supported := 0, 0
	for range pace.Times(1000, 20) {
		list := d.drawn(pick(d, all))
		if len(list) == 0 {
			continue
		}
		a := Assess(list)
		forms, complete := a.Formed()
		if !complete || len(forms) == 0 || len(forms) > 30 || a.Kind == KindLTE || a.Kind == KindNR {
			continue
		}
		compared++
		want := map[Name]Listing{}
		for _, f := range forms {
			if l := listingOf(f); l.Supported() {
				want[f.Name] = l
			}
		}
		supported += len(want)
		got := map[Name]Listing{}
		s := a.seeker()
		s.brought(func(f Form) bool { got[f.Name] = listingOf(f); return true })
		for _, f := range s.listed(a.Kind) {
			if l := got[f.Name]; len(l.Listed) == 0 {
				t.Errorf("%v: %v is listed, and found as %v", list, f.Name, l)
			}
		}
		for n, l := range want {
			if g, ok := got[n]; !ok || g.Holds() != l.Holds() || !slices.Equal(g.Sets, l.Sets) {
				t.Errorf("%v: %v holds %v with %v; from the lists %v, %v with %v", list, n, l.Holds(), l.Sets, ok, g.Holds(), g.Sets)
			}
		}
		if len(got) != len(want) {
			t.Errorf("%v: %d names are supported, %d from the lists", list, len(want), len(got))
		}
	}
	if pace.Whole && (compared < 600 || supported < 600) {
		t.Errorf("%d combinations compared, with %d names", compared, supported)
	}
}

// TestSeekIsBounded fills the sub-blocks of every component of the lists with carriers
// of all widths of its band, in turn and alike: there are few ways, so that the search
// need not be cut short.
func TestSeekIsBounded(t *testing.T) {
	seen := map[string]bool{}
	ways, layouts := 0, 0
	for c := range pace.Some(All(), 17) {
		for _, k := range c.Name().Components() {
			key := k.Band.String() + " " + classKey(k.Blocks)
			if seen[key] || supplementary(k.Band) {
				continue
			}
			seen[key] = true
			b, err := bands.Lookup(k.Band)
			if err != nil {
				t.Fatal(err)
			}
			widths := b.WidthsIn(lead(b), 0)
			for few := 1; few <= len(widths); few++ {
				for carriers := 1; carriers <= k.Carriers(); carriers++ {
					list := make(Combination, carriers)
					for i := range list {
						list[i] = Carrier{Band: k.Band, Downlink: widths[i%few]}
					}
					a := Assess(list)
					ways = max(ways, len(a.fitter(0).ways(k.Blocks)))
					layouts = max(layouts, len(a.fitter(0).layouts(k.Blocks)))
				}
			}
		}
	}
	if pace.Whole && (len(seen) < 700 || ways < 50 || ways > 200 || layouts < 10 || layouts > 50) {
		t.Errorf("%d components, at most %d ways and %d layouts", len(seen), ways, layouts)
	}
}
