//go:build unix

package batch

import (
	"errors"
	"os"

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
