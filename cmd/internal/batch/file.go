package batch

import (
	"errors"
	"io/fs"
	"time"
)

// Output says which files a run writes.
type Output struct {
	Path    string // of the rows
	Rejects string // of the rows that cannot be used; empty keeps none
	Force   bool   // replace files that are there, and begin anew
	Resume  bool   // go on from the checkpoint of a run that was broken off, if there is one
	// Input is the file that the rows are read from; nil if it is not known. None of
	// the files that are written may be it.
	Input fs.FileInfo
	// Every is the time between checkpoints.
	Every time.Duration
	// Program is what answers the rows: another one does not resume.
	Program Program
}

// file is a sink that writes files, which appear when all is done. Until then it
// keeps a checkpoint, from which another run can go on.
type file struct {
	Output
	output  *target
	rejects *target // nil if they are not kept
	journal *journal
	saved   time.Time // when the last checkpoint was begun, and how much was written then
	savedAt int64
	saving  chan error // gets the outcome of a checkpoint that is being written; else nil
	now     checkpoint // of what was written last
	kept    bool       // a checkpoint of rows is there
	open    bool       // the files are open, and now says what is in them
}

// journalExtension is added to the name of the output for the journal.
const journalExtension = ".checkpoint"

// NewFile makes a sink of files. It opens none, but refuses names that are not those of
// different files, files that are already there, unless they may be replaced, and what a
// run that was broken off has left, unless it is to be resumed or to be dropped.
func NewFile(o Output) (Sink, error) {
	f := &file{Output: o}
	var err error
	if f.output, err = newTarget(o.Path, o.Force); err != nil {
		return nil, err
	}
	used := []named{{"the input", "", o.Input}, f.output.named("--output")}
	if o.Rejects != "" {
		if f.rejects, err = newTarget(o.Rejects, o.Force); err != nil {
			return nil, err
		}
		used = append(used, f.rejects.named("--rejects"))
	}
	if !f.output.direct {
		used = append(used, fileNamed("the checkpoint", f.journalPath()))
	}
	if err := different(used); err != nil {
		return nil, err
	}
	if f.output.direct {
		if o.Resume {
			return nil, refuse("%s: no file that a run can be resumed with", o.Path)
		}
		return f, nil
	}
	saved, err := lookJournal(f.journalPath())
	switch {
	case err != nil:
		return nil, err
	case saved == nil:
	case !o.Resume && !o.Force:
		return nil, refuse("%s: left by a run that was broken off: --resume goes on from there, --force begins anew", f.journalPath())
	case o.Resume && saved.Done:
		return f, nil // some files may have appeared
	}
	for _, t := range f.targets() {
		if err := t.checkFree(); err != nil {
			return nil, err
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

func (f *file) journalPath() string { return f.output.path + journalExtension }

func (f *file) begin(settled string) (position, Counts, error) {
	f.saved = time.Now()
	if f.output.direct {
		return position{}, Counts{}, f.create()
	}
	var saved *checkpoint
	var err error
	if f.journal, saved, err = openJournal(f.journalPath()); err != nil {
		return position{}, Counts{}, err
	}
	if saved != nil && f.Resume {
		f.now, f.kept = *saved, true
		from, counts, err := f.resume(settled)
		f.open, f.savedAt = err == nil, f.output.size
		return from, counts, err
	}
	if saved != nil {
		f.now, f.kept = *saved, true // until the files are gone
		if err := f.dropParts(); err != nil {
			return position{}, Counts{}, err
		}
		f.kept = false
	}
	f.now = checkpoint{Form: checkpointForm, Program: f.Program, Settled: f.settled(settled)}
	for _, t := range f.targets() {
		f.now.of(t == f.rejects).Part = t.newPart()
	}
	if err := f.journal.begin(&f.now); err != nil { // before the files: so none is left that it does not name
		return position{}, Counts{}, err
	}
	return position{}, Counts{}, f.create()
}

func (f *file) create() error {
	for _, t := range f.targets() {
		if err := t.create(); err != nil {
			return err
		}
	}
	f.open = true
	return nil
}

// dropParts removes the part files that an earlier run has left.
func (f *file) dropParts() error {
	for _, t := range f.targets() {
		if t.take(f.now.of(t == f.rejects).Part) && t.leftover() {
			if err := t.remove(); err != nil {
				return err
			}
		}
	}
	return nil
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
		f.now.Rejects.Bytes, f.now.Rejects.CRC = f.rejects.size, f.rejects.crc
	}
	f.now.Output.Bytes, f.now.Output.CRC = f.output.size, f.output.crc
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
		f.kept = false
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
	switch {
	case f.journal == nil:
	case f.kept:
		err = errors.Join(err, f.journal.close())
	default:
		err = errors.Join(err, f.journal.drop())
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

// appear lets the files appear that have not done so, and gives the journal up after
// that: no other run has the names before.
func (f *file) appear() error {
	for _, t := range f.targets() {
		if t.leftover() {
			if err := t.appear(); err != nil {
				return errors.Join(err, f.journal.close())
			}
		}
	}
	return f.journal.drop()
}
