package batch

import (
	"fmt"
	"strconv"
)

// chunk is a run of whole rows on its way through a worker.
type chunk struct {
	in   []byte
	line int64    // of the first row
	long int64    // length of a row that is too long, of which in has the beginning
	end  position // of the input behind the chunk

	out, rejects []byte
	counts       Counts
	shown        []Reject // the first that were rejected
	stop         *RowError
	err          error
	done         chan struct{} // gets a value when the worker is done
}

// RowError is a row that cannot be used and ends a strict run.
type RowError struct{ Reject }

// Error writes the error on one line.
func (e *RowError) Error() string { return e.Reason }

// worker answers chunks.
type worker struct {
	*task
	texts   cache[*answer]
	row     row
	packer  packer
	rejects packer
}

func (t *task) newWorker(texts int) *worker {
	return &worker{task: t, texts: newCache[*answer](texts), row: row{spans: make([]span, 0, 16)}, packer: packer{format: t.pack}, rejects: packer{format: t.packRejects}}
}

// work answers the rows of a chunk.
func (w *worker) work(c *chunk) {
	c.out, c.rejects, c.shown, c.counts, c.stop, c.err = reuse(c.out), reuse(c.rejects), c.shown[:0], Counts{}, nil, nil
	if c.long > 0 {
		c.counts.Rows++
		w.reject(c, &Reject{c.line, longRow(c.long), string(c.in) + "…"})
	} else {
		w.rows(c)
	}
	if len(c.out) > 0 {
		c.out, c.err = w.packer.pack(c.out)
	}
	if len(c.rejects) > 0 && c.err == nil {
		c.rejects, c.err = w.rejects.pack(c.rejects)
	}
}

// longRow is the reason why a row that is too long cannot be used.
func longRow(length int64) string {
	return "the row is " + strconv.FormatInt(length, 10) + " bytes long: must be at most " + maxRowText
}

// reuse empties a buffer, unless it has grown far beyond what is usual.
func reuse(b []byte) []byte {
	if cap(b) > maxReused {
		return nil
	}
	return b[:0]
}

const maxReused = 1 << 20

func (w *worker) rows(c *chunk) {
	r, line, m := &w.row, c.line, marksOf(c.in)
	for rest := c.in; len(rest) > 0 && c.stop == nil; {
		n := w.form.next(rest, r)
		rest = rest[n:]
		if len(r.text) > 0 || r.reason != "" {
			c.counts.Rows++
			w.answer(c, r, line, m)
		}
		line += int64(r.lines)
	}
}

// answer answers a row.
func (w *worker) answer(c *chunk, r *row, line int64, m marks) {
	if !w.form.fields(r, m) {
		w.reject(c, &Reject{line, r.reason, string(r.text)})
		return
	}
	a, ok := w.texts.get(r.carriers)
	if !ok {
		a = w.book.find(string(r.carriers))
		w.texts.put(r.carriers, a)
	}
	switch {
	case a.reason != "":
		w.reject(c, &Reject{line, a.reason, string(r.text)})
		return
	case a.valid:
		c.counts.Valid++
	default:
		c.counts.Invalid++
	}
	c.out = w.form.answered(c.out, r, a)
}

func (w *worker) reject(c *chunk, r *Reject) {
	c.counts.Rejected++
	c.rejects = w.form.rejected(c.rejects, r)
	if len(c.shown) < maxRejectsShown {
		c.shown = append(c.shown, *r)
	}
	if w.strict {
		c.stop = &RowError{*r}
	}
}

// String says in a line where a row is and why it cannot be used.
func (r *Reject) String() string { return fmt.Sprintf("line %d: %s", r.Line, r.Reason) }
