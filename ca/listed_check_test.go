package ca_test

import (
	"runtime"
	"slices"
	"sync"
	"testing"

	"spectally/bands"
	"spectally/ca"
	"spectally/data/pace"
)

// pairUplinks gives carriers whose width is for the downlink alone the widest uplink
// that goes with it.
func pairUplinks(t *testing.T, c ca.Combination) {
	for i := range c {
		b, err := bands.Lookup(c[i].Band)
		if err != nil {
			t.Error(err)
			return
		}
		if b.Has(bands.Uplink) && b.HasWidth(bands.Downlink, c[i].Downlink) && !b.HasWidth(bands.Uplink, c[i].Downlink) {
			c[i].Uplink = 0
			for _, p := range b.WidthPairs() {
				if p.Downlink == c[i].Downlink {
					c[i].Uplink = max(c[i].Uplink, p.Uplink)
				}
			}
		}
	}
}

// What the standard lists must be allowed: every listed configuration, with the widest
// carriers of its sets, keeps every rule and comes back under its own name when it is
// asked for as carriers. Two cannot be asked for: the maximum of CA_40E-42E is below
// the least that its sets allow, and the set of CA_n5A-n25(2A)-n41A is not certain.
func TestListedConfigurationsComeBack(t *testing.T) {
	all := slices.Collect(ca.All())
	var without sync.Map
	var wait sync.WaitGroup
	workers := runtime.GOMAXPROCS(0)
	for first := range workers {
		wait.Go(func() {
			for i := first; i < len(all); i += workers * pace.Step(37) {
				if carriers, ok := ca.Expand(all[i].Name()); ok {
					comesBack(t, all[i], carriers)
				} else {
					without.Store(all[i].Name().String(), true)
				}
			}
		})
	}
	wait.Wait()
	var names []string
	for name := range without.Range {
		names = append(names, name.(string))
	}
	slices.Sort(names)
	if pace.Whole && (len(all) != 28841 || !slices.Equal(names, []string{"CA_40E-42E", "CA_n5A-n25(2A)-n41A"})) {
		t.Errorf("%d listings, %v without widths", len(all), names)
	}
}

func comesBack(t *testing.T, c ca.Configuration, carriers ca.Combination) {
	pairUplinks(t, carriers)
	a := ca.Assess(carriers)
	list, _ := a.Listings()
	own := slices.IndexFunc(list, func(l ca.Listing) bool { return l.Name == c.Name() })
	if own < 0 || !list[own].Holds() || len(list[own].Listed) == 0 {
		t.Errorf("%v as %v is not found, or does not hold", c.Name(), carriers)
	}
	if a.Kind == c.Kind() && !a.CanForm(c.Name()) {
		t.Errorf("%v cannot form %v", carriers, c.Name())
	}
	for _, f := range a.Findings() {
		if f.Severity == ca.Error {
			t.Errorf("%v as %v: %s", c.Name(), carriers, findingLine(f))
		}
	}
}
