package batch

import (
	"errors"
	"os"
	"time"
)

// Output says which files a run writes.
type Output struct {
	Path    string // of the rows
	Rejects string // of the rows that cannot be used; empty keeps none
	Force   bool   // replace files that are there, and begin anew
	Resume  bool   // go on from the checkpoint of a run that was broken off, if there is one
	// Every is the time between checkpoints.
	Every time.Duration
	// Program names the program with its version: another one does not resume.
	Program string
}

// file is a sink that writes files, which appear when all is done. Until then it
// keeps a checkpoint, from which another run can go on.
type file struct {
	Output
	output  *target
	rejects *target   // nil if they are not kept
	saved   time.Time // when the last checkpoint was begun, and how much was written then
	savedAt int64
	saving  chan error // gets the outcome of a checkpoint that is being written; else nil
	now     checkpoint // of what was written last
	kept    bool       // a checkpoint is there
	open    bool       // the files are open, and now says what is in them
}

// checkpointExtension is added to the name of the output for the checkpoint.
const checkpointExtension = ".checkpoint"

// NewFile makes a sink of files. It refuses files that are already there, unless they
// may be replaced, and what a run that was broken off has left, unless it is to be
// resumed or to be dropped.
func NewFile(o Output) (Sink, error) {
	f := &file{Output: o}
	var err error
	if f.output, err = newTarget(o.Path, o.Force); err != nil {
		return nil, err
	}
	if o.Rejects != "" {
		if f.rejects, err = newTarget(o.Rejects, o.Force); err != nil {
			return nil, err
		}
		if f.rejects.path == f.output.path {
			return nil, refuse("%s: the rows and the rejects: allowed are two files", o.Path)
		}
	}
	if f.output.direct {
		if o.Resume {
			return nil, refuse("%s: no file that a run can be resumed with", o.Path)
		}
		return f, nil
	}
	saved, err := f.load()
	if err != nil {
		return nil, err
	}
	if o.Resume && saved != nil {
		f.now, f.kept = *saved, true
		if saved.Done {
			return f, nil
		}
	}
	for _, t := range f.targets() {
		if err := t.checkFree(); err != nil {
			return nil, err
		}
		if t.leftover() && !o.Resume && !o.Force {
			return nil, refuse("%s: left by a run that was broken off: --resume goes on from there, --force begins anew", t.part)
		}
	}
	return f, nil
}

func (f *file) targets() []*target {
	if f.rejects == nil {
		return []*target{f.output}
	}
	return []*target{f.rejects, f.output}
}

func (f *file) begin(settled string) (position, Counts, error) {
	f.saved = time.Now()
	if f.kept {
		from, counts, err := f.resume(settled)
		f.open, f.savedAt = err == nil, f.output.size
		return from, counts, err
	}
	f.now = checkpoint{Form: checkpointForm, Program: f.Program, Settled: f.settled(settled)}
	for _, t := range f.targets() {
		if err := t.create(); err != nil {
			return position{}, Counts{}, err
		}
	}
	f.open = true
	return position{}, Counts{}, f.dropCheckpoint()
}

// settled describes what decides the files.
func (f *file) settled(rows string) string {
	if f.rejects != nil {
		return rows + ", rejects kept"
	}
	return rows
}

func (f *file) write(output, rejects []byte, at position, all Counts) error {
	if err := f.output.write(output); err != nil {
		return err
	}
	if f.rejects != nil {
		if err := f.rejects.write(rejects); err != nil {
			return err // what is noted is still that neither file has the rows
		}
		f.now.Rejects = state{f.rejects.size, f.rejects.crc}
	}
	f.now.Output = state{f.output.size, f.output.crc}
	f.now.Input, f.now.Counts = at, all
	if f.output.direct {
		return nil
	}
	return f.saveBeside()
}

// saveEvery is how much is written between checkpoints, if that comes before the
// time: then what is left to bring to the disk at the end is never much.
const saveEvery = 32 << 20

// saveBeside sees that a checkpoint is saved from time to time, while the run goes
// on. What it speaks of is on the disk before it; more than that does no harm.
func (f *file) saveBeside() error {
	if f.saving != nil {
		select {
		case err := <-f.saving:
			f.saving = nil
			if err != nil {
				return err
			}
			f.kept = true
		default:
			return nil
		}
	}
	if time.Since(f.saved) < f.Every && f.output.size-f.savedAt < saveEvery {
		return nil
	}
	f.saved, f.savedAt = time.Now(), f.output.size
	saving, now := make(chan error, 1), f.now
	f.saving = saving
	go func() { saving <- f.save(&now) }()
	return nil
}

// settle waits for a checkpoint that is being saved.
func (f *file) settle() error {
	if f.saving == nil {
		return nil
	}
	err := <-f.saving
	f.saving = nil
	f.kept = f.kept || err == nil
	return err
}

// partial has nothing to do: the file does not appear.
func (f *file) partial([]byte) error { return nil }

// interrupted saves a checkpoint if there is anything to go on from, and else
// removes what was begun.
func (f *file) interrupted() (bool, error) {
	err := f.settle()
	switch {
	case !f.open || f.output.direct:
	case f.now.Counts.Rows == 0:
		err = f.dropCheckpoint()
	default:
		if err = f.trim(); err == nil {
			err = f.save(&f.now)
		}
		f.kept = f.kept || err == nil
	}
	for _, t := range f.targets() {
		if f.kept {
			err = errors.Join(err, t.close())
		} else {
			err = errors.Join(err, t.discard())
		}
	}
	return f.kept, err
}

// trim drops what was written and is not noted: on a full disk that makes room for
// the checkpoint.
func (f *file) trim() error {
	if f.rejects != nil {
		if err := f.rejects.cut(f.now.Rejects.Bytes); err != nil {
			return err
		}
	}
	return f.output.cut(f.now.Output.Bytes)
}

// finish lets the files appear. The checkpoint says so first, so that a run that is
// broken off in between can be resumed.
func (f *file) finish() error {
	if f.output.direct {
		if f.rejects != nil {
			if err := errors.Join(f.rejects.sync(), f.rejects.appear()); err != nil {
				return err
			}
		}
		return f.output.close()
	}
	err := f.settle()
	if err == nil {
		f.now.Done = true
		err = f.save(&f.now)
	}
	if err != nil {
		f.now.Done = false
		_, ended := f.interrupted()
		return errors.Join(err, ended)
	}
	return f.appear()
}

func (f *file) appear() error {
	for _, t := range f.targets() {
		if err := t.appear(); err != nil {
			return err
		}
	}
	return f.dropCheckpoint()
}

func (f *file) checkpointPath() string { return f.output.path + checkpointExtension }

func (f *file) dropCheckpoint() error {
	f.kept = false
	if err := os.Remove(f.checkpointPath()); err != nil && !errors.Is(err, os.ErrNotExist) {
		return &WriteError{f.checkpointPath(), plainFault(err)}
	}
	return nil
}
