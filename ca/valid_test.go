package ca_test

import (
	"strings"
	"testing"

	"spectally/ca"
)

// formedNames joins the names that the carriers can form.
func formedNames(a *ca.Assessment) (names string, complete bool) {
	forms, complete := a.Formed()
	var list []string
	for _, f := range forms {
		list = append(list, f.Name.String())
	}
	return strings.Join(list, " "), complete
}

// The combinations are of kinds that networks have: common practice, no source. That
// the standard allows them rests on the tables that the rules cite.
func TestValidCombinations(t *testing.T) {
	entries := readEntries(t, "../testdata/ca/valid.txt")
	if len(entries) < 100 {
		t.Fatalf("%d combinations, want 100 and more", len(entries))
	}
	for _, e := range entries {
		fields := strings.Split(e.head, " | ")
		if len(fields) != 3 {
			t.Fatalf("%q: want three fields", e.head)
		}
		a := checked(t, fields[0])
		for _, f := range a.RuleFindings() {
			if f.Severity != ca.Note {
				t.Errorf("%s: %s", fields[0], findingLine(f))
			}
		}
		if a.Kind.String() != fields[1] {
			t.Errorf("%s is %v, want %s", fields[0], a.Kind, fields[1])
		}
		got, complete := formedNames(a)
		first, open := strings.CutSuffix(fields[2], " …")
		switch {
		case open && !strings.HasPrefix(got, first+" "):
			t.Errorf("%s forms %s, want %s and more", fields[0], got, first)
		case !open && (got != fields[2] || !complete):
			t.Errorf("%s forms %s (all: %t), want %s", fields[0], got, complete, fields[2])
		}
	}
}

// What is wrong with a carrier does not depend on where it stands: a pair of widths that
// the band does not have is one whether the UE transmits there by default or not.
func TestOrderDoesNotMatter(t *testing.T) {
	for _, carriers := range [][2]string{{"n20:10/5", "n1:5"}, {"n5:20/10", "n78:80"}, {"n66:40/15", "n1:20"}} {
		first, second := checked(t, carriers[0]+"+"+carriers[1]), checked(t, carriers[1]+"+"+carriers[0])
		x, wrong := first.FirstError()
		y, wrongToo := second.FirstError()
		if wrong != wrongToo || x.Rule != y.Rule {
			t.Errorf("%v: %q, in the other order %q", carriers, x.Message, y.Message)
		}
	}
	if x, wrong := checked(t, "n1:5+n20:10/5").FirstError(); !wrong || x.Rule != ca.RuleWidthPair {
		t.Errorf("a pair that the band does not have: %q", x.Message)
	}
}
