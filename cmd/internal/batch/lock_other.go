//go:build !unix && !windows

package batch

import (
	"errors"
	"os"
)

// In a browser rows are read, and there are no files to write to.

func lock(*os.File) error { return errors.ErrUnsupported }

func syncDirectory(string) error { return nil }

func removeLocked(f *os.File) error { return errors.Join(f.Close(), os.Remove(f.Name())) }

func openPipe(string) (*os.File, error) { return nil, errors.ErrUnsupported }
