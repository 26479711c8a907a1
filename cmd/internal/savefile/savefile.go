// Package savefile writes a file whole or not at all.
package savefile

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"time"
)

// ErrExists tells that a file is there already and was not to be replaced.
var ErrExists = fs.ErrExist

// ErrNotFile tells that what is there is no regular file, so it is not replaced: a
// folder, a device.
var ErrNotFile = errors.New("it is no regular file")

// Write writes data to a file. The data is written beside it under another name,
// brought to the disk, and then given its name in one step: whoever reads the file has
// it whole, and a failure leaves what was there. Unless replace is set a file that is
// there stays, and the error is [ErrExists]; one that is replaced keeps its permissions,
// and a link stays a link.
func Write(path string, data []byte, replace bool) error {
	f, err := Create(path, replace)
	if err != nil {
		return err
	}
	if _, err := f.Write(data); err != nil {
		return errors.Join(err, f.Discard())
	}
	return f.Commit()
}

// target finds the file that a path leads to and the permissions that it is to have.
func target(path string, replace bool) (string, fs.FileMode, error) {
	const usual = 0o666 // less what the user's mask takes away
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if _, err := os.Lstat(path); err == nil {
			return "", 0, fmt.Errorf("it is a link to nothing: %w", ErrNotFile)
		}
		return path, usual, nil
	case err != nil:
		return "", 0, err
	case !info.Mode().IsRegular():
		return "", 0, ErrNotFile
	case !replace:
		return "", 0, ErrExists
	}
	real, err := filepath.EvalSymlinks(path)
	return real, info.Mode().Perm(), err
}

// create makes a file with a name that nothing has.
func create(path string, mode fs.FileMode) (*os.File, error) {
	folder, base := filepath.Split(path)
	for n := time.Now().UnixNano(); ; n++ {
		f, err := os.OpenFile(folder+"."+base+"."+strconv.FormatInt(n, 36)+".part", os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
		if !errors.Is(err, fs.ErrExist) {
			return f, err
		}
	}
}

// Name gives a file the name that it is to have and takes away the one it had. Unless
// replace is set a name that is taken is [ErrExists].
func Name(temporary, path string, replace bool) error {
	if replace {
		return os.Rename(temporary, path)
	}
	err := os.Link(temporary, path) // fails if the name is taken, even just now
	if err == nil {
		return os.Remove(temporary)
	}
	if errors.Is(err, fs.ErrExist) {
		return ErrExists
	}
	// A file system without hard links.
	if _, err := os.Lstat(path); err == nil {
		return ErrExists
	}
	return os.Rename(temporary, path)
}

func removed(path string) error {
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// syncFolder brings the new name to the disk. Where a folder cannot be opened for that,
// the name is there all the same, though a crash may lose it.
func syncFolder(folder string) {
	if f, err := os.Open(folder); err == nil {
		_ = f.Sync()
		_ = f.Close()
	}
}
