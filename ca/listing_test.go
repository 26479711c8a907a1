package ca_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"spectally/ca"
)

// The rules about the lists: each is hit, and says what the tables named beside it say.
func TestJudge(t *testing.T) {
	triggered := map[ca.Rule]map[ca.Severity]bool{ca.RuleListed: {}, ca.RuleBandwidthSet: {}, ca.RuleUplinkListed: {}}
	for _, e := range readEntries(t, "../testdata/ca/judged.txt") {
		a := checked(t, e.head)
		if !a.Valid() && len(e.lines) == 0 {
			t.Errorf("%s: not allowed by itself", e.head)
		}
		list, _ := a.Listings()
		var lines []string
		holds, refused := false, false
		for _, l := range list {
			holds = holds || l.Alone || l.Holds()
		}
		for _, f := range a.Judge(list) {
			lines = append(lines, findingLine(f))
			refused = refused || f.Severity == ca.Error
			triggered[f.Rule][f.Severity] = true
		}
		if diff := cmp.Diff(e.lines, lines); diff != "" {
			t.Errorf("%s: findings (-want +got):\n%s", e.head, diff)
		}
		if holds == refused {
			t.Errorf("%s: one of the listings holds: %t; refused: %t", e.head, holds, refused)
		}
	}
	want := map[ca.Rule]map[ca.Severity]bool{
		ca.RuleListed: {ca.Note: true, ca.Error: true}, ca.RuleBandwidthSet: {ca.Note: true, ca.Error: true}, ca.RuleUplinkListed: {ca.Warning: true},
	}
	if diff := cmp.Diff(want, triggered); diff != "" {
		t.Errorf("rules that are hit, by severity (-want +got):\n%s", diff)
	}
}

// The sets that are told for E-UTRA with NR are those of its only part that has any:
// CA_3A-7A beside one carrier of NR (TS 36.101 V19.6.0 Table 5.6A.1-2).
func TestBandwidthSetsOfParts(t *testing.T) {
	for text, want := range map[string][]int{
		"B3:20 + B7:20 + n78:80":         {0, 1},
		"B3:20 + B7:20":                  {0, 1},
		"B3:20 + n78:80":                 nil, // no part has sets
		"B3:20 + B7:20 + n1:20 + n78:80": nil, // both have
	} {
		list, _ := checked(t, text).Listings()
		if len(list) == 0 {
			t.Fatalf("%s: no listing", text)
		}
		if diff := cmp.Diff(want, list[0].BandwidthSets()); diff != "" {
			t.Errorf("%s: sets of %s (-want +got):\n%s", text, list[0].Name, diff)
		}
	}
}
