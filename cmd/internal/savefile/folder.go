package savefile

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
)

// ErrOthers tells that a folder has files in it that are not to be replaced.
var ErrOthers = errors.New("it has other files in it")

// Folder writes files into a folder that appears whole, or not at all. A folder that is
// there and has something in it stays, and the error is [ErrExists]; with replace another
// takes its place, if mine knows the name of everything in it, else the error is
// [ErrOthers].
func Folder(path string, replace bool, mine func(name string) bool, write func(folder string) error) error {
	path = filepath.Clean(path)
	there, err := os.ReadDir(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		if info, e := os.Stat(path); e == nil && !info.IsDir() {
			return ErrExists
		}
		return err
	case len(there) > 0 && !replace:
		return ErrExists
	case slices.ContainsFunc(there, func(e fs.DirEntry) bool { return e.IsDir() || !mine(e.Name()) }):
		return ErrOthers
	}
	part, err := os.MkdirTemp(filepath.Dir(path), "."+filepath.Base(path)+".*.part")
	if err != nil {
		return err
	}
	err = write(part)
	if err == nil {
		err = os.Chmod(part, 0o755) // a temporary folder is its owner's alone
	}
	if err == nil {
		err = exchange(part, path)
	}
	if err != nil {
		return errors.Join(err, os.RemoveAll(part))
	}
	syncFolder(filepath.Dir(path))
	return nil
}

// exchange puts a folder in the place of another, which is taken away. If that fails, the
// other is where it was.
func exchange(part, path string) error {
	old := part + ".old"
	err := os.Rename(path, old)
	if errors.Is(err, fs.ErrNotExist) {
		return os.Rename(part, path)
	}
	if err != nil {
		return err
	}
	if err := os.Rename(part, path); err != nil {
		return errors.Join(err, os.Rename(old, path))
	}
	return os.RemoveAll(old)
}
