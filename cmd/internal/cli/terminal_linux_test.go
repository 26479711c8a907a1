package cli

import (
	"fmt"
	"io"
	"os"
	"strings"
	"testing"

	"golang.org/x/sys/unix"

	"spectally/cmd/internal/command"
)

// openTerminal opens a terminal of the given width: what is written to the second
// file can be read from the first.
func openTerminal(t *testing.T, width uint16) (screen, terminal *os.File) {
	t.Helper()
	screen, err := os.OpenFile("/dev/ptmx", os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { screen.Close() })
	fd := int(screen.Fd())
	number, err := unix.IoctlGetInt(fd, unix.TIOCGPTN)
	if err != nil {
		t.Fatal(err)
	}
	if err := unix.IoctlSetPointerInt(fd, unix.TIOCSPTLCK, 0); err != nil {
		t.Fatal(err)
	}
	terminal, err = os.OpenFile(fmt.Sprintf("/dev/pts/%d", number), os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { terminal.Close() })
	if err := unix.IoctlSetWinsize(int(terminal.Fd()), unix.TIOCSWINSZ, &unix.Winsize{Row: 24, Col: width}); err != nil {
		t.Fatal(err)
	}
	return screen, terminal
}

// onTerminal runs the program on a terminal and returns what the terminal shows.
func onTerminal(t *testing.T, width uint16, args ...string) string {
	t.Helper()
	screen, terminal := openTerminal(t, width)
	shown := make(chan string)
	go func() {
		var all strings.Builder
		_, _ = io.Copy(&all, screen) // ends with an error when the terminal is closed
		shown <- all.String()
	}()
	if status := Run(args, strings.NewReader(""), terminal, io.Discard); status != command.Good {
		t.Errorf("spectally %v: exit status %d", args, status)
	}
	terminal.Close()
	return <-shown
}

// On a terminal text has colours, unless the user does not want them, and keeps to
// the terminal's width whatever COLUMNS says.
func TestTerminal(t *testing.T) {
	t.Setenv("COLUMNS", "200")
	t.Setenv("TERM", "xterm")
	t.Setenv("NO_COLOR", "")
	args := []string{"bands", "C-band"}
	for _, width := range []uint16{40, 72, 120} {
		text := onTerminal(t, width, args...)
		if !strings.Contains(text, "\x1b[1m") {
			t.Errorf("no colours on a terminal of %d cells:\n%q", width, text)
		}
		for line := range strings.Lines(text) {
			line = strings.TrimRight(line, "\r\n")
			for _, code := range []string{"\x1b[0m", "\x1b[1m", "\x1b[2m"} {
				line = strings.ReplaceAll(line, code, "")
			}
			if n := len([]rune(line)); n > int(width) {
				t.Errorf("%d cells on a terminal of %d: %q", n, width, line)
			}
		}
	}
	if text := onTerminal(t, 100, append(args, "--color", "never")...); strings.Contains(text, "\x1b") {
		t.Errorf("--color never: %q", text)
	}
	t.Setenv("NO_COLOR", "1")
	if text := onTerminal(t, 100, args...); strings.Contains(text, "\x1b") {
		t.Errorf("NO_COLOR: %q", text)
	}
	t.Setenv("NO_COLOR", "")
	t.Setenv("TERM", "dumb")
	if text := onTerminal(t, 100, args...); strings.Contains(text, "\x1b") {
		t.Errorf("TERM=dumb: %q", text)
	}
}
