package cli

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"spectally/cmd/internal/command"
	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/htmlcheck"
	"spectally/cmd/internal/tomlfile"
)

// Every command's answer can be shown as a page, and the page is sound.
func TestEveryAnswerIsAPage(t *testing.T) {
	for _, line := range []string{
		"bands n78", "bands n77 n78 B3 --explain", "bands --rat nr", "bands AWS", "bands n51 --explain",
		"channel n78 640000 --width 80 --gscn --explain", "channel B3 1842.5MHz --width 20", "channel n46 745332 --width 60",
		"ca B3:20 + n78:80@640000 + n78:80@645332 --explain", "ca n78:81", "ca DC_3A-7A_n78A",
		"configs --with n78,3 --at-least 3", "throughput B3:20 + n78:100 --explain",
		"tbs nr --prb 273 --layers 4 --symbols 12 --dmrs-re 12 --mcs-table 256qam --mcs 27 --explain",
		"frames 7DS2U/6:4:4 --scs 30 --explain", "sources", "sources 38.104",
		"field --demo", "claim --carriers B3:20+n78:80 --total-mhz 100 --explain",
		"help", "help field", "bands --help",
	} {
		status, out, errs := run(append(strings.Fields(line), "--format", "html")...)
		if status > command.Refuted || errs != "" {
			t.Errorf("%s: exit status %d, %s", line, status, errs)
			continue
		}
		for _, problem := range htmlcheck.Page([]byte(out)) {
			t.Errorf("%s: %s", line, problem)
		}
	}
}

// All that is wrong with a log is said at once, a line each that begins with the file
// and the line in it.
func TestFieldReportsEveryProblem(t *testing.T) {
	const log = "titel = 1\n[[network]]\nname = 'N'\ncarriers = 'n78:300'\n[[network.run]]\ndown = -1\nup = 'fast\x1b'\n"
	var out, errs bytes.Buffer
	status := Run([]string{"field", "-"}, strings.NewReader(log), &out, &errs)
	lines := strings.Split(strings.TrimSuffix(errs.String(), "\n"), "\n")
	if status != command.Unusable || out.Len() > 0 || len(lines) < 4 {
		t.Fatalf("exit status %d, %q, %q", status, out.String(), lines)
	}
	for _, l := range lines {
		if !strings.HasPrefix(l, "<stdin>:") || strings.ContainsRune(l, '\x1b') {
			t.Errorf("line %q", l)
		}
	}
}

// A program that asks gets the report or the problems, and no file is written for it.
func TestAskForAField(t *testing.T) {
	file := filepath.Join(t.TempDir(), "report.html")
	a, err := Ask([]string{"field", "-", "--output", file}, strings.NewReader(fieldlog.Template()))
	if err != nil || a == nil || len(a.Whole) < 10 {
		t.Fatalf("%v, %v", a, err)
	}
	if _, err := os.Stat(file); err == nil {
		t.Error("a file was written")
	}
	_, err = Ask([]string{"field", "-"}, strings.NewReader("x = 1"))
	if problems, ok := errors.AsType[tomlfile.Problems](err); !ok || len(problems) < 2 {
		t.Errorf("%v", err)
	}
}

// What a log may have is bounded, and a longer one is refused, not cut.
func TestFieldTooLong(t *testing.T) {
	log := fieldlog.Template() + strings.Repeat("#", tomlfile.MaxSize)
	var out, errs bytes.Buffer
	status := Run([]string{"field", "-"}, strings.NewReader(log), &out, &errs)
	if status != command.Unusable || out.Len() > 0 || !strings.Contains(errs.String(), "size of the file") {
		t.Errorf("exit status %d, %q", status, errs.String())
	}
}

// An answer for a file is as wide and as plain as one for a pipe, whatever shows the
// program.
func TestOutputIgnoresTheTerminal(t *testing.T) {
	t.Setenv("COLUMNS", "40")
	folder := t.TempDir()
	status, _, errs := run("field", "--demo", "-o", filepath.Join(folder, "a.txt"))
	if status != command.Good {
		t.Fatal(errs)
	}
	t.Setenv("COLUMNS", "")
	want := mustRun(t, "field", "--demo")
	got, err := os.ReadFile(filepath.Join(folder, "a.txt"))
	if err != nil || string(got) != want {
		t.Errorf("the file has %d bytes, the answer %d, %v", len(got), len(want), err)
	}
}
