//go:build unix

package batch

import (
	"errors"
	"os"
	"time"

	"golang.org/x/sys/unix"
)

// lock keeps other runs from a file until it is closed.
func lock(f *os.File) error {
	err := unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB)
	if errors.Is(err, unix.ENOTSUP) || errors.Is(err, unix.ENOLCK) {
		return nil // some network file systems know no locks
	}
	return err
}

// syncDirectory makes the names in a directory last.
func syncDirectory(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	err = d.Sync()
	if errors.Is(err, unix.EINVAL) {
		err = nil // some file systems cannot, and need not
	}
	return errors.Join(err, d.Close())
}

// removeLocked takes a locked file away and closes it.
func removeLocked(f *os.File) error { return errors.Join(os.Remove(f.Name()), f.Close()) }

// openPipe opens a pipe or a device to write to. A pipe that nobody reads does not hold
// the run up for ever.
func openPipe(path string) (*os.File, error) {
	for end := time.Now().Add(pipeWait); ; time.Sleep(pipeWait / 40) {
		f, err := os.OpenFile(path, os.O_WRONLY|unix.O_NONBLOCK, 0)
		if !errors.Is(err, unix.ENXIO) {
			return f, err
		}
		if time.Now().After(end) {
			return nil, errors.New("no program reads from it")
		}
	}
}

// pipeWait is how long a pipe may have no reader.
const pipeWait = 2 * time.Second
