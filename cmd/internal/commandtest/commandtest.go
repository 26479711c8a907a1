// Package commandtest runs a command by itself, for the tests of its package.
package commandtest

import (
	"os"
	"strings"
	"testing"

	"spectally/cmd/internal/command"
	"spectally/cmd/internal/render"
)

// width is the width of lines of text.
const width = 100

// Run runs a command with its arguments, the first of which is its name, and returns
// what the program does: its exit status, and what it writes.
func Run(c *command.Command, args ...string) (status int, stdout, stderr string) {
	return Feed(c, "", args...)
}

// Feed runs a command with standard input.
func Feed(c *command.Command, input string, args ...string) (status int, stdout, stderr string) {
	found, rest, err := command.Find([]*command.Command{c}, args)
	var out []byte
	refuted := false
	if err == nil {
		out, refuted, err = answer(found, rest, input)
	}
	name := "spectally " + strings.Join(args[:len(args)-len(rest)], " ")
	switch {
	case err != nil:
		return 2, "", strings.Join(command.Lines(name, err), "\n") + "\n"
	case refuted:
		status = 1
	}
	return status, string(out), ""
}

func answer(c *command.Command, args []string, input string) (out []byte, refuted bool, err error) {
	a, look, err := c.Ask(args, strings.NewReader(input))
	if err != nil {
		return nil, false, err
	}
	look.Width = width
	out, err = render.Render(a, look)
	return out, a.Refuted, err
}

// Must returns what a run writes that has to be good.
func Must(t testing.TB, c *command.Command, args ...string) string {
	t.Helper()
	status, out, errs := Run(c, args...)
	if status != 0 || errs != "" {
		t.Fatalf("spectally %s: exit status %d\n%s", strings.Join(args, " "), status, errs)
	}
	return out
}

// Values reads lines of fields from a file of check values of the project, without
// remarks.
func Values(t testing.TB, name string) [][]string {
	t.Helper()
	text, err := os.ReadFile("../../../../testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	var lines [][]string
	for line := range strings.Lines(string(text)) {
		if fields := strings.Fields(line); len(fields) > 0 && fields[0][0] != '#' {
			lines = append(lines, fields)
		}
	}
	return lines
}
