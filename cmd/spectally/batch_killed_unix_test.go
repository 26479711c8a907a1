//go:build unix

package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// program is the program as a file that can be run as a process of its own: this test
// binary under the name by which TestMain knows the program.
func program(t *testing.T) string {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "spectally")
	if err := os.Symlink(self, path); err != nil {
		t.Fatal(err)
	}
	return path
}

// writeRows writes a file of rows that repeat themselves now and then, each with a
// remark of so many bytes.
func writeRows(t *testing.T, path string, n, remark int) {
	t.Helper()
	combinations := []string{"n78:80", "B3:20 + n78:80@640000", "\"B1:20,layers=2 + B7:20\"", "n999:10", "n78:35 + n28:10", "bad", "n1:20+n28:10+n78:100", "CA_3A-7A"}
	var b bytes.Buffer
	b.WriteString("number,carriers,down,up,latency,remark\n")
	for i := range n {
		fmt.Fprintf(&b, "%d,%s,%d.%d,%d,%d,%s\n", i, combinations[i*7%len(combinations)], i%900, i%10, i%80, 10+i%50, strings.Repeat("x", remark))
	}
	if err := os.WriteFile(path, b.Bytes(), 0o666); err != nil {
		t.Fatal(err)
	}
}

func readFile(t *testing.T, path string) []byte {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// feed is a run that reads rows from a pipe. It cannot come to its end before the pipe
// is closed, however fast it is.
type feed struct {
	t          *testing.T
	cmd        *exec.Cmd
	in         io.WriteCloser
	errs       bytes.Buffer
	checkpoint string
	text       []byte // of the rows that it was not given yet
}

func newFeed(t *testing.T, cmd *exec.Cmd, checkpoint string, text []byte) *feed {
	t.Helper()
	f := &feed{t: t, cmd: cmd, checkpoint: checkpoint, text: text}
	cmd.Stderr = &f.errs
	var err error
	if f.in, err = cmd.StdinPipe(); err == nil {
		err = cmd.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// give gives the run more rows.
func (f *feed) give(n int) {
	f.t.Helper()
	if n = min(n, len(f.text)); n == 0 {
		f.t.Fatal("no rows are left to give")
	}
	if _, err := f.in.Write(f.text[:n]); err != nil {
		f.t.Fatal(errors.Join(err, f.cmd.Wait()), f.errs.String())
	}
	f.text = f.text[n:]
}

// piece is more than a run reads at once.
const piece = 64 << 10

// await gives rows until a checkpoint speaks of more rows than so many, and returns of
// how many. A checkpoint is begun when rows come and the last one is on the disk: where
// the disk is slow the pieces come slower too, each after twice the time.
func (f *feed) await(rows int64) int64 {
	f.t.Helper()
	for wait := time.Millisecond; ; wait *= 2 {
		f.give(piece)
		for end := time.Now().Add(wait); ; time.Sleep(time.Millisecond / 2) {
			if now := checkpointRows(f.t, f.checkpoint); now > rows {
				return now
			}
			if time.Now().After(end) {
				break
			}
		}
	}
}

func (f *feed) kill() {
	f.t.Helper()
	if err := f.cmd.Process.Kill(); err != nil {
		f.t.Fatal(err)
	}
	if err := f.cmd.Wait(); err == nil || f.cmd.ProcessState.Exited() {
		f.t.Fatalf("the run is not killed but ends: %v\n%s", err, f.errs.String())
	}
}

// checkpointRows is how many rows a checkpoint speaks of; 0 if there is none.
func checkpointRows(t *testing.T, path string) int64 {
	t.Helper()
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return 0
	}
	if err != nil {
		t.Fatal(err)
	}
	last := int64(0)
	for line := range bytes.Lines(text) { // of two places, one of which may be in the midst of being written
		var c struct{ Counts struct{ Rows int64 } }
		if _, object, found := bytes.Cut(line, []byte(" ")); found && json.Unmarshal(object, &c) == nil {
			last = max(last, c.Counts.Rows)
		}
	}
	return last
}

// A run that is killed after any number of checkpoints, again and again, and resumed
// writes the same bytes as one that is not, and its files appear only when they are
// whole.
func TestBatchKilled(t *testing.T) {
	spectally, dir := program(t), t.TempDir()
	rows := filepath.Join(dir, "rows.csv")
	writeRows(t, rows, 20_000, 400)
	text := readFile(t, rows)
	files := func(name string) (output, rejects string) {
		return filepath.Join(dir, name+".csv"), filepath.Join(dir, name+"-rejects.csv")
	}
	output, rejects := files("whole")
	if out, err := exec.Command(spectally, "batch", rows, "--output", output, "--rejects", rejects).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	want, wantRejects := readFile(t, output), readFile(t, rejects)
	r := rand.New(rand.NewPCG(8, 20))
	for round := range 3 {
		output, rejects := files(fmt.Sprint("round", round))
		args := []string{"batch", "--output", output, "--rejects", rejects, "--resume", "--checkpoint", "0s"}
		reached := int64(0)
		for range 1 + r.IntN(3) {
			f := newFeed(t, exec.Command(spectally, args...), output+".checkpoint", text)
			for range 1 + r.IntN(3) {
				reached = f.await(reached)
			}
			for range r.IntN(4) { // somewhere in the midst of these
				f.give(piece / 3)
			}
			f.kill()
			for _, path := range []string{output, rejects} {
				if _, err := os.Stat(path); err == nil {
					t.Fatalf("round %d: %s appears before the end", round, filepath.Base(path))
				}
			}
			reached = checkpointRows(t, output+".checkpoint") // which may have gone on
		}
		out, err := exec.Command(spectally, append(args, "--format", "csv", rows)...).Output()
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		if lines := strings.Split(string(out), "\n"); len(lines) < 2 || strings.Split(lines[1], ",")[4] != fmt.Sprint(reached) {
			t.Errorf("round %d: %q; want %d rows resumed", round, out, reached)
		}
		if !bytes.Equal(readFile(t, output), want) || !bytes.Equal(readFile(t, rejects), wantRejects) {
			t.Fatalf("round %d: the files differ from those of a run that was not killed", round)
		}
	}
}
