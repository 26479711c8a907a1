package batch

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
)

// checkpoint is how far a run has come: what it has read, counted and written, all of
// which is on the disk.
type checkpoint struct {
	Form    int      `json:"checkpoint"` // of this structure
	Program string   `json:"program"`
	Settled string   `json:"settled"` // what decides the output
	Input   position `json:"input"`
	Output  state    `json:"output"`
	Rejects state    `json:"rejects"`
	Counts  Counts   `json:"counts"`
	Done    bool     `json:"done"` // all is written; the files have yet to appear
}

const checkpointForm = 1

// state is how much of a file was written, and a check sum of it.
type state struct {
	Bytes int64  `json:"bytes"`
	CRC   uint32 `json:"crc32c"`
}

// load reads the checkpoint; nil if there is none.
func (f *file) load() (*checkpoint, error) {
	text, err := os.ReadFile(f.checkpointPath())
	if errors.Is(err, os.ErrNotExist) || f.Force && !f.Resume {
		return nil, nil
	}
	if err != nil {
		return nil, &WriteError{f.checkpointPath(), plainFault(err)}
	}
	c := &checkpoint{}
	if json.Unmarshal(text, c) != nil || c.Form != checkpointForm {
		return nil, refuse("%s: no checkpoint that this program can read: --force begins anew", f.checkpointPath())
	}
	return c, nil
}

// resume goes on from the checkpoint.
func (f *file) resume(settled string) (position, Counts, error) {
	c := &f.now
	if c.Program != f.Program {
		return position{}, Counts{}, refuse("%s: begun by %s: --force begins anew", f.checkpointPath(), short(c.Program))
	}
	if c.Settled != f.settled(settled) {
		return position{}, Counts{}, refuse("%s: begun with other settings (%s; now %s): --force begins anew", f.checkpointPath(), short(c.Settled), short(f.settled(settled)))
	}
	if c.Done {
		return position{}, c.Counts, f.complete()
	}
	for _, t := range f.targets() {
		s := c.Output
		if t == f.rejects {
			s = c.Rejects
		}
		if !t.leftover() {
			return position{}, Counts{}, refuse("%s: gone, though its checkpoint is there: --force begins anew", t.part)
		}
		if err := t.open(); err != nil {
			return position{}, Counts{}, err
		}
		same, err := t.holds(s.Bytes, s.CRC)
		if err == nil && !same {
			err = refuse("%s: not what the run has left: --force begins anew", t.part)
		}
		if err == nil {
			err = t.cut(s.Bytes)
		}
		if err != nil {
			return position{}, Counts{}, err
		}
	}
	return c.Input, c.Counts, nil
}

// errFinished says that there was nothing left to do but to let the files appear.
var errFinished = errors.New("the run was at its end")

// complete lets the files appear that have not done so yet.
func (f *file) complete() error {
	for _, t := range f.targets() {
		if t.leftover() {
			if err := t.appear(); err != nil {
				return err
			}
		}
	}
	if err := f.dropCheckpoint(); err != nil {
		return err
	}
	return errFinished
}

// save writes a checkpoint, after what it speaks of.
func (f *file) save(now *checkpoint) error {
	for _, t := range f.targets() {
		if err := t.sync(); err != nil {
			return err
		}
	}
	text, err := json.MarshalIndent(now, "", "  ")
	if err != nil {
		return err
	}
	if err := replaceFile(f.checkpointPath(), append(text, '\n')); err != nil {
		return &WriteError{f.checkpointPath(), plainFault(err)}
	}
	return nil
}

// replaceFile writes a small file that is either the old or the new one, whatever
// happens.
func replaceFile(path string, text []byte) error {
	fresh := path + ".new"
	w, err := os.OpenFile(fresh, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o666)
	if err != nil {
		return err
	}
	_, err = w.Write(text)
	if err == nil {
		err = w.Sync()
	}
	if err = errors.Join(err, w.Close()); err == nil {
		err = os.Rename(fresh, path)
	}
	if err != nil {
		return errors.Join(err, os.Remove(fresh))
	}
	return syncDirectory(filepath.Dir(path))
}
