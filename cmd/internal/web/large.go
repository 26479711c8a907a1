package web

import (
	"bytes"
	"compress/flate"
	"context"
	"io"
	"net/http"
	"sync"
	"time"

	"spectally/cmd/internal/render"
)

// Limits of what comes from clients and is on its way to them, however slowly they send
// and take it.
const (
	largeBody   = 4 << 20         // bytes of a body that counts as large, and is kept packed
	smallBody   = 128 << 10       // bytes of a body that does not count
	mostLarge   = 64 << 20        // bytes of all bodies on their way that are not small
	smallInput  = 64 << 10        // bytes of a document that is read at once
	mostInputs  = 5               // larger ones that are read or worked on at a time
	inputPeriod = 5 * time.Second // for one of these to come
)

// traffic is what is on its way.
type traffic struct {
	mu     sync.Mutex
	sent   map[*response]int // how many clients each is on its way to
	bytes  int               // of all of them, each counted once
	inputs chan struct{}
}

func newTraffic() *traffic {
	return &traffic{sent: map[*response]int{}, inputs: make(chan struct{}, mostInputs)}
}

// admit tells whether there is room for a response, and takes it. The room is given back
// by release.
func (t *traffic) admit(r *response) bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.sent[r] == 0 {
		if t.bytes+r.body.size() > mostLarge {
			return false
		}
		t.bytes += r.body.size()
	}
	t.sent[r]++
	return true
}

func (t *traffic) release(r *response) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.sent[r]--; t.sent[r] == 0 {
		delete(t.sent, r)
		t.bytes -= r.body.size()
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

// body is what a response holds, packed if it is large: a list of all configurations
// takes a tenth of its bytes then.
type body struct {
	text   []byte // as it is; nil if it is packed
	packed []byte
	length int // of the text
}

// bodyWriter makes a body.
type bodyWriter struct {
	text, packed bytes.Buffer
	w            *flate.Writer // once the text is large
	length       int
}

// Write implements io.Writer.
func (b *bodyWriter) Write(p []byte) (int, error) {
	b.length += len(p)
	if b.w == nil {
		if b.length < largeBody {
			return b.text.Write(p)
		}
		var err error
		if b.w, err = flate.NewWriter(&b.packed, flate.BestSpeed); err != nil {
			return 0, err
		}
		if _, err := b.w.Write(b.text.Bytes()); err != nil {
			return 0, err
		}
		b.text = bytes.Buffer{}
	}
	return b.w.Write(p)
}

func (b *bodyWriter) body() (body, error) {
	if b.w == nil {
		return body{text: b.text.Bytes(), length: b.length}, nil
	}
	err := b.w.Close()
	return body{packed: b.packed.Bytes(), length: b.length}, err
}

// bodyOf is a text as a body.
func bodyOf(text []byte) body {
	if len(text) < largeBody {
		return body{text: text, length: len(text)}
	}
	b := bodyWriter{}
	_, err := b.Write(text)
	if err != nil {
		panic(err) // a buffer takes all
	}
	packed, err := b.body()
	if err != nil {
		panic(err)
	}
	return packed
}

// size is how many bytes the body takes.
func (b *body) size() int { return len(b.text) + len(b.packed) }

// WriteTo writes the text of the body.
func (b *body) WriteTo(w io.Writer) (int64, error) {
	if b.packed == nil {
		n, err := w.Write(b.text)
		return int64(n), err
	}
	return io.Copy(w, flate.NewReader(bytes.NewReader(b.packed)))
}

// listResponse answers with a list in JSON, element by element.
func listResponse(a *render.Answer) (*response, error) {
	b := bodyWriter{}
	if err := render.Stream(&b, a.Values); err != nil {
		return nil, err
	}
	body, err := b.body()
	return &response{status: http.StatusOK, body: body}, err
}
