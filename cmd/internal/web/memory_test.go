package web_test

import (
	"bytes"
	"io"
	"net/http"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"spectally/cmd/internal/web"
)

// Whatever comes, and however much of it at once, takes less than 300 MB: forms of 3 MB,
// documents that are long to read, and lists of all configurations. The lists are all
// answered; what there is no room for is told when to come again.
func TestMemoryIsBounded(t *testing.T) {
	s := newTestSite(t, web.Config{})
	form := append([]byte("log="), bytes.Repeat([]byte("%23"), 1<<20)...)
	key := []byte(strings.Repeat("k", 1<<20-5) + " = 1\n")
	tables := []byte(strings.Repeat("[[network]]\nname=\"a\"\n", 40_000))
	deep := []byte("a = " + strings.Repeat("[", 1<<20-4))
	runtime.GC()
	var before runtime.MemStats // what other tests keep
	runtime.ReadMemStats(&before)
	var most, lists atomic.Uint64
	var busy atomic.Int64
	stop := make(chan struct{})
	var watching, sending sync.WaitGroup
	watching.Go(func() {
		for {
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			most.Store(max(most.Load(), m.HeapInuse+m.StackInuse-min(m.HeapInuse+m.StackInuse, before.HeapInuse+before.StackInuse)))
			select {
			case <-stop:
				return
			case <-time.After(20 * time.Millisecond):
			}
		}
	})
	send := func(path, kind string, body []byte) {
		sending.Go(func() {
			resp, err := s.client.Post(s.address+path, kind, bytes.NewReader(body))
			if err != nil {
				return // refused before it was all sent
			}
			defer resp.Body.Close()
			if resp.StatusCode == http.StatusServiceUnavailable {
				busy.Add(1)
				if resp.Header.Get("Retry-After") == "" {
					t.Error("busy, without a word on when to come again")
				}
			} else if resp.StatusCode >= 500 {
				t.Errorf("%s: status %d", path, resp.StatusCode)
			}
			_, _ = io.Copy(io.Discard, resp.Body)
		})
	}
	for range 12 {
		send("/field.json", "application/x-www-form-urlencoded", form)
		for _, document := range [][]byte{key, tables, deep} {
			send("/field.json", "application/toml", document)
		}
	}
	const wanted = 24
	for i := range wanted {
		sending.Go(func() {
			path := []string{"/configs.json", "/configs.csv"}[i%2]
			resp, err := s.client.Get(s.address + path)
			if err != nil {
				t.Error(err)
				return
			}
			defer resp.Body.Close()
			if n, err := io.Copy(io.Discard, resp.Body); err == nil && resp.StatusCode == http.StatusOK && n == resp.ContentLength {
				lists.Add(1)
			} else {
				t.Errorf("%s: status %d, %d bytes, %v", path, resp.StatusCode, n, err)
			}
		})
	}
	sending.Wait()
	close(stop)
	watching.Wait()
	t.Logf("at most %d MB; %d of %d lists; %d documents found no room", most.Load()>>20, lists.Load(), wanted, busy.Load())
	if most.Load() > 300e6 {
		t.Errorf("%d MB were in use", most.Load()>>20)
	}
}
