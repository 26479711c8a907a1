package commands

import (
	"encoding/json"
	"os"
	"regexp"
	"strings"
	"testing"

	"spectally/cmd/internal/command"
	"spectally/cmd/internal/commands/site"
	"spectally/cmd/internal/commands/walk"
	"spectally/cmd/internal/render"
)

// What README says of JSON is there: every path and every key that a paragraph on it
// names, in the answer about the example of its section.
func TestReadmeJSON(t *testing.T) {
	data, err := os.ReadFile("../../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for heading, args := range map[string][]string{"A site plan": {"site", "--demo"}, "From blocks of spectrum to carriers": {"holdings", "--demo"}} {
		_, section, ok := strings.Cut(string(data), "### "+heading+"\n")
		if !ok {
			t.Errorf("README has no section %q", heading)
			continue
		}
		section, _, _ = strings.Cut(section, "\n### ")
		answer := value(t, args)
		checked := 0
		for paragraph := range strings.SplitSeq(section, "\n\n") {
			if !strings.HasPrefix(paragraph, "In JSON") {
				continue
			}
			for _, m := range regexp.MustCompile("`([a-z_.\\[\\]]+)`").FindAllStringSubmatch(paragraph, -1) {
				checked++
				if !has(answer, strings.Split(strings.ReplaceAll(m[1], "[]", ""), "."), true) {
					t.Errorf("%s: the answer of %s has no %s", heading, strings.Join(args, " "), m[1])
				}
			}
		}
		if checked < 8 {
			t.Errorf("%s: %d keys", heading, checked)
		}
	}
}

func value(t *testing.T, args []string) any {
	t.Helper()
	a, err := command.Ask(All(site.Many{}, walk.Files{}), args, strings.NewReader(""))
	if err != nil {
		t.Fatal(err)
	}
	text, err := render.Render(a, render.Options{Format: render.JSON})
	if err != nil {
		t.Fatal(err)
	}
	var v any
	if err := json.Unmarshal(text, &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// has tells whether a value has a path of keys, through lists; anywhere in it at first.
func has(v any, path []string, anywhere bool) bool {
	switch v := v.(type) {
	case []any:
		for _, x := range v {
			if has(x, path, anywhere) {
				return true
			}
		}
	case map[string]any:
		if x, ok := v[path[0]]; ok && (len(path) == 1 || has(x, path[1:], false)) {
			return true
		}
		for _, x := range v {
			if anywhere && has(x, path, true) {
				return true
			}
		}
	}
	return false
}
