package batch

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// lock keeps other runs from a file until it is closed. The byte that is locked lies
// behind everything that is written.
func lock(f *os.File) error {
	at := windows.Overlapped{OffsetHigh: 1 << 30}
	return windows.LockFileEx(windows.Handle(f.Fd()), windows.LOCKFILE_EXCLUSIVE_LOCK|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, &at)
}

// syncDirectory has nothing to do: the system keeps names in its journal.
func syncDirectory(string) error { return nil }

// removeLocked takes a locked file away. One that is open cannot be: another run that
// has it by then keeps it.
func removeLocked(f *os.File) error { return errors.Join(f.Close(), os.Remove(f.Name())) }

// openPipe opens a device to write to.
func openPipe(path string) (*os.File, error) { return os.OpenFile(path, os.O_WRONLY, 0) }
