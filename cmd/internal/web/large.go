package web

import (
	"context"
	"io"
	"sync"
	"time"

	"spectally/cmd/internal/pages"
)

// Limits of what comes from clients and is on its way to them, however slowly they send
// and take it.
const (
	smallBody   = 128 << 10       // bytes of a body that does not count
	mostLarge   = 64 << 20        // bytes of all bodies on their way that are not small
	smallInput  = 64 << 10        // bytes of a document that is read at once
	mostInputs  = 5               // larger ones that are read or worked on at a time
	inputPeriod = 5 * time.Second // for one of these to come
)

// traffic is what is on its way.
type traffic struct {
	mu     sync.Mutex
	sent   map[*pages.Response]int // how many clients each is on its way to
	bytes  int                     // of all of them, each counted once
	inputs chan struct{}
}

func newTraffic() *traffic {
	return &traffic{sent: map[*pages.Response]int{}, inputs: make(chan struct{}, mostInputs)}
}

// admit tells whether there is room for a response, and takes it. The room is given back
// by release.
func (t *traffic) admit(r *pages.Response) bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.sent[r] == 0 {
		if t.bytes+r.Body.Size() > mostLarge {
			return false
		}
		t.bytes += r.Body.Size()
	}
	t.sent[r]++
	return true
}

func (t *traffic) release(r *pages.Response) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.sent[r]--; t.sent[r] == 0 {
		delete(t.sent, r)
		t.bytes -= r.Body.Size()
	}
}

// enter waits for room for a large document; false if there is none in time.
func (t *traffic) enter(ctx context.Context, wait time.Duration) bool {
	timer := time.NewTimer(wait)
	defer timer.Stop()
	select {
	case t.inputs <- struct{}{}:
		return true
	case <-timer.C:
	case <-ctx.Done():
	}
	return false
}

func (t *traffic) leave() { <-t.inputs }

// timedBody gives the client so long to send a body from the first Read of it on.
type timedBody struct {
	io.ReadCloser
	begin func()
	once  sync.Once
}

// Read implements io.Reader.
func (b *timedBody) Read(p []byte) (int, error) {
	b.once.Do(b.begin)
	return b.ReadCloser.Read(p)
}
