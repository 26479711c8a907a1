package ca_test

import (
	"errors"
	"testing"

	"spectally/bands"
	"spectally/ca"
)

// Zero values and nothing at all are answered with a zero, an error or a refusal.
func TestZeroValues(t *testing.T) {
	share := func(int) ca.Share { return ca.Share{} }
	for name, a := range map[string]*ca.Assessment{"no carriers": ca.Assess(nil), "an empty list": ca.Assess(ca.Combination{}), "the zero Assessment": {}, "the zero name": ca.AssessName(ca.Name{})} {
		first, bad := a.FirstError()
		if a.Valid() || !bad || first.Rule != ca.RuleCarrierCount || first.Message == "" {
			t.Errorf("%s: valid %t, %+v", name, a.Valid(), a.Findings())
		}
		list, complete := a.Listings()
		l, broken := a.Decisive()
		forms, _ := a.Formed()
		if len(list)+len(forms)+len(a.SubBlocks())+len(a.Holding())+len(a.Combination()) > 0 || !complete || l != nil || broken != ca.RuleCarrierCount || a.CanForm(ca.Name{}) {
			t.Errorf("%s forms %v", name, list)
		}
		if sum := a.Totals(share); sum.Total != (ca.Total{}) || a.Sum(share) != (ca.Total{}) || a.Width(bands.Downlink) != 0 {
			t.Errorf("%s adds up to %+v", name, sum)
		}
		if b := a.Reassess(nil); b.Valid() {
			t.Errorf("%s is valid when assessed again", name)
		}
	}
	if found := ca.CheckRules(nil); len(found) != 0 {
		t.Errorf("rules find %v in nothing", found)
	}
	// A carrier without a band is none.
	if a := ca.Assess(ca.Combination{{}}); a.Valid() || a.Width(bands.Downlink) != 0 || len(a.SubBlocks()) != 0 {
		t.Errorf("the zero carrier: %+v", a.Findings())
	}
	if s := (ca.Carrier{}).String(); s == "" {
		t.Error("the zero carrier is written as nothing")
	}

	var n ca.Name
	var v *bands.ValueError
	if w, ok := ca.Widest(n); ok {
		t.Errorf("the zero name has widths %v", w)
	}
	if c, ok := ca.Expand(n); ok {
		t.Errorf("the zero name has carriers %v", c)
	}
	if a, err := ca.Admit(n, ca.Widths{}); !errors.As(err, &v) || a.Found || a.RefusalText() != "" {
		t.Errorf("the zero name: %+v, %v", a, err)
	}
	single, err := ca.ParseName("n78A")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := ca.Admit(single, ca.Widths{}); !errors.As(err, &v) {
		t.Errorf("a name without widths: %v", err)
	}
	if s := ca.StatusOf(n); s.Supported() || s.Alone {
		t.Errorf("the zero name: %+v", s)
	}
	if _, ok := ca.Find(n); ok || len(ca.FindAll(n)) > 0 || len(ca.NearestTo(n)) > 0 || n.Carriers() != 0 || len(n.Components()) > 0 || n.FallsBackTo(single) || single.FallsBackTo(n) {
		t.Error("the zero name is found")
	}
	if _, err := ca.NewName(ca.Parts{}); !errors.As(err, &v) {
		t.Errorf("a name of nothing: %v", err)
	}
	for _, f := range []func(string) error{
		func(s string) error { _, err := ca.Parse(s); return err },
		func(s string) error { _, err := ca.ParseName(s); return err },
		func(s string) error { _, err := ca.AssessText(s); return err },
	} {
		for _, s := range []string{"", " ", "+", ":", "@", ","} {
			if f(s) == nil {
				t.Errorf("%q is read", s)
			}
		}
	}
	if (ca.Share{}).Of(20*mhz) != 0 || (ca.Share{}).Float() != 0 {
		t.Error("the zero share has a part")
	}
}

// The zero values of what is found are shown as nothing, and never panic.
func TestZeroFindings(t *testing.T) {
	var l ca.Listing
	var a ca.Admission
	var s ca.Status
	if l.Holds() || l.BandwidthSets() != nil || l.Source() != (bands.Source{}) || s.Supported() || a.RefusalText() != "" {
		t.Errorf("%+v, %+v, %+v", l, a, s)
	}
	for _, text := range []string{ca.Kind(0).String(), ca.Kind(99).String(), ca.Severity(0).String(), ca.Misfit{}.String(), ca.Lack{}.String(), ca.NearMiss{}.Why(), ca.Role(9).String() + "none"} {
		if text == "" {
			t.Error("a zero value is written as nothing")
		}
	}
	var c ca.Configuration
	if !c.IsZero() || c.Name() != (ca.Name{}) || c.MaxDL() != 0 || len(c.Sets()) > 0 || len(c.Uplinks()) > 0 || len(c.Members()) > 0 || c.Printed() != "" || c.Kind() != 0 || c.Carriers() != 0 ||
		len(c.UplinkBands()) > 0 || c.Source() != (bands.Source{}) || c.Table() != "" || c.Note() != "" || c.Doubt() != "" || c.SingleUplink() != "" {
		t.Errorf("the zero configuration: %+v", c)
	}
}
