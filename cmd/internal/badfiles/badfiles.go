// Package badfiles holds the messages about bad files against those written down in a
// corpus, whole. Tests use it; the program does not.
package badfiles

import (
	"errors"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"spectally/cmd/internal/golden"
	"spectally/cmd/internal/tomlfile"
)

// atLeast is how many files a corpus has to have.
const atLeast = 60

// File is a section of a corpus: a line "=== name", the text of the file, a line "---",
// and the message that is expected, up to an empty line.
type File struct{ Name, Text, Want string }

// Read reads a corpus, which has to be well formed.
func Read(tb testing.TB, corpus string) []File {
	tb.Helper()
	data, err := os.ReadFile(corpus)
	if err != nil {
		tb.Fatal(err)
	}
	var list []File
	for section := range strings.SplitSeq(strings.TrimPrefix(string(data), "=== "), "\n=== ") {
		name, rest, ok := strings.Cut(section, "\n")
		text, want, split := strings.Cut("\n"+rest, "\n---\n")
		if !ok || !split {
			tb.Fatalf("%s: section %q has no line ---", corpus, name)
		}
		list = append(list, File{name, strings.TrimPrefix(text+"\n", "\n"), strings.TrimRight(want, "\n")})
	}
	return list
}

// Check holds what read says of every file of a corpus, called name there, against the
// message written down. With the flag -update it writes the messages down instead.
func Check[T any](tb testing.TB, corpus, name string, read func(name string, data []byte) (*T, error)) {
	tb.Helper()
	list := Read(tb, corpus)
	if len(list) < atLeast {
		tb.Fatalf("%d bad files in %s; there must be at least %d", len(list), corpus, atLeast)
	}
	var out strings.Builder
	names := make(map[string]bool)
	for _, f := range list {
		if names[f.Name] {
			tb.Errorf("two bad files are called %q", f.Name)
		}
		names[f.Name] = true
		value, err := read(name, []byte(f.Text))
		if err == nil || value != nil {
			tb.Errorf("%s: read without an error", f.Name)
			continue
		}
		got := err.Error()
		out.WriteString("=== " + f.Name + "\n" + f.Text + "---\n" + got + "\n\n")
		if diff := cmp.Diff(f.Want, got); diff != "" && !golden.Update() {
			tb.Errorf("%s (-want +got):\n%s", f.Name, diff)
		}
		CheckProblems(tb, f.Name, err, f.Text)
	}
	if golden.Update() {
		if err := os.WriteFile(corpus, []byte(strings.TrimSuffix(out.String(), "\n")), 0o644); err != nil {
			tb.Fatal(err)
		}
	}
}

// CheckProblems checks what holds for the problems of every file.
func CheckProblems(tb testing.TB, name string, err error, text string) {
	tb.Helper()
	var problems tomlfile.Problems
	if !errors.As(err, &problems) {
		tb.Fatalf("%s: the error is a %T", name, err)
	}
	lines := strings.Count(text, "\n") + 1
	for i := range problems {
		p := &problems[i]
		message := p.Error()
		if strings.ContainsAny(message, "\n\r\x1b\x00") {
			tb.Errorf("%s: message %q is more than a line of text", name, message)
		}
		if p.Line < 1 || p.Line > lines {
			tb.Errorf("%s: line %d of %d", name, p.Line, lines)
		}
		if i > 0 && problems[i-1].Line > p.Line {
			tb.Errorf("%s: problems out of order: line %d before %d", name, problems[i-1].Line, p.Line)
		}
	}
}
