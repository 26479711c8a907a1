package web_test

import (
	"errors"
	"fmt"
	"io"
	"net/http"
	"runtime"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"spectally/cmd/internal/web"
)

// loadPaths are addresses of every page and kind of data.
func loadPaths() []string {
	paths := []string{"/", "/healthz", "/style.css", "/field?template=yes", "/nothing", "/bands?find=n999"}
	for _, q := range questions {
		paths = append(paths, q.page+"?"+q.query, q.page+".json?"+q.query)
	}
	return paths
}

// load sends requests, so many at a time, and returns how long that took.
func load(t testing.TB, s *testSite, requests, atATime int, path func(i int) string) time.Duration {
	t.Helper()
	var next, failures atomic.Int64
	var wg sync.WaitGroup
	begin := time.Now()
	for range atATime {
		wg.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= requests {
					return
				}
				if err := fetch(s.client, s.address+path(i)); err != nil && failures.Add(1) < 5 {
					t.Error(err)
				}
			}
		})
	}
	wg.Wait()
	return time.Since(begin)
}

// fetch asks for an address and reads the answer whole.
func fetch(client *http.Client, address string) error {
	resp, err := client.Get(address)
	if err != nil {
		return err
	}
	defer resp.Body.Close()
	n, err := io.Copy(io.Discard, resp.Body)
	switch {
	case err != nil:
		return err
	case resp.StatusCode >= 500 || n == 0:
		return fmt.Errorf("%.100s: status %d, %d bytes", address, resp.StatusCode, n)
	case resp.ContentLength >= 0 && resp.ContentLength != n:
		return errors.New("a body of another length than its header says")
	}
	return nil
}

// Ten thousand requests, a hundred at a time, are all answered, and leave neither
// goroutines nor memory behind. A part of them asks what nobody asked before.
func TestLoad(t *testing.T) {
	s := newTestSite(t, web.Config{})
	paths := loadPaths()
	var fresh atomic.Int64
	path := func(i int) string {
		if i%10 == 0 { // no two are the same, and the store has to drop answers
			return fmt.Sprintf("/ca?carriers=n78:80@%d", 620000+fresh.Add(1))
		}
		return paths[i%len(paths)]
	}
	for range 2 {
		load(t, s, 10_000, 100, path) // tables are read, the store is filled
	}
	goroutines, heap := settled(s)
	for range 2 {
		took := load(t, s, 10_000, 100, path)
		t.Logf("10000 requests in %v, %.0f a second", took.Round(time.Millisecond), 10_000/took.Seconds())
	}
	afterwards, heapAfterwards := settled(s)
	if afterwards > goroutines+5 {
		t.Errorf("%d goroutines became %d", goroutines, afterwards)
	}
	if heapAfterwards > heap+10<<20 {
		t.Errorf("%d kB became %d kB", heap>>10, heapAfterwards>>10)
	}
	t.Logf("%d goroutines, then %d; %d kB, then %d kB", goroutines, afterwards, heap>>10, heapAfterwards>>10)
}

// settled counts goroutines and memory once no request is under way.
func settled(s *testSite) (goroutines int, heap uint64) {
	s.client.CloseIdleConnections()
	goroutines = runtime.NumGoroutine()
	for range 100 {
		time.Sleep(20 * time.Millisecond)
		now := runtime.NumGoroutine()
		if now == goroutines {
			break
		}
		goroutines = now
	}
	runtime.GC()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return goroutines, m.HeapAlloc
}
