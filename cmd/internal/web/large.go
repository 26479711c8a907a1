package web

import (
	"bytes"
	"context"
	"errors"
	"io"
	"net/http"
	"sync"
	"time"

	"spectally/cmd/internal/render"
)

// Limits of what is on its way to clients, however slowly they take it.
const (
	largeBody   = 1 << 20   // bytes of a body that counts as large
	mostLarge   = 256 << 20 // bytes of all large bodies
	wholeList   = 4 << 20   // bytes of a list that is made before it is sent
	mostStreams = 8         // lists that are sent while they are made
)

// traffic is what is on its way.
type traffic struct {
	mu      sync.Mutex
	bytes   int
	streams chan struct{}
}

func newTraffic() *traffic { return &traffic{streams: make(chan struct{}, mostStreams)} }

// admit tells whether there is room for a body, and takes it. The room is given back
// by release.
func (t *traffic) admit(n int) bool {
	if n < largeBody {
		return true
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.bytes+n > mostLarge {
		return false
	}
	t.bytes += n
	return true
}

func (t *traffic) release(n int) {
	if n >= largeBody {
		t.mu.Lock()
		t.bytes -= n
		t.mu.Unlock()
	}
}

// enter waits for room for a stream; false if there is none in time.
func (t *traffic) enter(ctx context.Context, wait time.Duration) bool {
	timer := time.NewTimer(wait)
	defer timer.Stop()
	select {
	case t.streams <- struct{}{}:
		return true
	case <-timer.C:
	case <-ctx.Done():
	}
	return false
}

func (t *traffic) leave() { <-t.streams }

var errFull = errors.New("the buffer is full")

// boundedBuffer takes so many bytes and no more.
type boundedBuffer struct {
	bytes.Buffer
	room int
}

// Write implements io.Writer.
func (b *boundedBuffer) Write(p []byte) (int, error) {
	if b.room -= len(p); b.room < 0 {
		return 0, errFull
	}
	return b.Buffer.Write(p)
}

// listResponse answers with a list in JSON: whole if it is not long, else element by
// element.
func listResponse(a *render.Answer) (*response, error) {
	r := &response{status: http.StatusOK}
	b := boundedBuffer{room: wholeList}
	err := render.Stream(&b, a.Values)
	switch {
	case errors.Is(err, errFull):
		r.stream = func(w io.Writer) error { return render.Stream(w, a.Values) }
		return r, nil
	case err != nil:
		return nil, err
	}
	r.body = b.Bytes()
	return r, nil
}
