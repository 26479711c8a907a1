package fieldlog

import (
	"errors"
	"flag"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"spectally/cmd/internal/tomlfile"
)

var update = flag.Bool("update", false, "rewrite the expected messages of the bad logs")

const badLogsFile = "testdata/bad_logs.txt"

// badLog is a section of the file: a line "=== name", the log, a line "---", and the
// message that is expected, up to an empty line.
type badLog struct{ name, log, want string }

func readBadLogs(tb testing.TB) []badLog {
	tb.Helper()
	data, err := os.ReadFile(badLogsFile)
	if err != nil {
		tb.Fatal(err)
	}
	var list []badLog
	for section := range strings.SplitSeq(strings.TrimPrefix(string(data), "=== "), "\n=== ") {
		name, rest, ok := strings.Cut(section, "\n")
		log, want, split := strings.Cut("\n"+rest, "\n---\n")
		if !ok || !split {
			tb.Fatalf("%s: section %q has no line ---", badLogsFile, name)
		}
		list = append(list, badLog{name, strings.TrimPrefix(log+"\n", "\n"), strings.TrimRight(want, "\n")})
	}
	return list
}

// TestBadLogs holds every message against the one written down, whole.
func TestBadLogs(t *testing.T) {
	list := readBadLogs(t)
	if len(list) < 60 {
		t.Fatalf("%d bad logs; there have to be 60 at least", len(list))
	}
	var out strings.Builder
	names := make(map[string]bool)
	for _, b := range list {
		if names[b.name] {
			t.Errorf("two bad logs are called %q", b.name)
		}
		names[b.name] = true
		log, err := Read("pier.toml", []byte(b.log))
		if err == nil || log != nil {
			t.Errorf("%s: read without an error", b.name)
			continue
		}
		got := err.Error()
		out.WriteString("=== " + b.name + "\n" + b.log + "---\n" + got + "\n\n")
		if diff := cmp.Diff(b.want, got); diff != "" && !*update {
			t.Errorf("%s (-want +got):\n%s", b.name, diff)
		}
		checkProblems(t, b.name, err, b.log)
	}
	if *update {
		if err := os.WriteFile(badLogsFile, []byte(strings.TrimSuffix(out.String(), "\n")), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// checkProblems checks what holds for the problems of every file.
func checkProblems(t *testing.T, name string, err error, log string) {
	t.Helper()
	var problems tomlfile.Problems
	if !errors.As(err, &problems) {
		t.Fatalf("%s: the error is a %T", name, err)
	}
	lines := strings.Count(log, "\n") + 1
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
