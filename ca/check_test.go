package ca_test

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"spectally/bands"
	"spectally/ca"
)

// parsed reads a combination that has to be right.
func parsed(t testing.TB, carriers string) ca.Combination {
	t.Helper()
	c, err := ca.Parse(carriers)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func checked(t testing.TB, carriers string) *ca.Assessment {
	t.Helper()
	return ca.Assess(parsed(t, carriers))
}

// findingLine writes a finding as testdata/ca/findings.txt does.
func findingLine(f ca.Finding) string {
	source := f.Source.String()
	if source == "" {
		source = "-"
	}
	return fmt.Sprintf("%s %s %d [%s] %s", f.Severity, f.Rule, f.Carrier, source, f.Message)
}

func findingLines(a *ca.Assessment) []string {
	var list []string
	for _, f := range a.RuleFindings() {
		list = append(list, findingLine(f))
	}
	return list
}

// entry is a line of a file of testdata with the indented lines under it.
type entry struct {
	head  string
	lines []string
}

func readEntries(t testing.TB, file string) []entry {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var list []entry
	for line := range strings.Lines(string(text)) {
		line = strings.TrimRight(line, "\n")
		switch {
		case line == "" || line[0] == '#':
		case line[0] == ' ':
			last := &list[len(list)-1]
			last.lines = append(last.lines, strings.TrimSpace(line))
		default:
			list = append(list, entry{head: line})
		}
	}
	return list
}

func TestFindings(t *testing.T) {
	triggered := make(map[ca.Rule]bool)
	for _, e := range readEntries(t, "../testdata/ca/findings.txt") {
		a := checked(t, e.head)
		if diff := cmp.Diff(e.lines, findingLines(a)); diff != "" {
			t.Errorf("%s: findings (-want +got):\n%s", e.head, diff)
		}
		isError := func(f ca.Finding) bool { return f.Severity == ca.Error }
		first, bad := a.FirstError()
		if i := slices.IndexFunc(a.Findings(), isError); bad != (i >= 0) || bad && first != a.Findings()[i] || a.Valid() == bad {
			t.Errorf("%s: valid: %t; the first error is %v, %t", e.head, a.Valid(), first, bad)
		}
		for _, f := range a.RuleFindings() {
			triggered[f.Rule] = true
			if f.Carrier < 0 || f.Carrier > len(a.Carriers) || strings.ContainsAny(f.Message, "\n\r") {
				t.Errorf("%s: carrier %d, message %q", e.head, f.Carrier, f.Message)
			}
		}
	}
	// Every rule has to be among the findings of the file, and the file has none
	// that is not listed.
	var missing []ca.Rule
	for _, r := range ca.Rules() {
		if !triggered[r] {
			missing = append(missing, r)
		}
		delete(triggered, r)
	}
	if len(missing) > 0 || len(triggered) > 0 {
		t.Errorf("rules that no combination of the file breaks: %v; rules that Rules does not list: %v", missing, triggered)
	}
}

func TestRulesAreDistinct(t *testing.T) {
	rules := ca.Rules()
	slices.Sort(rules)
	if n := len(slices.Compact(slices.Clone(rules))); n != len(rules) || n != 29 {
		t.Errorf("%d rules, %d of them distinct, want 29", len(rules), n)
	}
	for _, r := range rules {
		if strings.Trim(string(r), "abcdefghijklmnopqrstuvwxyz-") != "" || strings.HasPrefix(string(r), "-") {
			t.Errorf("%q is not in kebab case", r)
		}
	}
}

func TestSeverity(t *testing.T) {
	for s, want := range map[ca.Severity]string{0: "none", ca.Note: "note", ca.Warning: "warning", ca.Error: "error", 4: "none"} {
		if s.String() != want {
			t.Errorf("severity %d is %q, want %q", s, s, want)
		}
	}
}

func TestCheckNothing(t *testing.T) {
	a := ca.Assess(nil)
	forms, complete := a.Formed()
	if len(a.Carriers) != 0 || len(a.RuleFindings()) != 0 || len(a.Groups) != 0 || forms != nil || !complete {
		t.Errorf("no carriers give %+v, %v", a, forms)
	}
}

// Whatever is given, a check ends without a panic and places only what can be.
func FuzzCheck(f *testing.F) {
	for _, s := range []string{
		"B3:20@1300 + n78:80@640000,scs=30", "n24:10@330300", "B66:20@67236,ul=1", "n110:3@278400", "n263:1600@2576683",
		"n46:20@782000 + B46:20@47088", "5xn258:100 + n258:400@2030000", "n80:20/10 + n29:0/5", "B41:20@39750 + n41:100@510000",
		"n1:5@24GHz", "n79:100@4.5GHz,role=pcell,ul=0", "31xn1:5 + n1:5@422500",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		c, err := ca.Parse(s)
		if err != nil {
			return
		}
		a := ca.Assess(c)
		if len(a.Carriers) != len(c) {
			t.Fatalf("%q: %d carriers of %d", s, len(a.Carriers), len(c))
		}
		grouped := 0
		for i := range a.Groups {
			grouped += a.Groups[i].Count()
		}
		known := 0
		for i := range a.Carriers {
			p := &a.Carriers[i]
			if p.Info != nil {
				known++
			}
			for _, d := range []bands.Direction{bands.Downlink, bands.Uplink} {
				if span := p.Span(d); !span.IsZero() && span.Width() != p.Width(d) {
					t.Errorf("%q: carrier %d has %v in the %v for %v", s, i+1, span, d, p.Width(d))
				}
			}
			if p.Transmits && p.UplinkWidth == 0 {
				t.Errorf("%q: carrier %d transmits without an uplink", s, i+1)
			}
		}
		if grouped != known {
			t.Errorf("%q: %d carriers in groups, want %d", s, grouped, known)
		}
		a.Totals(func(int) ca.Share { return ca.Share{Part: 3, Whole: 4} })
		a.Formed()
	})
}
