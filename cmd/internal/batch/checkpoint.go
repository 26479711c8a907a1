package batch

import (
	"errors"
	"path/filepath"
	"strings"
)

// checkpoint is how far a run has come: what it has read, counted and written, all of
// which is on the disk.
type checkpoint struct {
	Form    int      `json:"checkpoint"` // of this structure
	Save    int64    `json:"save"`       // counts the checkpoints of a run
	Program Program  `json:"program"`
	Settled string   `json:"settled"` // what decides the output
	Input   position `json:"input"`
	Output  state    `json:"output"`
	Rejects state    `json:"rejects"`
	Counts  Counts   `json:"counts"`
	Done    bool     `json:"done"` // all is written; the files have yet to appear
}

const checkpointForm = 2

// Program says which program answers the rows: another one may answer otherwise.
type Program struct {
	Name   string `json:"name"`   // with its version
	Build  string `json:"build"`  // tells builds of one version apart
	Tables string `json:"tables"` // a hash of the tables that it answers from
}

// state is how much of a file was written, with a check sum of it, and the name of the
// part file in which that is.
type state struct {
	Part  string `json:"part"` // empty if there is no such file
	Bytes int64  `json:"bytes"`
	CRC   uint32 `json:"crc32c"`
}

// resume goes on from the checkpoint.
func (f *file) resume(settled string) (position, Counts, error) {
	c, path := &f.now, f.journalPath()
	if c.Program != f.Program {
		return position{}, Counts{}, refuse("%s: begun by another program or build (%s, %s, tables %s): --force begins anew", path, short(c.Program.Name), short(c.Program.Build), short(c.Program.Tables))
	}
	if c.Settled != f.settled(settled) {
		return position{}, Counts{}, refuse("%s: begun with other settings (%s; now %s): --force begins anew", path, short(c.Settled), short(f.settled(settled)))
	}
	for _, t := range f.targets() {
		if !t.take(c.of(t == f.rejects).Part) {
			return position{}, Counts{}, refuse("%s: begun with other files: --force begins anew", path)
		}
	}
	if c.Done {
		return position{}, c.Counts, f.complete()
	}
	for _, t := range f.targets() {
		if err := t.reopen(c.of(t == f.rejects)); err != nil {
			return position{}, Counts{}, err
		}
	}
	return c.Input, c.Counts, nil
}

// of is the state of the rejects, or of the output.
func (c *checkpoint) of(rejects bool) *state {
	if rejects {
		return &c.Rejects
	}
	return &c.Output
}

// take makes the part file that a checkpoint names that of the target; false if it
// cannot be, because it has not the name of one.
func (t *target) take(part string) bool {
	if part != filepath.Base(part) || !strings.HasPrefix(part, t.partPrefix()) || !strings.HasSuffix(part, partExtension) {
		return false
	}
	t.part = filepath.Join(filepath.Dir(t.path), part)
	return true
}

// reopen opens the part file that a broken run has left, and goes to the end of what
// the checkpoint speaks of.
func (t *target) reopen(s *state) error {
	if !t.leftover() {
		if s.Bytes > 0 {
			return refuse("%s: gone, though its checkpoint is there: --force begins anew", t.part)
		}
		return t.create()
	}
	if err := t.open(); err != nil {
		return err
	}
	same, err := t.holds(s.Bytes, s.CRC)
	if err == nil && !same {
		err = refuse("%s: not what the run has left: --force begins anew", t.part)
	}
	if err == nil {
		err = t.cut(s.Bytes)
	}
	return err
}

// errFinished says that there was nothing left to do but to let the files appear.
var errFinished = errors.New("the run was at its end")

// complete lets the files appear that have not done so yet.
func (f *file) complete() error {
	if err := f.appear(); err != nil {
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
	return f.journal.save(now)
}
