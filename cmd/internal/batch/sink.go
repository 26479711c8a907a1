package batch

import (
	"errors"
	"io"
	"io/fs"
)

// WriteError says that something could not be written.
type WriteError struct {
	Path string // empty for standard output
	Err  error
}

// Error writes the error on one line.
func (e *WriteError) Error() string {
	if e.Path == "" {
		return "the rows could not be written: " + e.Err.Error()
	}
	return e.Path + ": " + e.Err.Error()
}

// Unwrap returns the fault itself.
func (e *WriteError) Unwrap() error { return e.Err }

// stream is a sink that writes rows to a writer as they come. The rejects still go to
// a file that appears when all is done.
type stream struct {
	w       io.Writer
	rejects *target // nil if they are not kept
}

// NewStream makes a sink of a writer. Rejects are kept in a file; an empty name
// keeps none. None of the files that are in use already, nil if they are not known, may
// be that file.
func NewStream(w io.Writer, rejects string, force bool, inUse ...fs.FileInfo) (Sink, error) {
	s := &stream{w: w}
	if rejects == "" {
		return s, nil
	}
	var err error
	if s.rejects, err = newTarget(rejects, force); err != nil {
		return nil, err
	}
	used := []named{}
	for _, info := range inUse {
		used = append(used, named{"the rows", "", info})
	}
	if err := different(append(used, s.rejects.named("--rejects"))); err != nil {
		return nil, err
	}
	return s, s.rejects.checkFree()
}

func (s *stream) begin(string) (position, Counts, error) {
	if s.rejects != nil {
		return position{}, Counts{}, s.rejects.create()
	}
	return position{}, Counts{}, nil
}

func (s *stream) write(output, rejects []byte, _ position, _ Counts) error {
	if err := s.partial(output); err != nil || s.rejects == nil {
		return err
	}
	return s.rejects.write(rejects)
}

func (s *stream) partial(output []byte) error {
	if len(output) == 0 {
		return nil
	}
	n, err := s.w.Write(output)
	if err == nil && n < len(output) {
		err = io.ErrShortWrite
	}
	if err != nil {
		return &WriteError{Err: err}
	}
	return nil
}

func (s *stream) interrupted() (bool, error) {
	if s.rejects != nil {
		return false, s.rejects.discard()
	}
	return false, nil
}

func (s *stream) finish() error {
	if s.rejects == nil {
		return nil
	}
	if err := s.rejects.sync(); err != nil {
		return errors.Join(err, s.rejects.discard())
	}
	return s.rejects.appear()
}
