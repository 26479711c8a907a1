package batch

import (
	"crypto/rand"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"spectally/cmd/internal/savefile"
)

// errRefused marks errors about files that are already there.
var errRefused = errors.New("refused")

// refusal says why a file is not written.
type refusal struct{ text string }

func (r *refusal) Error() string        { return r.text }
func (r *refusal) Is(target error) bool { return target == errRefused }

func refuse(format string, args ...any) error { return &refusal{fmt.Sprintf(format, args...)} }

// target is a file that is to appear whole: until then its content is in a part file
// beside it, which has a name that nothing else has. A device or a pipe is written as it
// is.
type target struct {
	path, part string
	force      bool // it may replace a file
	direct     bool
	file       *os.File
	size       int64  // of what was written
	crc        uint32 // of it
}

// partExtension ends the name of a part file.
const partExtension = ".part"

// partPrefix begins it.
func (t *target) partPrefix() string { return "." + filepath.Base(t.path) + "." }

// newPart gives the target a part file with a name that nobody can have thought of, and
// returns the name without its folder.
func (t *target) newPart() string {
	name := t.partPrefix() + strings.ToLower(rand.Text()[:12]) + partExtension
	t.part = filepath.Join(filepath.Dir(t.path), name)
	return name
}

func (t *target) named(what string) named { return fileNamed(what, t.path) }

// newTarget finds out where to write. It refuses a file that is already there, unless
// it may be replaced.
func newTarget(path string, force bool) (*target, error) {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	t := &target{path: path, force: force}
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return t, nil
	case err != nil:
		return nil, &WriteError{path, plainFault(err)}
	case info.IsDir():
		return nil, refuse("%s: a directory: must be a file", path)
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
	if t.direct || t.part == "" {
		return false
	}
	_, err := os.Lstat(t.part)
	return err == nil
}

// create makes the part file, or opens what is written as it is.
func (t *target) create() error {
	if t.direct {
		f, err := openPipe(t.path)
		if err != nil {
			return &WriteError{t.path, plainFault(err)}
		}
		t.file = f
		return nil
	}
	if t.part == "" {
		t.newPart()
	}
	return t.openPart(os.O_CREATE | os.O_EXCL)
}

// open opens the part file that is there.
func (t *target) open() error { return t.openPart(0) }

func (t *target) openPart(flags int) error {
	f, err := os.OpenFile(t.part, os.O_RDWR|flags, 0o666)
	if err != nil {
		return &WriteError{t.part, plainFault(err)}
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
	if info, err := os.Stat(t.path); err == nil && t.force {
		if err := os.Chmod(t.part, info.Mode().Perm()); err != nil { // as the file had it
			return t.fault(err)
		}
	}
	if err := savefile.Name(t.part, t.path, t.force); err != nil {
		if errors.Is(err, savefile.ErrExists) {
			return t.checkFree()
		}
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
	return errors.Join(err, t.remove())
}

func (t *target) remove() error { return t.fault(os.Remove(t.part)) }

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
