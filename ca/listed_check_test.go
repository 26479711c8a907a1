package ca_test

import (
	"slices"
	"testing"

	"spectally/bands"
	"spectally/ca"
)

// pairUplinks gives carriers whose width is for the downlink alone the widest uplink
// that goes with it.
func pairUplinks(t *testing.T, c ca.Combination) {
	t.Helper()
	for i := range c {
		b, err := bands.Lookup(c[i].Band)
		if err != nil {
			t.Fatal(err)
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

// What the standard lists must be allowed: every listed configuration with the widest
// carriers of its sets, checked by the rules, and every seventh by the names that its
// carriers form. Exceptions are of the tables themselves: four configurations have 20
// MHz in LTE band 8, which TS 36.101 Table 5.6.1-1 does not know, and in n41 and n48
// the widest carriers of some sets together are more than the band.
func TestListedConfigurationsAreAllowed(t *testing.T) {
	counted, wide, full := 0, 0, 0
	for c := range ca.All() {
		carriers, ok := ca.Expand(c.Name())
		if !ok {
			continue
		}
		counted++
		pairUplinks(t, carriers)
		a := ca.Check(carriers)
		for _, f := range a.Findings {
			switch {
			case f.Severity != ca.Error:
			case f.Rule == ca.RuleWidthAllowed && carriers[f.Carrier-1].Band == lte(8) && carriers[f.Carrier-1].Downlink == 20*mhz:
				wide++
			case f.Rule == ca.RuleExceedsBand && (carriers[f.Carrier-1].Band == nr(41) || carriers[f.Carrier-1].Band == nr(48)):
				full++
			default:
				t.Errorf("%v as %v: %s", c.Name(), carriers, findingLine(f))
			}
		}
		if counted%7 != 0 || a.Kind != c.Kind() { // NE-DC and NR-DC show in roles alone
			continue
		}
		forms, complete := a.Formed()
		if complete && !slices.ContainsFunc(forms, func(f ca.Form) bool { return f.Name == c.Name() }) {
			t.Errorf("%v as %v does not form its own name", c.Name(), carriers)
		}
	}
	if counted < 28_000 || wide != 4 || full > 60 {
		t.Errorf("%d configurations, %d with 20 MHz in band 8, %d wider than their band", counted, wide, full)
	}
}
