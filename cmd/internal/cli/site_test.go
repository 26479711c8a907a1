package cli

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"spectally/cmd/internal/command"
)

// The plan in README.md is one, and its figures are those that README.md shows.
func TestSiteOfReadme(t *testing.T) {
	readme, err := os.ReadFile("../../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, section, found := strings.Cut(string(readme), "### A site plan")
	_, plan, hasPlan := strings.Cut(section, "```toml\n")
	plan, rest, _ := strings.Cut(plan, "```")
	_, figures, hasFigures := strings.Cut(rest, "```\n")
	figures, _, _ = strings.Cut(figures, "```")
	if !found || !hasPlan || !hasFigures || strings.Count(figures, "\n") < 3 {
		t.Fatal("README.md has no plan with its figures")
	}
	file := filepath.Join(t.TempDir(), "weir.toml")
	if err := os.WriteFile(file, []byte(plan), 0o600); err != nil {
		t.Fatal(err)
	}
	status, out, errs := run("site", file)
	if status != command.Good || errs != "" {
		t.Fatalf("exit status %d, %s", status, errs)
	}
	for line := range strings.SplitSeq(strings.TrimSpace(figures), "\n") {
		if !strings.Contains(out, "\n  "+line+"\n") {
			t.Errorf("the answer has no line %q", line)
		}
	}
	// Three sectors of 100 MHz of NR at 7.8 bit/s/Hz for 52/70 of the time (Report ITU-R
	// M.2410-0 clause 4.5 Table 2, dense urban), and of 20 MHz of LTE at 2.6 (Report ITU-R
	// M.2134, microcellular, from memory), both at 70 %.
	var v struct {
		Site struct {
			Downlink struct {
				BusyHour float64 `json:"busy_hour_mbps"`
			} `json:"dl"`
		} `json:"site"`
	}
	_, out, _ = run("site", file, "--format", "json")
	if err := json.Unmarshal([]byte(out), &v); err != nil {
		t.Fatal(err)
	}
	if want := 3 * 0.7 * (7.8*100*52.0/70 + 2.6*20); v.Site.Downlink.BusyHour < want-1e-5 || v.Site.Downlink.BusyHour > want+1e-5 {
		t.Errorf("the busy hour has %v Mbit/s, want %v", v.Site.Downlink.BusyHour, want)
	}
}

// Every key of the JSON that README.md names is there.
func TestSiteKeysOfReadme(t *testing.T) {
	_, out, _ := run("site", "--demo", "--format", "json")
	readme, err := os.ReadFile("../../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, text, _ := strings.Cut(string(readme), "In JSON, `sectors[]`")
	text, _, _ = strings.Cut(text, "\n## ")
	text, _, _ = strings.Cut(text, "\n\n")
	parts := strings.Split("`sectors[]`"+text, "`")
	keys := 0
	for i := 1; i < len(parts); i += 2 {
		for key := range strings.SplitSeq(strings.ReplaceAll(parts[i], "[]", ""), ".") {
			keys++
			if !strings.Contains(out, `"`+key+`":`) {
				t.Errorf("the JSON has no %s", key)
			}
		}
	}
	if keys < 25 {
		t.Errorf("only %d keys", keys)
	}
}

func TestSiteStatus(t *testing.T) {
	for args, want := range map[string]int{
		"site --demo":                        command.Good,
		"site --demo --check":                command.Refuted,
		"site --demo --check --format json":  command.Refuted,
		"site --template":                    command.Good,
		"site no-such-plan.toml":             command.Unusable,
		"site --demo -o no/such/folder.json": command.Unwritten,
	} {
		if got, _, _ := run(strings.Fields(args)...); got != want {
			t.Errorf("%s: exit status %d, want %d", args, got, want)
		}
	}
}

func BenchmarkSite(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if status, _, errs := run("site", "--demo"); status != command.Good {
			b.Fatal(errs)
		}
	}
}
