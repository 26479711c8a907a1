//go:build browser

package web_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// violation is what axe-core finds wrong.
type violation struct {
	ID     string `json:"id"`
	Impact string `json:"impact"`
	Help   string `json:"help"`
	Nodes  []struct {
		Target  []string `json:"target"`
		Summary string   `json:"failureSummary"`
	} `json:"nodes"`
}

// String says what is wrong, and where first.
func (v violation) String() string {
	s := fmt.Sprintf("%s (%s): %s, %d times", v.ID, v.Impact, v.Help, len(v.Nodes))
	if len(v.Nodes) > 0 {
		s += fmt.Sprintf(", first at %s: %.300s", strings.Join(v.Nodes[0].Target, " "), v.Nodes[0].Summary)
	}
	return s
}

// axe-core, which knows the rules of WCAG 2.2 A and AA and good practice, finds nothing
// wrong with any page, in light and dark colours and at the width of a phone, with
// everything unfolded.
func TestBrowserAccessibility(t *testing.T) {
	path := os.Getenv("SPECTALLY_AXE")
	if path == "" {
		t.Fatal("SPECTALLY_AXE does not say where axe.min.js is")
	}
	source, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, way := range []struct {
		name  string
		begin func(*tab)
	}{{"light", func(*tab) {}}, {"dark", (*tab).dark}, {"phone", (*tab).phone}} {
		t.Run(way.name, func(t *testing.T) {
			b := newTab(t)
			way.begin(b)
			passes := 0
			for _, path := range answers {
				b.open(path)
				eval[int](b, `document.querySelectorAll("details").forEach(d => d.open = true), 0`)
				b.run(chromedp.Evaluate[chromedp.Void](string(source)))
				result := eval[struct {
					Violations []violation `json:"violations"`
					Passes     int         `json:"passes"`
				}](b, `axe.run(document, {runOnly: {type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}, resultTypes: ["violations"]}).then(r => ({violations: r.violations, passes: r.passes.length}))`)
				passes += result.Passes
				for _, v := range result.Violations {
					t.Errorf("%s: %s", path, v)
				}
			}
			if passes < 20*len(answers) {
				t.Errorf("only %d checks passed: axe-core did not look at the pages", passes)
			}
		})
	}
}
