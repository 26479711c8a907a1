//go:build unix

package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
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

// writeRows writes a file of rows that repeat themselves now and then.
func writeRows(t *testing.T, path string, n int) {
	t.Helper()
	combinations := []string{"n78:80", "B3:20 + n78:80@640000", "\"B1:20,layers=2 + B7:20\"", "n999:10", "n78:35 + n28:10", "bad", "n1:20+n28:10+n78:100", "CA_3A-7A"}
	var b bytes.Buffer
	b.WriteString("number,carriers,down,up,latency\n")
	for i := range n {
		fmt.Fprintf(&b, "%d,%s,%d.%d,%d,%d\n", i, combinations[i*7%len(combinations)], i%900, i%10, i%80, 10+i%50)
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

// A run that is killed at any moment, again and again, and resumed writes the same
// bytes as one that is not, and its files appear only when they are whole.
func TestBatchKilled(t *testing.T) {
	spectally, dir := program(t), t.TempDir()
	rows := filepath.Join(dir, "rows.csv")
	writeRows(t, rows, 150_000)
	files := func(name string) (output, rejects string) {
		return filepath.Join(dir, name+".csv"), filepath.Join(dir, name+"-rejects.csv")
	}
	output, rejects := files("whole")
	began := time.Now()
	if out, err := exec.Command(spectally, "batch", rows, "--output", output, "--rejects", rejects).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	whole := time.Since(began)
	want, wantRejects := readFile(t, output), readFile(t, rejects)
	r := rand.New(rand.NewPCG(8, 20))
	killed, resumed := 0, 0
	for round := range 8 {
		output, rejects := files(fmt.Sprint("round", round))
		for attempt := 0; ; attempt++ {
			if attempt > 50 {
				t.Fatal("the run never comes to an end")
			}
			_, err := os.Stat(output + ".checkpoint")
			had := err == nil
			cmd := exec.Command(spectally, "batch", rows, "--output", output, "--rejects", rejects, "--resume", "--checkpoint", "2ms", "--format", "csv")
			var out bytes.Buffer
			cmd.Stdout, cmd.Stderr = &out, &out
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			if attempt < 4 {
				time.Sleep(time.Duration(r.Int64N(int64(whole))))
				if err := cmd.Process.Kill(); err != nil && !errors.Is(err, os.ErrProcessDone) {
					t.Fatal(err)
				}
			}
			err = cmd.Wait()
			if err == nil {
				if had {
					resumed++
				}
				break
			}
			if cmd.ProcessState.Exited() {
				t.Fatalf("%v\n%s", err, out.String())
			}
			killed++
			// Both may have appeared already if the run was killed after that; the rows
			// come last.
			if text, err := os.ReadFile(output); err == nil && !bytes.Equal(text, want) {
				t.Fatal("the output appears, and is not whole")
			}
			if text, err := os.ReadFile(rejects); err == nil && !bytes.Equal(text, wantRejects) {
				t.Fatal("the rejects appear, and are not whole")
			}
			if _, err := os.Stat(output); err == nil {
				if _, err := os.Stat(output + ".checkpoint"); err != nil {
					break // it was at its end
				}
			}
		}
		if !bytes.Equal(readFile(t, output), want) || !bytes.Equal(readFile(t, rejects), wantRejects) {
			t.Fatalf("round %d: the files differ from those of a run that was not killed", round)
		}
	}
	t.Logf("%d times killed, %d of 8 runs ended from a checkpoint", killed, resumed)
	if killed < 8 || resumed == 0 {
		t.Errorf("%d times killed, %d runs ended from a checkpoint: too few to tell anything", killed, resumed)
	}
}

// A signal ends a run with the exit status that shells know, and the count so far;
// what it leaves can be resumed.
func TestBatchInterrupted(t *testing.T) {
	spectally := program(t)
	for signal, status := range map[syscall.Signal]int{syscall.SIGINT: 130, syscall.SIGTERM: 143} {
		dir := t.TempDir()
		rows, output := filepath.Join(dir, "rows.csv"), filepath.Join(dir, "out.csv")
		writeRows(t, rows, 20_000)
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
		waitFor(t, func() bool {
			info, err := os.Stat(output + ".part")
			return err == nil && info.Size() > int64(len(text)/2)
		})
		if err := cmd.Process.Signal(signal); err != nil {
			t.Fatal(err)
		}
		err = cmd.Wait()
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

// waitFor waits until something holds.
func waitFor(t *testing.T, holds func() bool) {
	t.Helper()
	for end := time.Now().Add(30 * time.Second); !holds(); time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatal("waited in vain")
		}
	}
}

// A reader that has seen enough ends the run; nothing is left of its rejects.
func TestBatchClosedPipe(t *testing.T) {
	spectally, dir := program(t), t.TempDir()
	rows, rejects := filepath.Join(dir, "rows.csv"), filepath.Join(dir, "rejects.csv")
	writeRows(t, rows, 50_000)
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
		select {
		case got := <-answers:
			if !strings.HasPrefix(got, line[:len(line)-1]+`,"valid":`) || strings.Count(got, "\n") != 1 {
				t.Errorf("%s: %q", line, got)
			}
		case <-time.After(20 * time.Second):
			t.Fatalf("%s: no answer", line)
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
