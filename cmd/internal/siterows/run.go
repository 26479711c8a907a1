package siterows

import (
	"context"
	"sync"

	"spectally/cmd/internal/batch"
)

// chunk is groups on their way through a worker.
type chunk struct {
	groups   []group
	n        int // groups that are used
	outcomes []outcome
	done     chan struct{} // gets a value when the worker is done
}

// A chunk is handed on when it has this many groups or rows.
const (
	chunkGroups = 64
	chunkRows   = 512
)

// run takes groups through the workers and hands on what became of them, in order. No
// more than two chunks for each worker, and two, are in memory.
func run(ctx context.Context, in *groups, workers int, s *Settings, p *batch.Progress) (Counts, error) {
	n := 2*workers + 2
	free, work, order := make(chan *chunk, n), make(chan *chunk, n), make(chan *chunk, n)
	for range n {
		free <- &chunk{groups: make([]group, chunkGroups), done: make(chan struct{}, 1)}
	}
	inner, cancel := context.WithCancel(ctx)
	defer cancel()
	var running sync.WaitGroup
	running.Go(func() {
		defer close(order)
		defer close(work)
		for {
			select {
			case <-inner.Done():
				return
			case c := <-free:
				if inner.Err() != nil || !c.fill(in) {
					return
				}
				work <- c // never blocks: the channels have room for every chunk there is
				order <- c
			}
		}
	})
	for range workers {
		running.Go(func() {
			w := newPlanner(in.layout)
			for c := range work {
				c.outcomes = c.outcomes[:0]
				for i := range c.groups[:c.n] {
					c.outcomes = append(c.outcomes, w.plan(&c.groups[i]))
				}
				c.done <- struct{}{}
			}
		})
	}
	var all Counts
	for {
		select {
		case <-ctx.Done(): // a Read that does not return is left behind
			return all, context.Cause(ctx)
		case c, more := <-order:
			if !more {
				running.Wait()
				if in.err == nil && ctx.Err() != nil { // the reader saw it first
					return all, context.Cause(ctx)
				}
				return all, in.err
			}
			<-c.done
			if err := c.commit(s, &all); err != nil {
				return all, err
			}
			p.Rows.Store(all.Rows)
			free <- c
		}
	}
}

// fill reads groups; false if there are none.
func (c *chunk) fill(in *groups) bool {
	c.n = 0
	for rows := 0; c.n < chunkGroups && rows < chunkRows; c.n++ {
		g := &c.groups[c.n]
		if cap(g.rows) > 4*chunkGroups {
			g.rows = nil // one large site must not hold the memory for all that follow
		}
		if !in.read(g) {
			break
		}
		rows += len(g.rows)
	}
	return c.n > 0
}

// commit hands on what became of the groups.
func (c *chunk) commit(s *Settings, all *Counts) error {
	for i := range c.outcomes {
		o := &c.outcomes[i]
		for k := range o.faults {
			s.Fault(&o.faults[k])
		}
		if o.site != nil {
			if err := s.Site(o.site); err != nil {
				return err
			}
		}
		all.add(&o.counts)
	}
	clear(c.outcomes) // what was handed on need not stay
	return nil
}
