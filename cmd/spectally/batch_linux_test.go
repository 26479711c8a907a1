package main

import (
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
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

// A run over many sites that a signal ends leaves nothing of its file, not a hidden one.
func TestSitesInterrupted(t *testing.T) {
	signals := []os.Signal{os.Interrupt, unix.SIGTERM}
	if !signal.Ignored(unix.SIGHUP) { // under nohup the program goes on, as it must
		signals = append(signals, unix.SIGHUP)
	}
	for _, signal := range signals {
		dir := t.TempDir()
		cmd := exec.Command(program(t), "site", "--csv", "-", "--output", filepath.Join(dir, "out.csv"))
		in, err := cmd.StdinPipe()
		if err != nil {
			t.Fatal(err)
		}
		defer in.Close()
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		rows := strings.Repeat("A,1,rural,n78:20,8T8R\nB,1,rural,n78:20,8T8R\n", 2000) // more than is read at once
		if _, err := io.WriteString(in, "site,sector,environment,carrier,ports\n"+rows); err != nil {
			t.Fatal(err)
		}
		for len(globbed(dir+"/.*")) == 0 { // until it has begun to write
			time.Sleep(time.Millisecond)
		}
		if err := cmd.Process.Signal(signal); err != nil {
			t.Fatal(err)
		}
		if err := cmd.Wait(); err == nil || cmd.ProcessState.Exited() && cmd.ProcessState.ExitCode() < 128 {
			t.Errorf("%v: %v", signal, err)
		}
		entries, err := os.ReadDir(dir)
		if err != nil || len(entries) > 0 {
			t.Errorf("%v: left: %v, %v", signal, entries, err)
		}
	}
}
