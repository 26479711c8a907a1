package cli

import (
	"io"
	"regexp"
	"strings"
	"testing"
	"time"

	"spectally/cmd/internal/command"
	"spectally/cmd/internal/words"
)

// slowRows gives a file of sites piece by piece, with pauses in which a terminal shows how
// far it is.
type slowRows struct {
	text  string
	pause time.Duration
}

func (s *slowRows) Read(b []byte) (int, error) {
	if s.text == "" {
		return 0, io.EOF
	}
	time.Sleep(s.pause)
	n := copy(b[:min(len(b), 40_000)], s.text)
	s.text = s.text[n:]
	return n, nil
}

// While many sites are worked out a terminal on standard error has a line that tells how
// far it is, no wider than the terminal; it is gone at the end. --quiet has none.
func TestSiteRowsProgress(t *testing.T) {
	var text strings.Builder
	text.WriteString("site,sector,environment,carrier,ports\n")
	for i := range 6000 {
		text.WriteString("site " + words.Grouped(int64(i)) + ",a,rural,n78:100,8T8R\n")
	}
	for _, c := range []struct {
		width uint16
		quiet bool
	}{{80, false}, {20, false}, {80, true}} {
		screen, terminal := openTerminal(t, c.width)
		shown := make(chan string)
		go func() {
			var all strings.Builder
			_, _ = io.Copy(&all, screen) // ends with an error when the terminal is closed
			shown <- all.String()
		}()
		args := []string{"site", "--csv", "-", "--format", "csv"}
		if c.quiet {
			args = append(args, "--quiet")
		}
		if status := Run(args, &slowRows{text.String(), 150 * time.Millisecond}, io.Discard, terminal); status != command.Good {
			t.Errorf("exit status %d", status)
		}
		terminal.Close()
		all := <-shown
		if c.quiet {
			if all != "" {
				t.Errorf("--quiet: %q", all)
			}
			continue
		}
		lines := strings.Split(strings.TrimRight(all, "\n"), "\r")
		progress := regexp.MustCompile(`^[\d ]+ rows(, [\d ]+ a second)?`)
		if c.width < 40 {
			progress = regexp.MustCompile(`^[\d ]+ rows`)
		}
		seen := 0
		for _, line := range lines {
			if n := len([]rune(strings.TrimRight(line, " "))); n >= int(c.width) && !strings.Contains(line, "spectally site:") {
				t.Errorf("%d cells on a terminal of %d: %q", n, c.width, line)
			}
			if progress.MatchString(line) {
				seen++
			}
		}
		if seen < 2 || !strings.Contains(all, "\r"+strings.Repeat(" ", 5)) {
			t.Errorf("%d lines of progress in %q", seen, all)
		}
		if !strings.Contains(all, "6 000 rows: 6 000 sites, 0 rows refused; ") {
			t.Errorf("no word at the end: %q", all)
		}
	}
}
