//go:build unix

package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
)

// A signal ends a run with the exit status that shells know, and the count so far;
// what it leaves can be resumed.
func TestBatchInterrupted(t *testing.T) {
	spectally := program(t)
	for signal, status := range map[syscall.Signal]int{syscall.SIGINT: 130, syscall.SIGTERM: 143, syscall.SIGHUP: 129} {
		dir := t.TempDir()
		rows, output := filepath.Join(dir, "rows.csv"), filepath.Join(dir, "out.csv")
		writeRows(t, rows, 20_000, 0)
		text := readFile(t, rows)
		cmd := exec.Command(spectally, "batch", "--output", output)
		in, err := cmd.StdinPipe()
		if err != nil {
			t.Fatal(err)
		}
		var errs bytes.Buffer
		cmd.Stderr = &errs
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		if _, err := in.Write(text[:len(text)/2]); err != nil { // and no more: the run waits
			t.Fatal(err)
		}
		ended := make(chan error, 1)
		go func() { ended <- cmd.Wait() }()
		for !isLonger(dir+"/.out.csv.*.part", len(text)/2) {
			select {
			case err := <-ended:
				t.Fatalf("%v: ended by itself: %v\n%s", signal, err, errs.String())
			case <-time.After(time.Millisecond):
			}
		}
		if err := cmd.Process.Signal(signal); err != nil {
			t.Fatal(err)
		}
		err = <-ended
		if got := cmd.ProcessState.ExitCode(); got != status {
			t.Errorf("%v: exit status %d (%v), want %d\n%s", signal, got, err, status, errs.String())
		}
		if s := errs.String(); !strings.HasPrefix(s, "spectally batch: "+signal.String()+" after ") || !strings.HasSuffix(s, " rows; --resume goes on from there\n") {
			t.Errorf("%v: %q", signal, s)
		}
		if _, err := os.Stat(output); err == nil {
			t.Errorf("%v: the output appears", signal)
		}
		resume := exec.Command(spectally, "batch", "--output", output, "--resume", "--format", "csv", rows)
		out, err := resume.CombinedOutput()
		if resume.ProcessState.ExitCode() != 1 { // some rows are rejected
			t.Errorf("%v: %v\n%s", signal, err, out)
		}
		plain, _ := exec.Command(spectally, "batch", "--quiet", rows).Output()
		if !bytes.Equal(readFile(t, output), plain) {
			t.Errorf("%v: resumed, the rows differ", signal)
		}
	}
}

// isLonger tells whether a file of such a name is there and has more bytes.
func isLonger(pattern string, bytes int) bool {
	for _, path := range globbed(pattern) {
		if info, err := os.Stat(path); err == nil && info.Size() > int64(bytes) {
			return true
		}
	}
	return false
}

func globbed(pattern string) []string {
	list, err := filepath.Glob(pattern)
	if err != nil {
		panic(err) // a fault of the pattern
	}
	return list
}

// A pipe that no program reads does not hold a run up.
func TestBatchToPipeWithoutReader(t *testing.T) {
	dir := t.TempDir()
	rows, pipe := filepath.Join(dir, "rows.csv"), filepath.Join(dir, "pipe")
	writeRows(t, rows, 10, 0)
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	spectally := program(t)
	cmd := exec.Command(spectally, "batch", rows, "--output", pipe)
	out, err := cmd.CombinedOutput()
	if cmd.ProcessState.ExitCode() != 3 || !strings.Contains(string(out), "no program reads from it") {
		t.Errorf("%v\n%s", err, out)
	}
	read := make(chan []byte)
	go func() {
		text, _ := os.ReadFile(pipe)
		read <- text
	}()
	if out, err := exec.Command(spectally, "batch", rows, "--output", pipe).CombinedOutput(); err == nil || !strings.Contains(string(out), "rejected") {
		t.Errorf("%v\n%s", err, out)
	}
	if got := <-read; bytes.Count(got, []byte("\n")) < 5 {
		t.Errorf("read from the pipe: %q", got)
	}
}

// A reader that has seen enough ends the run; nothing is left of its rejects.
func TestBatchClosedPipe(t *testing.T) {
	spectally, dir := program(t), t.TempDir()
	rows, rejects := filepath.Join(dir, "rows.csv"), filepath.Join(dir, "rejects.csv")
	writeRows(t, rows, 50_000, 0)
	cmd := exec.Command(spectally, "batch", rows, "--rejects", rejects)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	var errs bytes.Buffer
	cmd.Stderr = &errs
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	if _, err := io.ReadFull(out, make([]byte, 100)); err != nil {
		t.Fatal(err)
	}
	if err := out.Close(); err != nil {
		t.Fatal(err)
	}
	err = cmd.Wait()
	if cmd.ProcessState.ExitCode() != 3 || !strings.HasPrefix(errs.String(), "spectally batch: the rows could not be written: ") || !strings.Contains(errs.String(), "broken pipe, after ") {
		t.Errorf("exit status %d (%v): %q", cmd.ProcessState.ExitCode(), err, errs.String())
	}
	entries, err := os.ReadDir(dir)
	if err != nil || len(entries) != 1 {
		t.Errorf("left: %v, %v", entries, err)
	}
}

// A line filter answers each line as it comes.
func TestBatchAsLineFilter(t *testing.T) {
	cmd := exec.Command(program(t), "batch", "--quiet")
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	answers := make(chan string)
	go func() {
		defer close(answers)
		b := make([]byte, 4096)
		for {
			n, err := out.Read(b)
			if err != nil {
				return
			}
			answers <- string(b[:n])
		}
	}()
	for _, line := range []string{`{"carriers":"n78:80","n":1}`, `{"carriers":"B3:20","n":2}`, `{"carriers":"n999:5","n":3}`} {
		if _, err := io.WriteString(in, line+"\n"); err != nil {
			t.Fatal(err)
		}
		if got := <-answers; !strings.HasPrefix(got, line[:len(line)-1]+`,"valid":`) || strings.Count(got, "\n") != 1 {
			t.Errorf("%s: %q", line, got)
		}
	}
	if err := in.Close(); err != nil {
		t.Fatal(err)
	}
	if got, more := <-answers; more {
		t.Errorf("at the end: %q", got)
	}
	if err := cmd.Wait(); err != nil {
		t.Error(err)
	}
}

// A partition by itself, an empty one too, has the rows that it has as a part of the
// whole.
func TestBatchInPartitions(t *testing.T) {
	spectally := program(t)
	var lines []string
	for i := range 500 {
		lines = append(lines, fmt.Sprintf("{\"i\":%d,\"carriers\":%q,\"down\":%d}\n", i, []string{"n78:80", "B3:20 + n78:80", "n1:20 + n3:20", "n28:7"}[i%4], i))
	}
	answer := func(lines []string) string {
		cmd := exec.Command(spectally, "batch", "--rows", "jsonl", "--quiet")
		cmd.Stdin = strings.NewReader(strings.Join(lines, ""))
		out, err := cmd.Output()
		if err != nil {
			t.Fatal(err)
		}
		return string(out)
	}
	var parts strings.Builder
	for part := range slices.Chunk(lines, 123) {
		parts.WriteString(answer(part))
	}
	if parts.String() != answer(lines) {
		t.Error("the parts differ from the whole")
	}
	if got := answer(nil); got != "" {
		t.Errorf("an empty part: %q", got)
	}
}
