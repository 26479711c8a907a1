package main

import (
	"bufio"
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"spectally/cmd/internal/cli"
	"spectally/cmd/internal/golden"
)

// badInput is an entry of the corpus: a command line that cannot be used, and the
// one line that must say so.
type badInput struct {
	line int
	args []string
	want string
}

// readBadInput reads the corpus. A line "$ spectally ARGUMENTS" is followed by the
// line expected on standard error; lines that begin with "#" are remarks. An
// argument with blanks in it stands in single quotes.
func readBadInput(file string) ([]badInput, error) {
	text, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	var list []badInput
	open := false // the last entry waits for its line
	s := bufio.NewScanner(bytes.NewReader(text))
	for n := 1; s.Scan(); n++ {
		line := s.Text()
		command, isCommand := strings.CutPrefix(line, "$ spectally ")
		switch {
		case line == "" || line[0] == '#':
		case isCommand && !open:
			args, err := splitArguments(command)
			if err != nil {
				return nil, fmt.Errorf("%s:%d: %w", file, n, err)
			}
			list = append(list, badInput{line: n, args: args})
			open = true
		case !isCommand && open:
			list[len(list)-1].want = line
			open = false
		default:
			return nil, fmt.Errorf("%s:%d: %q does not follow the form", file, n, line)
		}
	}
	if open {
		return nil, fmt.Errorf("%s: the last entry has no error", file)
	}
	return list, s.Err()
}

// writeBadInput puts what the program says now in the place of what was expected.
func writeBadInput(file string, list []badInput) error {
	text, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	lines := strings.Split(string(text), "\n")
	for _, entry := range list {
		var out, errs bytes.Buffer
		cli.Run(entry.args, strings.NewReader(""), &out, &errs)
		lines[entry.line] = strings.TrimSuffix(errs.String(), "\n") // the line after the arguments, which count from 1
	}
	return os.WriteFile(file, []byte(strings.Join(lines, "\n")), 0o666)
}

func splitArguments(s string) ([]string, error) {
	var args []string
	var arg strings.Builder
	inside, quoted := false, false
	for _, r := range s {
		switch {
		case r == '\'':
			quoted = !quoted
			inside = true
		case r == ' ' && !quoted:
			if inside {
				args = append(args, arg.String())
			}
			arg.Reset()
			inside = false
		default:
			arg.WriteRune(r)
			inside = true
		}
	}
	if quoted {
		return nil, fmt.Errorf("no closing quote in %q", s)
	}
	if inside {
		args = append(args, arg.String())
	}
	return args, nil
}

// Every wrong command line gets exactly the line of the corpus, nothing on standard
// output, and exit status 2.
func TestBadInput(t *testing.T) {
	files, err := filepath.Glob("../../testdata/badinput*.txt")
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]string{}
	for _, corpus := range files {
		list, err := readBadInput(corpus)
		if err != nil {
			t.Fatal(err)
		}
		if len(list) < 50 {
			t.Errorf("%s has only %d entries", corpus, len(list))
		}
		if golden.Update() {
			if err := writeBadInput(corpus, list); err != nil {
				t.Fatal(err)
			}
			continue
		}
		for _, entry := range list {
			place := fmt.Sprintf("%s:%d", filepath.Base(corpus), entry.line)
			t.Run(place, func(t *testing.T) {
				key := strings.Join(entry.args, "\x00")
				if first := seen[key]; first != "" {
					t.Errorf("the same arguments as in %s", first)
				}
				seen[key] = place
				entry.check(t)
			})
		}
	}
}

func (entry *badInput) check(t *testing.T) {
	var out, errs bytes.Buffer
	status := cli.Run(entry.args, strings.NewReader(""), &out, &errs)
	if status != 2 {
		t.Errorf("spectally %q: exit status %d, want 2", entry.args, status)
	}
	if out.Len() > 0 {
		t.Errorf("spectally %q writes to standard output: %q", entry.args, out.String())
	}
	if got := errs.String(); got != entry.want+"\n" {
		t.Errorf("spectally %q\n got %q\nwant %q", entry.args, got, entry.want+"\n")
	}
}
