package batch

import (
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// errRefused marks errors about files that are already there.
var errRefused = errors.New("refused")

// refusal says why a file is not written.
type refusal struct{ text string }

func (r *refusal) Error() string        { return r.text }
func (r *refusal) Is(target error) bool { return target == errRefused }

func refuse(format string, args ...any) error { return &refusal{fmt.Sprintf(format, args...)} }

// target is a file that is to appear whole: until then its content is in a part file
// beside it. A device or a pipe is written as it is.
type target struct {
	path, part string
	force      bool // it may replace a file
	direct     bool
	file       *os.File
	size       int64  // of what was written
	crc        uint32 // of it
}

// partExtension is added to the name of a file for its part file.
const partExtension = ".part"

// newTarget finds out where to write. It refuses a file that is already there, unless
// it may be replaced.
func newTarget(path string, force bool) (*target, error) {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	t := &target{path: path, part: path + partExtension, force: force}
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return t, nil
	case err != nil:
		return nil, &WriteError{path, plainFault(err)}
	case info.IsDir():
		return nil, refuse("%s: a directory: allowed is a file", path)
	case !info.Mode().IsRegular():
		t.direct = true
	}
	return t, nil
}

// checkFree refuses to replace a file.
func (t *target) checkFree() error {
	if t.force || t.direct {
		return nil
	}
	if _, err := os.Lstat(t.path); err == nil {
		return refuse("%s: the file is already there: --force replaces it", t.path)
	}
	return nil
}

// leftover tells whether a part file is there.
func (t *target) leftover() bool {
	_, err := os.Lstat(t.part)
	return err == nil && !t.direct
}

// checkLeftover refuses to drop the part file of another run.
func (t *target) checkLeftover(force bool) error {
	if err := t.checkFree(); err != nil {
		return err
	}
	if !force && t.leftover() {
		return refuse("%s: left by a run that was broken off: --force begins anew", t.part)
	}
	return nil
}

// create opens the part file, empty.
func (t *target) create() error {
	if err := t.open(); err != nil || t.direct {
		return err
	}
	return t.cut(0)
}

// open opens the part file for this run alone.
func (t *target) open() error {
	name, flags := t.part, os.O_RDWR|os.O_CREATE
	if t.direct {
		name, flags = t.path, os.O_WRONLY
	}
	f, err := os.OpenFile(name, flags, 0o666)
	if err != nil {
		return &WriteError{name, plainFault(err)}
	}
	if !t.direct {
		if err := lock(f); err != nil {
			return errors.Join(refuse("%s: another run is writing it", t.part), f.Close())
		}
	}
	t.file = f
	return nil
}

// cut drops all behind a size and goes there.
func (t *target) cut(size int64) error {
	err := t.file.Truncate(size)
	if err == nil {
		_, err = t.file.Seek(size, io.SeekStart)
	}
	t.size = size
	return t.fault(err)
}

// holds tells whether the part file begins with what was written up to a size, and
// notes it as written.
func (t *target) holds(size int64, crc uint32) (bool, error) {
	sum := crc32.New(castagnoli)
	n, err := io.Copy(sum, io.NewSectionReader(t.file, 0, size))
	if err != nil {
		return false, t.fault(err)
	}
	t.crc = sum.Sum32()
	return n == size && t.crc == crc, nil
}

func (t *target) write(b []byte) error {
	if len(b) == 0 {
		return nil
	}
	if _, err := t.file.Write(b); err != nil {
		return t.fault(err)
	}
	t.size += int64(len(b))
	t.crc = crc32.Update(t.crc, castagnoli, b)
	return nil
}

func (t *target) sync() error {
	if t.direct {
		return nil
	}
	return t.fault(t.file.Sync())
}

// appear closes the part file and gives it the name of the file.
func (t *target) appear() error {
	if err := t.close(); err != nil || t.direct {
		return err
	}
	if err := t.checkFree(); err != nil {
		return err
	}
	if info, err := os.Stat(t.path); err == nil {
		if err := os.Chmod(t.part, info.Mode().Perm()); err != nil { // as the file had it
			return t.fault(err)
		}
	}
	if err := os.Rename(t.part, t.path); err != nil {
		return t.fault(err)
	}
	return t.fault(syncDirectory(filepath.Dir(t.path)))
}

// discard closes the part file and removes it.
func (t *target) discard() error {
	if t.file == nil {
		return nil
	}
	err := t.close()
	if t.direct {
		return err
	}
	return errors.Join(err, t.fault(os.Remove(t.part)))
}

func (t *target) close() error {
	if t.file == nil {
		return nil
	}
	f := t.file
	t.file = nil
	return t.fault(f.Close())
}

func (t *target) fault(err error) error {
	if err == nil {
		return nil
	}
	return &WriteError{t.path, plainFault(err)}
}

// plainFault is a fault of a file without the name of the call and of the file.
func plainFault(err error) error {
	if p, ok := errors.AsType[*fs.PathError](err); ok {
		return p.Err
	}
	if l, ok := errors.AsType[*os.LinkError](err); ok {
		return l.Err
	}
	return err
}
