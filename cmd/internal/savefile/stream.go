package savefile

import (
	"errors"
	"os"
	"path/filepath"
)

// File is a file that is written piece by piece and appears whole when it is committed,
// as [Write] lets it appear. Until then its content is beside it under another name.
type File struct {
	file    *os.File
	path    string
	replace bool
}

// Create begins a file. Unless replace is set a file that is there already is
// [ErrExists], now or when the file is committed.
func Create(path string, replace bool) (*File, error) {
	path, mode, err := target(path, replace)
	if err != nil {
		return nil, err
	}
	f, err := create(path, mode)
	if err != nil {
		return nil, err
	}
	return &File{f, path, replace}, nil
}

// Write adds to the file.
func (f *File) Write(data []byte) (int, error) { return f.file.Write(data) }

// Commit brings what was written to the disk and gives the file its name. If that fails
// what was there stays, and nothing is left behind.
func (f *File) Commit() error {
	err := f.file.Sync()
	if closed := f.file.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = Name(f.file.Name(), f.path, f.replace)
	}
	if err != nil {
		return errors.Join(err, removed(f.file.Name()))
	}
	syncFolder(filepath.Dir(f.path))
	return nil
}

// Discard drops what was written.
func (f *File) Discard() error {
	return errors.Join(f.file.Close(), removed(f.file.Name()))
}
