package ca_test

import (
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"spectally/ca"
)

// The rules about the lists: each is hit, and says what the tables named beside it say.
func TestJudge(t *testing.T) {
	triggered := map[ca.Rule]map[ca.Severity]bool{ca.RuleListed: {}, ca.RuleBandwidthSet: {}, ca.RuleUplinkListed: {}}
	for _, e := range readEntries(t, "../testdata/ca/judged.txt") {
		a := checked(t, e.head)
		list, _ := a.Listings()
		var lines []string
		holds, refused := false, false
		for _, l := range list {
			holds = holds || l.Alone || l.Holds()
		}
		for _, f := range a.Findings()[len(a.RuleFindings()):] {
			lines = append(lines, findingLine(f))
			refused = refused || f.Severity == ca.Error
			triggered[f.Rule][f.Severity] = true
		}
		if diff := cmp.Diff(e.lines, lines); diff != "" {
			t.Errorf("%s: findings (-want +got):\n%s", e.head, diff)
		}
		if holds == refused || refused == a.Valid() {
			t.Errorf("%s: one of the listings holds: %t; refused: %t; valid: %t", e.head, holds, refused, a.Valid())
		}
	}
	want := map[ca.Rule]map[ca.Severity]bool{
		ca.RuleListed: {ca.Note: true, ca.Error: true}, ca.RuleBandwidthSet: {ca.Note: true, ca.Error: true}, ca.RuleUplinkListed: {ca.Note: true, ca.Warning: true},
	}
	if diff := cmp.Diff(want, triggered); diff != "" {
		t.Errorf("rules that are hit, by severity (-want +got):\n%s", diff)
	}
}

// Several goroutines that ask one assessment get one answer.
func TestAskedAtOnce(t *testing.T) {
	a := checked(t, "B3:20 + B7:20 + 2xn78:80")
	first := make([]*ca.Listing, 8)
	var wait sync.WaitGroup
	for i := range first {
		wait.Go(func() {
			first[i], _ = a.Decisive()
			if !a.Valid() || len(a.Findings()) == 0 {
				t.Errorf("%v", a.Findings())
			}
		})
	}
	wait.Wait()
	for _, l := range first {
		if l == nil || l != first[0] {
			t.Errorf("%v and %v decide", l, first[0])
		}
	}
}
