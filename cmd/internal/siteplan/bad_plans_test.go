package siteplan

import (
	"errors"
	"flag"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"spectally/cmd/internal/tomlfile"
)

var update = flag.Bool("update", false, "rewrite the expected messages of the bad plans")

const badPlansFile = "testdata/bad_plans.txt"

// badPlan is a section of the file: a line "=== name", the plan, a line "---", and the
// message that is expected, up to an empty line.
type badPlan struct{ name, plan, want string }

func readBadPlans(tb testing.TB) []badPlan {
	tb.Helper()
	data, err := os.ReadFile(badPlansFile)
	if err != nil {
		tb.Fatal(err)
	}
	var list []badPlan
	for section := range strings.SplitSeq(strings.TrimPrefix(string(data), "=== "), "\n=== ") {
		name, rest, ok := strings.Cut(section, "\n")
		plan, want, split := strings.Cut("\n"+rest, "\n---\n")
		if !ok || !split {
			tb.Fatalf("%s: section %q has no line ---", badPlansFile, name)
		}
		list = append(list, badPlan{name, strings.TrimPrefix(plan+"\n", "\n"), strings.TrimRight(want, "\n")})
	}
	return list
}

// TestBadPlans holds every message against the one written down, whole.
func TestBadPlans(t *testing.T) {
	list := readBadPlans(t)
	if len(list) < 60 {
		t.Fatalf("%d bad plans; there have to be 60 at least", len(list))
	}
	var out strings.Builder
	names := make(map[string]bool)
	for _, b := range list {
		if names[b.name] {
			t.Errorf("two bad plans are called %q", b.name)
		}
		names[b.name] = true
		plan, err := Read("mast.toml", []byte(b.plan))
		if err == nil || plan != nil {
			t.Errorf("%s: read without an error", b.name)
			continue
		}
		got := err.Error()
		out.WriteString("=== " + b.name + "\n" + b.plan + "---\n" + got + "\n\n")
		if diff := cmp.Diff(b.want, got); diff != "" && !*update {
			t.Errorf("%s (-want +got):\n%s", b.name, diff)
		}
		checkProblems(t, b.name, err, b.plan)
	}
	if *update {
		if err := os.WriteFile(badPlansFile, []byte(strings.TrimSuffix(out.String(), "\n")), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// checkProblems checks what holds for the problems of every file.
func checkProblems(t *testing.T, name string, err error, plan string) {
	t.Helper()
	var problems tomlfile.Problems
	if !errors.As(err, &problems) {
		t.Fatalf("%s: the error is a %T", name, err)
	}
	lines := strings.Count(plan, "\n") + 1
	for i := range problems {
		p := &problems[i]
		text := p.Error()
		if strings.ContainsAny(text, "\n\r\x1b\x00") {
			t.Errorf("%s: message %q is more than a line of text", name, text)
		}
		if p.Line < 1 || p.Line > lines {
			t.Errorf("%s: line %d of %d", name, p.Line, lines)
		}
		if i > 0 && problems[i-1].Line > p.Line {
			t.Errorf("%s: problems out of order: line %d before %d", name, problems[i-1].Line, p.Line)
		}
	}
}
