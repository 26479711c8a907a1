// Package rowrun has what runs over many rows have in common: their input, interrupts, a
// bound of memory, and a line of progress.
package rowrun

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"runtime/debug"
	"strconv"
	"time"

	"spectally/cmd/internal/batch"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/words"
)

// usualMemory is how much memory a run keeps to, as far as it can: the collector of
// garbage works harder before it goes beyond. The environment variable GOMEMLIMIT goes
// before.
const usualMemory = 40 << 20

// BoundMemory sets the limit and returns what takes it back.
func BoundMemory() func() {
	if os.Getenv("GOMEMLIMIT") != "" {
		return func() {}
	}
	before := debug.SetMemoryLimit(usualMemory)
	return func() { debug.SetMemoryLimit(before) }
}

// PerSecond is the rate of rows of this run.
func PerSecond(rows int64, t time.Duration) float64 {
	if t <= 0 {
		return 0
	}
	return float64(rows) / t.Seconds()
}

// RowCount writes a number of rows.
func RowCount(n int64) string {
	if n == 1 {
		return "1 row"
	}
	return words.Grouped(n) + " rows"
}

// ShortDuration writes a time for people: "0.4 s", "2 min 5 s", "3 h 10 min".
func ShortDuration(d time.Duration) string {
	switch {
	case d < 10*time.Second:
		return strconv.FormatFloat(d.Seconds(), 'f', 1, 64) + " s"
	case d < time.Minute:
		return strconv.Itoa(int(d.Round(time.Second).Seconds())) + " s"
	case d < time.Hour:
		d = d.Round(time.Second)
		return strconv.Itoa(int(d.Minutes())) + " min " + strconv.Itoa(int(d.Seconds())%60) + " s"
	}
	d = d.Round(time.Minute)
	return strconv.Itoa(int(d.Hours())) + " h " + strconv.Itoa(int(d.Minutes())%60) + " min"
}

// fileFault says in this program's words why a file cannot be read.
func fileFault(name string, err error) error {
	if path, ok := errors.AsType[*os.PathError](err); ok {
		err = path.Err
	}
	return fmt.Errorf("%q cannot be read: %w", name, err)
}

// Open opens a file of rows.
func Open(path string) (in batch.Input, info fs.FileInfo, closeInput func(), err error) {
	file, err := os.Open(path)
	if err != nil {
		return in, nil, nil, fileFault(path, err)
	}
	info, err = file.Stat()
	if err == nil && info.IsDir() {
		err = errors.New("a directory: must be a file")
	}
	if err != nil {
		file.Close()
		return in, nil, nil, fileFault(path, err)
	}
	in = batch.Input{Name: path, Reader: file, Packed: batch.CompressionOf(path)}
	if info.Mode().IsRegular() {
		in.Size = info.Size()
	}
	return in, info, func() { file.Close() }, nil
}

// Ended tells of a run that a signal ended, or whose answer could not be written,
// and returns its exit status as an error; nil for any other run.
func Ended(say func(format string, args ...any), err error, rows int64, goOn string) error {
	if s, ok := errors.AsType[*Signal](err); ok {
		say("%s after %s%s", s.signal, RowCount(rows), goOn)
		return command.Ended(s.status())
	}
	if w, ok := errors.AsType[*batch.WriteError](err); ok {
		say("%v, after %s%s", w, RowCount(rows), goOn)
		return command.Ended(command.Unwritten)
	}
	return nil
}
