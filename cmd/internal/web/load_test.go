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
	paths := []string{"/", "/healthz", "/style.css", "/field?template=yes", "/site?template=yes", "/nothing", "/bands?find=n999"}
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
// goroutines nor memory behind. One in twenty asks for what nobody asked before, so
// that the store, which is full when they begin, drops an answer for each.
func TestLoad(t *testing.T) {
	s := newTestSite(t, web.Config{})
	paths := loadPaths()
	load(t, s, len(paths), 100, func(i int) string { return paths[i] }) // tables are read
	room := web.Kept(s.handler) + 256<<10
	web.KeepAtMost(s.handler, room)
	path := func(i int) string {
		switch {
		case i%200 == 0: // a page that takes long
			return fmt.Sprintf("/ca?carriers=n78:80@%d", 622700+i)
		case i%20 == 0: // and some that do not
			return fmt.Sprintf("/channel?band=n78&place=%d", 620000+i)
		}
		return paths[i%len(paths)]
	}
	const before, requests = 2000, 10_000
	load(t, s, before, 100, path) // the store is filled
	if least := room - 256<<10; web.Kept(s.handler) < least {
		t.Errorf("%d bytes are kept after %d requests, and were %d before: the store is not full", web.Kept(s.handler), before, least)
	}
	goroutines, heap := settled(s)
	took := load(t, s, requests, 100, func(i int) string { return path(before + i) })
	afterwards, heapAfterwards := settled(s)
	if afterwards > goroutines+5 {
		t.Errorf("%d goroutines became %d", goroutines, afterwards)
	}
	if heapAfterwards > heap+4<<20 {
		t.Errorf("%d kB became %d kB", heap>>10, heapAfterwards>>10)
	}
	if kept := web.Kept(s.handler); kept > room {
		t.Errorf("%d bytes are kept, allowed are %d", kept, room)
	}
	t.Logf("%d requests in %v, %.0f a second", requests, took.Round(time.Millisecond), requests/took.Seconds())
	t.Logf("%d goroutines, then %d; %d kB, then %d kB", goroutines, afterwards, heap>>10, heapAfterwards>>10)
}

// settled counts goroutines and memory once no request is under way.
func settled(s *testSite) (goroutines int, heap uint64) {
	s.client.CloseIdleConnections()
	for same := 0; same < 10; { // those of closed connections end in their own time
		time.Sleep(20 * time.Millisecond)
		now := runtime.NumGoroutine()
		if now == goroutines {
			same++
		} else {
			same = 0
		}
		goroutines = now
	}
	runtime.GC()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return goroutines, m.HeapAlloc
}
