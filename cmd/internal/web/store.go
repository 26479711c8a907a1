package web

import (
	"container/list"
	"context"
	"net/http"
	"runtime"
	"sync"
	"time"

	"spectally/cmd/internal/pages"
)

// Limits of the work for pages.
const (
	workTime  = 15 * time.Second // for one answer, waiting for a turn included
	storeSize = 48 << 20         // bytes of answers that are kept
	storeEach = 8 << 20          // bytes of the largest one
	mostTurns = 4                // answers that are worked out at a time
	inputTime = time.Minute      // for which the answer to a document is kept
)

// store works answers out, a few at a time, and keeps those whose address says all
// that they depend on.
type store struct {
	turns chan struct{}
	time  time.Duration // for one answer, waiting for a turn included
	most  int           // bytes of answers that are kept

	mu      sync.Mutex
	entries map[string]*list.Element // of *entry
	recent  *list.List               // of *entry, the one used last in front
	size    int
}

// entry is an answer that is kept, or is being worked out for all who wait for it.
type entry struct {
	key    string
	done   chan struct{}
	answer *pages.Response // once done is closed
	kept   bool            // counted in the size of the store
}

func newStore() *store {
	return &store{
		turns: make(chan struct{}, min(2*runtime.GOMAXPROCS(0), mostTurns)), time: workTime, most: storeSize,
		entries: map[string]*list.Element{}, recent: list.New(),
	}
}

// get returns the answer that is kept under a key, or has it worked out. A limit drops
// it after that time; zero is none.
func (s *store) get(ctx context.Context, key string, limit time.Duration, work func() *pages.Response) *pages.Response {
	s.mu.Lock()
	if e, ok := s.entries[key]; ok {
		s.recent.MoveToFront(e)
		s.mu.Unlock()
		return s.await(ctx, e.Value.(*entry))
	}
	e := &entry{key: key, done: make(chan struct{})}
	s.entries[key] = s.recent.PushFront(e)
	s.mu.Unlock()
	go func() {
		e.answer = s.run(work)
		s.keep(e)
		close(e.done)
		if limit > 0 {
			time.AfterFunc(limit, func() { s.forget(key) })
		}
	}()
	return s.await(ctx, e)
}

// forget drops an answer, if it is kept.
func (s *store) forget(key string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if e, ok := s.entries[key]; ok && e.Value.(*entry).kept {
		s.drop(e)
	}
}

// drop drops an answer that is kept. The store is locked.
func (s *store) drop(e *list.Element) {
	old := e.Value.(*entry)
	s.size -= old.size()
	s.recent.Remove(e)
	delete(s.entries, old.key)
}

// once has an answer worked out that is not kept. It calls leave when that is done, or
// will not be done any more.
func (s *store) once(ctx context.Context, work func() *pages.Response, leave func()) *pages.Response {
	e := &entry{done: make(chan struct{})}
	go func() {
		e.answer = s.run(work)
		leave()
		close(e.done)
	}()
	return s.await(ctx, e)
}

// run works an answer out when it is its turn.
func (s *store) run(work func() *pages.Response) *pages.Response {
	select {
	case s.turns <- struct{}{}: // the usual case needs no timer
	default:
		timer := time.NewTimer(s.time)
		defer timer.Stop()
		select {
		case s.turns <- struct{}{}:
		case <-timer.C:
			return busy()
		}
	}
	defer func() { <-s.turns }()
	return work()
}

// await waits for an answer. It gives up when the client does; the answer is worked
// out all the same, for the next who asks.
func (s *store) await(ctx context.Context, e *entry) *pages.Response {
	select {
	case <-e.done: // the usual case needs no timer
		return e.answer
	default:
	}
	timer := time.NewTimer(s.time)
	defer timer.Stop()
	select {
	case <-e.done:
		return e.answer
	case <-timer.C:
	case <-ctx.Done():
	}
	return busy()
}

func busy() *pages.Response {
	r := pages.Plain(http.StatusServiceUnavailable, "this takes too long, or there is too much to do: try again in a moment\n")
	r.Header = []string{"Retry-After", "5"}
	return r
}

// keep counts an answer, and drops those not used for longest until the rest fits.
func (s *store) keep(e *entry) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if e.answer.Status >= 500 || e.size() > storeEach {
		s.recent.Remove(s.entries[e.key])
		delete(s.entries, e.key)
		return
	}
	kept := *e.answer
	kept.Body = kept.Body.Clipped()
	e.answer = &kept
	e.kept = true
	s.size += e.size()
	for last := s.recent.Back(); s.size > s.most && last != nil; {
		old := last
		last = last.Prev()
		if old.Value.(*entry).kept { // else it is being worked out
			s.drop(old)
		}
	}
}

// entryCost is about what an entry takes up beside its key and its answer.
const entryCost = 512

func (e *entry) size() int { return len(e.key) + e.answer.Body.Size() + entryCost }
