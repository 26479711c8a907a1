package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"golang.org/x/sys/unix"
)

// The first signal ends a run that waits for the beginning of its rows, and nothing is
// left of it.
func TestBatchInterruptedBeforeItBegins(t *testing.T) {
	dir := t.TempDir()
	cmd := exec.Command(program(t), "batch", "--output", filepath.Join(dir, "out.csv"), "--rejects", filepath.Join(dir, "rejects.csv"))
	read, write, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer read.Close()
	defer write.Close()
	cmd.Stdin = read
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	if _, err := write.WriteString("c"); err != nil {
		t.Fatal(err)
	}
	for waiting := 1; waiting > 0; time.Sleep(time.Millisecond) { // until it has read that
		if waiting, err = unix.IoctlGetInt(int(write.Fd()), unix.TIOCINQ); err != nil {
			t.Fatal(err)
		}
	}
	if err := cmd.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	if err := cmd.Wait(); cmd.ProcessState.ExitCode() != 130 {
		t.Errorf("%v", err)
	}
	entries, err := os.ReadDir(dir)
	if err != nil || len(entries) > 0 {
		t.Errorf("left: %v, %v", entries, err)
	}
}
