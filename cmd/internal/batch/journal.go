package batch

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"io/fs"
	"os"
)

// journal is the file in which the checkpoints of a run stand. It is locked as long as
// the run has it. It has two places of one size that are written in turn, so that a
// checkpoint which is broken off in the midst leaves the one before it.
type journal struct {
	path  string
	file  *os.File
	place int64 // bytes of a place
	saves int64 // checkpoints so far
}

// errForeign marks a file in the place of a journal that is not one.
var errForeign = errors.New("it holds no checkpoint")

// lookJournal reads the last checkpoint of a journal; nil if there is none.
func lookJournal(path string) (*checkpoint, error) {
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, &WriteError{path, plainFault(err)}
	}
	return readJournal(path, text)
}

func readJournal(path string, text []byte) (*checkpoint, error) {
	if len(text) == 0 { // of a run that was killed before it wrote anything
		return nil, nil
	}
	c, err := parseJournal(text)
	if err != nil {
		return nil, refuse("%s: %v that this program knows, so it is left as it is: give another --output, or take it away", path, err)
	}
	return c, nil
}

// parseJournal finds the last checkpoint in the text of a journal.
func parseJournal(text []byte) (*checkpoint, error) {
	var last *checkpoint
	middle := len(text) / 2
	for _, place := range [...][]byte{text[:middle], text[middle:]} {
		if c := parseCheckpoint(bytes.TrimRight(place, " \n")); c != nil && (last == nil || c.Save > last.Save) {
			last = c
		}
	}
	if last == nil {
		return nil, errForeign
	}
	return last, nil
}

// parseCheckpoint reads a place of a journal: a check sum and what it is of; nil if it
// is not one, or one with anything that is not known.
func parseCheckpoint(line []byte) *checkpoint {
	sum, text, found := bytes.Cut(line, []byte(" "))
	if !found || string(sum) != checksum(text) {
		return nil
	}
	c := &checkpoint{}
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if d.Decode(c) != nil || d.More() || c.Form != checkpointForm {
		return nil
	}
	return c
}

func checksum(text []byte) string { return fmt.Sprintf("%08x", crc32.Checksum(text, castagnoli)) }

// line writes a checkpoint as it stands in its place.
func (c *checkpoint) line() ([]byte, error) {
	text, err := json.Marshal(c)
	return fmt.Appendf(nil, "%s %s\n", checksum(text), text), err
}

// openJournal opens the journal for this run alone, and reads its last checkpoint; nil
// if there is none.
func openJournal(path string) (*journal, *checkpoint, error) {
	for {
		f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o666)
		if err != nil {
			return nil, nil, &WriteError{path, plainFault(err)}
		}
		j := &journal{path: path, file: f}
		if err := lock(f); err != nil {
			return nil, nil, errors.Join(refuse("%s: another run is writing it", path), f.Close())
		}
		if !j.isThere() { // the run that had it has come to its end
			if err := f.Close(); err != nil {
				return nil, nil, &WriteError{path, plainFault(err)}
			}
			continue
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return nil, nil, errors.Join(&WriteError{path, plainFault(err)}, f.Close())
		}
		c, err := readJournal(path, text)
		if err != nil {
			return nil, nil, errors.Join(err, f.Close())
		}
		if c != nil {
			j.place, j.saves = int64(len(text)/2), c.Save
		}
		return j, c, nil
	}
}

// isThere tells whether the file that is open is the one of that name.
func (j *journal) isThere() bool {
	named, err := os.Lstat(j.path)
	if err != nil {
		return false
	}
	open, err := j.file.Stat()
	return err == nil && os.SameFile(named, open)
}

// spare is what a checkpoint can grow by as its numbers do.
const spare = 512

// begin writes the first checkpoint in both places.
func (j *journal) begin(c *checkpoint) error {
	line, err := c.line()
	if err != nil {
		return err
	}
	j.place, j.saves = int64(len(line)+spare), 0
	if err := j.file.Truncate(0); err != nil {
		return &WriteError{j.path, plainFault(err)}
	}
	if err := j.save(c); err != nil {
		return err
	}
	return j.save(c)
}

// save writes a checkpoint and brings it to the disk.
func (j *journal) save(c *checkpoint) error {
	j.saves++
	c.Save = j.saves
	line, err := c.line()
	if err != nil {
		return err
	}
	if int64(len(line)) > j.place {
		return &WriteError{j.path, errors.New("the checkpoint is longer than its place")}
	}
	text := bytes.Repeat([]byte(" "), int(j.place))
	copy(text, line[:len(line)-1])
	text[j.place-1] = '\n'
	if _, err = j.file.WriteAt(text, j.saves%2*j.place); err == nil {
		err = j.file.Sync()
	}
	if err != nil {
		return &WriteError{j.path, plainFault(err)}
	}
	return nil
}

// close gives the journal up and leaves it where it is.
func (j *journal) close() error {
	if err := j.file.Close(); err != nil {
		return &WriteError{j.path, plainFault(err)}
	}
	return nil
}

// drop takes the journal away. No other run has it before that is done.
func (j *journal) drop() error {
	if err := removeLocked(j.file); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return &WriteError{j.path, plainFault(err)}
	}
	return nil
}
