package batch

import (
	"io/fs"
	"os"
	"path/filepath"
)

// named is a file of a run: what it is for, its name, and what is there under that name.
type named struct {
	what, path string
	info       fs.FileInfo // nil if there is nothing
}

func fileNamed(what, path string) named {
	info, err := os.Stat(path)
	if err != nil {
		return named{what, path, nil}
	}
	return named{what, path, info}
}

// different wants the files of a run to be different ones, by whatever names, links
// among them. Devices and pipes may have several uses.
func different(files []named) error {
	for i := range files {
		for j := range i {
			a, b := &files[j], &files[i]
			if !a.is(b) {
				continue
			}
			path := b.path
			if path == "" {
				path = a.path
			}
			return refuse("%s: %s and %s must be two files", path, a.what, b.what)
		}
	}
	return nil
}

func (a *named) is(b *named) bool {
	if a.info != nil && b.info != nil {
		return a.info.Mode().IsRegular() && os.SameFile(a.info, b.info)
	}
	return a.info == nil && b.info == nil && a.path != "" && b.path != "" && placeOf(a.path) == placeOf(b.path)
}

// placeOf is the full name that a file which is not there yet is to have.
func placeOf(path string) string {
	if full, err := filepath.Abs(path); err == nil {
		path = full
	}
	if folder, err := filepath.EvalSymlinks(filepath.Dir(path)); err == nil {
		return filepath.Join(folder, filepath.Base(path))
	}
	return path
}
