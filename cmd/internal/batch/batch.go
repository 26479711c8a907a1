// Package batch answers files of rows, each a combination of carriers or a
// measurement over one: the same rows come out in the same order, with columns
// added that say whether the combination is allowed, what it is, what it can yield,
// and how much of that a measurement reached.
//
// Rows are read in chunks, answered by several workers at once, and written in
// order. However long the input is, a bounded number of chunks is in memory. What
// was found out about a combination is kept for the rows that repeat it.
//
// A run that ends early leaves what it has written in a part file, with a checkpoint
// that another run can resume from; see [File].
package batch

import (
	"context"
	"errors"
	"runtime"
	"sync/atomic"
	"time"
)

// Settings say how rows are read and answered.
type Settings struct {
	// Rows is the form of the rows; None finds out by the first byte.
	Rows Form
	// Separator stands between the fields of a CSV row; 0 is a comma.
	Separator byte
	// Columns names the columns of CSV rows that have no header. The output has
	// none then either.
	Columns []string
	// Map says which column a field is read from; see Fields. A field that it does
	// not have is read from the column of the same name.
	Map map[string]string
	// Prefix stands before the name of every column that is added.
	Prefix string
	// Strict ends the run at the first row that cannot be used.
	Strict bool
	// Workers is how many rows are answered at once; 0 is one for each core.
	Workers int
	// Prompt hands rows on as soon as they are read, rather than in full chunks:
	// for an input that comes slowly.
	Prompt bool
	// Compress packs the output; every chunk is packed by itself, so that a run can
	// be resumed.
	Compress Compression
	// CompressRejects packs the rows that cannot be used.
	CompressRejects Compression

	chunk int // bytes in a chunk, if not the usual number
}

func (s *Settings) workers() int {
	if s.Workers > 0 {
		return min(s.Workers, MaxWorkers)
	}
	return min(runtime.GOMAXPROCS(0), MaxWorkers)
}

// MaxWorkers is the most workers that a run has.
const MaxWorkers = 32

// Counts are what a run has done so far.
type Counts struct {
	Rows     int64 `json:"rows"`     // read, rejected ones among them
	Valid    int64 `json:"valid"`    // combinations that the standard allows
	Invalid  int64 `json:"invalid"`  // combinations that it does not
	Rejected int64 `json:"rejected"` // rows that cannot be used
}

func (c *Counts) add(d *Counts) {
	c.Rows += d.Rows
	c.Valid += d.Valid
	c.Invalid += d.Invalid
	c.Rejected += d.Rejected
}

// Summary tells how a run went, whether it came to its end or not.
type Summary struct {
	Counts
	// Resumed is how many of the rows an earlier run had answered.
	Resumed int64
	// Resumable tells that a run that ended early has left a checkpoint.
	Resumable bool
	// Rejects holds the first rows that were rejected in this run.
	Rejects []Reject
	Elapsed time.Duration
}

// maxRejectsShown bounds Summary.Rejects.
const maxRejectsShown = 5

// Progress counts what a run has done so far; another goroutine may read it.
type Progress struct {
	Rows  atomic.Int64
	Bytes atomic.Int64 // of the input, as it is stored
}

// Run answers the rows of in and writes them to s. It returns what it has done even
// if it fails. When ctx is done it writes the rows that it has read and returns the
// cause; a Read that does not return is left behind.
func Run(ctx context.Context, in Input, s Sink, set Settings, p *Progress) (Summary, error) {
	began := time.Now()
	sum := Summary{}
	r := &reading{}
	err := within(ctx, func() error { return r.open(&in, &set, p) })
	if err == nil {
		err = run(ctx, r.task, r.source, s, set.workers(), p, &sum)
		r.release()
	}
	sum.Elapsed = time.Since(began)
	if err != nil && !errors.Is(err, context.Cause(ctx)) {
		err = in.place(err)
	}
	return sum, err
}

// reading is an input of which the beginning has been read.
type reading struct {
	source  *source
	task    *task
	release func()
}

func (r *reading) open(in *Input, set *Settings, p *Progress) error {
	unpacked, release, err := in.Open(p)
	if err != nil {
		return err
	}
	r.release = release
	r.source = newSource(unpacked, set.Prompt)
	if set.chunk > 0 {
		r.source.chunk = set.chunk
	}
	if r.task, err = newTask(r.source, set); err != nil {
		release()
	}
	return err
}
