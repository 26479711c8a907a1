package words

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// No text that a user can meet has a phrase of testdata/banned.txt: no string literal of
// the program, no template, not README.md. Texts of the standards' tables stand in data.
func TestNoBannedPhrases(t *testing.T) {
	const root = "../../.."
	banned := bannedPhrases(t, filepath.Join(root, "testdata", "banned.txt"))
	if !banned.MatchString("It Lets Expect more") || banned.MatchString("a violet expectation") {
		t.Fatal("the phrases are not found as they should be")
	}
	texts := 0
	check := func(place, text string) {
		texts++
		if hit := banned.FindString(strings.Join(strings.Fields(text), " ")); hit != "" {
			t.Errorf("%s: %q in %.120q", place, hit, text)
		}
	}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		name := d.Name()
		switch {
		case err != nil:
			return err
		case d.IsDir():
			if name == "testdata" || name == "data" || strings.HasPrefix(name, ".") && path != root {
				return fs.SkipDir
			}
			return nil
		case strings.HasSuffix(name, ".go") && !strings.HasSuffix(name, "_test.go"):
			return literals(path, check)
		case name == "README.md", strings.HasSuffix(name, ".html"), strings.HasSuffix(name, ".toml"):
			text, err := os.ReadFile(path)
			if err == nil {
				for i, line := range strings.Split(string(text), "\n") {
					check(path+":"+strconv.Itoa(i+1), line)
				}
			}
			return err
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if texts < 10_000 {
		t.Errorf("only %d texts were read", texts)
	}
}

// bannedPhrases reads the list as one expression.
func bannedPhrases(t *testing.T, file string) *regexp.Regexp {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var phrases []string
	for line := range strings.Lines(string(text)) {
		if line = strings.TrimSpace(line); line != "" && line[0] != '#' {
			phrases = append(phrases, regexp.QuoteMeta(line))
		}
	}
	if len(phrases) < 30 {
		t.Fatalf("only %d phrases", len(phrases))
	}
	return regexp.MustCompile(`(?i)\b(?:` + strings.Join(phrases, "|") + `)(?:\b|$)`)
}

// literals hands the string literals of a file to a function. Paths of imports are none,
// and the tags of fields are not for users.
func literals(path string, check func(place, text string)) error {
	set := token.NewFileSet()
	file, err := parser.ParseFile(set, path, nil, parser.SkipObjectResolution)
	if err != nil {
		return err
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.ImportSpec:
			return false
		case *ast.Field:
			n.Tag = nil
		case *ast.BasicLit:
			if n.Kind == token.STRING {
				text, err := strconv.Unquote(n.Value)
				if err != nil {
					text = n.Value
				}
				check(set.Position(n.Pos()).String(), text)
			}
		}
		return true
	})
	return nil
}
