//go:build unix

package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// A file that can grow no further, as on a full disk, ends a run that can be resumed:
// whether it is that of the rows or that of the rejects, and wherever it ends.
func TestBatchWithoutRoom(t *testing.T) {
	spectally, dir := program(t), t.TempDir()
	for _, test := range []struct{ name, carriers string }{{"rows", "n78:80"}, {"rejects", "n78-80"}} {
		var text strings.Builder
		text.WriteString("carriers,n,remark\n")
		for i := range 4000 {
			carriers := test.carriers
			if i%100 == 0 {
				carriers = "n28:10"
			}
			fmt.Fprintf(&text, "%s,%d,%s\n", carriers, i, strings.Repeat("x", 200))
		}
		input := filepath.Join(dir, test.name+".csv")
		if err := os.WriteFile(input, []byte(text.String()), 0o666); err != nil {
			t.Fatal(err)
		}
		run := func(blocks int, name string) (output, rejects string, status int, errs string) {
			output, rejects = filepath.Join(dir, name), filepath.Join(dir, name+"-rejects")
			// ulimit counts in blocks of 512 bytes (POSIX.1-2017, XCU, ulimit)
			script := `ulimit -f "$1"; shift; exec "$@"`
			if blocks == 0 {
				script = `shift; exec "$@"`
			}
			cmd := exec.Command("sh", "-c", script, "sh", fmt.Sprint(blocks), spectally, "batch", input, "--output", output, "--rejects", rejects, "--resume", "--format", "csv")
			var b bytes.Buffer
			cmd.Stderr = &b
			if err := cmd.Run(); err != nil && cmd.ProcessState.ExitCode() < 0 {
				t.Fatal(err)
			}
			return output, rejects, cmd.ProcessState.ExitCode(), b.String()
		}
		output, rejects, status, errs := run(0, test.name+"-whole")
		if status != 0 {
			t.Fatal(errs)
		}
		want, wantRejects := readFile(t, output), readFile(t, rejects)
		if larger := max(len(want), len(wantRejects)); larger < 600_000 {
			t.Fatalf("%s: only %d bytes are written", test.name, larger)
		}
		for _, blocks := range []int{300, 517, 1000} {
			name := fmt.Sprint(test.name, blocks)
			output, rejects, status, errs := run(blocks, name)
			if status != 3 || !strings.Contains(errs, "file too large, after ") || !strings.HasSuffix(errs, " rows; --resume goes on from there\n") {
				t.Errorf("%s: exit status %d, %q", name, status, errs)
			}
			for _, path := range []string{output, rejects} {
				if _, err := os.Stat(path); err == nil {
					t.Errorf("%s: %s appears", name, filepath.Base(path))
				}
			}
			if _, _, status, errs = run(0, name); status != 0 {
				t.Errorf("%s: resumed: exit status %d, %q", name, status, errs)
			}
			if !bytes.Equal(readFile(t, output), want) || !bytes.Equal(readFile(t, rejects), wantRejects) {
				t.Errorf("%s: resumed, the files differ from those of a run with room", name)
			}
		}
	}
}
