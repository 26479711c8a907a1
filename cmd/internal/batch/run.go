package batch

import (
	"context"
	"errors"
	"sync"
)

// Sink takes what a run writes. Its methods are called by one goroutine.
type Sink interface {
	// begin is called first, with the description of what decides the output. It
	// returns the place to go on from, the zero position for the beginning, and
	// what was counted before.
	begin(settled string) (position, Counts, error)
	// write takes the next part of the output and of the rejects, and where in the
	// input it ends, with all that was counted up to there.
	write(output, rejects []byte, at position, all Counts) error
	// partial takes the output of a chunk of which not every row can be used, before
	// the run ends.
	partial(output []byte) error
	// interrupted is called last if the run ends early. It tells whether the run can be
	// resumed.
	interrupted() (resumable bool, err error)
	// finish is called last if it does not.
	finish() error
}

// run takes the chunks of a source through the workers to a sink, in order.
func run(ctx context.Context, t *task, src *source, s Sink, workers int, p *Progress, sum *Summary) error {
	if err := start(ctx, t, src, s, sum); err != nil {
		if errors.Is(err, errFinished) {
			return nil
		}
		_, _ = s.interrupted() // what has gone wrong at the start is what matters
		return err
	}
	inner, cancel := context.WithCancel(ctx)
	defer cancel()
	l := newLine(inner, t, src, workers)
	err := l.drain(s, p, sum)
	if err == nil {
		l.running.Wait()
		if err = src.fault(); err == nil {
			return s.finish()
		}
	}
	cancel()
	var saved error
	if sum.Resumable, saved = s.interrupted(); saved != nil && ctx.Err() != nil {
		return saved
	}
	return err
}

// start begins or resumes the output, and goes to that place in the input.
func start(ctx context.Context, t *task, src *source, s Sink, sum *Summary) error {
	from, counts, err := s.begin(t.settled)
	sum.Counts, sum.Resumed = counts, counts.Rows
	if err != nil {
		return err
	}
	if from != (position{}) {
		return within(ctx, func() error {
			if src.skip(from) {
				return nil
			}
			if err := src.fault(); err != nil {
				return err
			}
			return errChanged
		})
	}
	output, rejects := t.form.headers()
	if len(output) > 0 {
		if output, err = (&packer{format: t.pack}).pack(output); err != nil {
			return err
		}
	}
	if len(rejects) > 0 {
		if rejects, err = (&packer{format: t.packRejects}).pack(rejects); err != nil {
			return err
		}
	}
	return s.write(output, rejects, src.pos, sum.Counts)
}

var errChanged = errors.New("the input is not what it was when the run began: --force begins anew")

// line is the line of chunks between the source and the sink.
type line struct {
	ctx        context.Context
	free, work chan *chunk
	order      chan *chunk // in the order of the input, whether they are done or not
	complete   bool        // the reader came to the end; to be read when order is closed
	running    sync.WaitGroup
}

// newLine starts a reader and the workers. They end when the input does, or when
// ctx is done and the reader gets to see it.
func newLine(ctx context.Context, t *task, src *source, workers int) *line {
	n := 2*workers + 2
	l := &line{ctx: ctx, free: make(chan *chunk, n), work: make(chan *chunk, n), order: make(chan *chunk, n)}
	for range n {
		l.free <- &chunk{done: make(chan struct{}, 1)}
	}
	l.running.Add(1)
	go l.read(src)
	for range workers {
		w := t.newWorker(keptTexts / workers)
		l.running.Go(func() {
			for c := range l.work {
				w.work(c)
				c.done <- struct{}{}
			}
		})
	}
	return l
}

// read fills chunks until the input ends.
func (l *line) read(src *source) {
	defer l.running.Done()
	defer close(l.order)
	defer close(l.work)
	for {
		select {
		case <-l.ctx.Done():
			return
		case c := <-l.free:
			if l.ctx.Err() != nil {
				return
			}
			if !src.next(c) {
				l.complete = true
				return
			}
			l.work <- c // never blocks: the channel has room for every chunk there is
			l.order <- c
		}
	}
}

// drain writes the chunks in order. When the context is done it writes those that
// have been read, and returns why.
func (l *line) drain(s Sink, p *Progress, sum *Summary) error {
	for {
		select {
		case c, more := <-l.order:
			if !more {
				return l.cause()
			}
			if err := l.commit(c, s, p, sum); err != nil {
				return err
			}
		case <-l.ctx.Done():
			for {
				select {
				case c, more := <-l.order:
					if !more {
						return l.cause()
					}
					if err := l.commit(c, s, p, sum); err != nil {
						return err
					}
				default:
					return context.Cause(l.ctx)
				}
			}
		}
	}
}

// cause is why the reader ended: nil if that was the end of the input.
func (l *line) cause() error {
	if l.complete {
		return nil
	}
	return context.Cause(l.ctx)
}

// commit writes a chunk and hands it back to the reader.
func (l *line) commit(c *chunk, s Sink, p *Progress, sum *Summary) error {
	<-c.done
	if c.err != nil {
		return c.err
	}
	sum.Counts.add(&c.counts)
	for _, r := range c.shown {
		if len(sum.Rejects) < maxRejectsShown {
			sum.Rejects = append(sum.Rejects, r)
		}
	}
	if c.stop != nil {
		if err := s.partial(c.out); err != nil {
			return err
		}
		return c.stop
	}
	if err := s.write(c.out, c.rejects, c.end, sum.Counts); err != nil {
		return err
	}
	p.Rows.Store(sum.Rows)
	l.free <- c
	return nil
}
