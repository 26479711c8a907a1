package web

import (
	"context"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

func fine(text string) func() *response {
	return func() *response { return plain(http.StatusOK, text) }
}

// All who ask for the same at once get one answer, which is worked out once.
func TestStoreWorksOnce(t *testing.T) {
	s := newStore()
	var worked atomic.Int64
	goOn := make(chan struct{})
	var wg sync.WaitGroup
	for range 50 {
		wg.Go(func() {
			got := s.get(context.Background(), "key", 0, func() *response {
				worked.Add(1)
				<-goOn
				return plain(http.StatusOK, "answer")
			})
			if string(got.body.text) != "answer" {
				t.Errorf("%q", got.body.text)
			}
		})
	}
	close(goOn)
	wg.Wait()
	if worked.Load() != 1 {
		t.Errorf("worked out %d times", worked.Load())
	}
	if got := s.get(context.Background(), "key", 0, fine("other")); string(got.body.text) != "answer" {
		t.Errorf("kept is %q", got.body.text)
	}
	if got := s.get(context.Background(), "other key", 0, fine("other")); string(got.body.text) != "other" {
		t.Errorf("another key gets %q", got.body.text)
	}
}

// The store never keeps more than it may, drops what was not used for longest, and
// counts right.
func TestStoreIsBounded(t *testing.T) {
	s := newStore()
	s.most = 40 << 10
	body := strings.Repeat("x", 3<<10)
	for i := range 1000 {
		s.get(context.Background(), strconv.Itoa(i), 0, fine(body))
		s.get(context.Background(), "0", 0, fine(body)) // used all the time
		s.mu.Lock()
		sum := 0
		for e := s.recent.Front(); e != nil; e = e.Next() {
			if en := e.Value.(*entry); en.kept {
				sum += en.size()
			}
		}
		if sum != s.size || s.size > s.most || len(s.entries) != s.recent.Len() {
			t.Fatalf("after %d: %d bytes, counted %d, %d entries, %d in order", i, sum, s.size, len(s.entries), s.recent.Len())
		}
		s.mu.Unlock()
	}
	again := false
	for _, key := range []string{"0", "999", "5"} {
		s.get(context.Background(), key, 0, func() *response {
			again = true
			return fine(body)()
		})
		if want := key == "5"; again != want {
			t.Errorf("%s is worked out again: %t", key, again)
		}
	}
}

// Faults and very long answers are not kept.
func TestStoreKeepsGoodAnswersAlone(t *testing.T) {
	for name, answer := range map[string]*response{
		"fault": plain(http.StatusInternalServerError, "x"),
		"busy":  busy(),
		"long":  {status: http.StatusOK, body: body{packed: make([]byte, storeEach)}},
	} {
		s := newStore()
		worked := 0
		for range 2 {
			s.get(context.Background(), name, 0, func() *response { worked++; return answer })
		}
		if worked != 2 || s.size != 0 || len(s.entries) != 0 || s.recent.Len() != 0 {
			t.Errorf("%s: worked out %d times, %d bytes and %d entries kept", name, worked, s.size, len(s.entries))
		}
	}
}

// What is kept for a time only is gone afterwards.
func TestStoreForgets(t *testing.T) {
	s := newStore()
	worked := 0
	get := func(key string, limit time.Duration) {
		s.get(context.Background(), key, limit, func() *response { worked++; return plain(http.StatusOK, "report") })
	}
	for range 3 {
		get("kept", time.Hour)
	}
	if worked != 1 {
		t.Errorf("worked out %d times within the time", worked)
	}
	s.mu.Lock()
	kept := s.size
	s.mu.Unlock()
	get("log", time.Millisecond)
	until(t, "the answer is still kept", func() bool {
		s.mu.Lock()
		defer s.mu.Unlock()
		return s.entries["log"] == nil && s.size == kept && s.recent.Len() == 1
	})
	if get("log", time.Hour); worked != 3 {
		t.Errorf("worked out %d times", worked)
	}
}

// until waits for what has to come about, however slow the machine is.
func until(t *testing.T, otherwise string, there func() bool) {
	t.Helper()
	for begin := time.Now(); !there(); time.Sleep(time.Millisecond) {
		if time.Since(begin) > 2*time.Minute {
			t.Fatal(otherwise)
		}
	}
}

// Who waits too long, or goes away, is not kept waiting; what takes too long keeps its
// turn and no more than that.
func TestStoreGivesUp(t *testing.T) {
	s := newStore()
	s.time = 20 * time.Millisecond
	goOn := make(chan struct{})
	slow := func() *response { <-goOn; return plain(http.StatusOK, "late") }
	if got := s.get(context.Background(), "slow", 0, slow); got.status != http.StatusServiceUnavailable || len(got.header) == 0 {
		t.Errorf("status %d", got.status)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if got := s.get(ctx, "slow", 0, slow); got.status != http.StatusServiceUnavailable {
		t.Errorf("gone: status %d", got.status)
	}
	for i := range 3 * cap(s.turns) { // all turns are taken
		if got := s.once(context.Background(), slow, func() {}); got.status != http.StatusServiceUnavailable {
			t.Errorf("%d: status %d", i, got.status)
		}
	}
	until(t, "turns are free, and nobody takes them", func() bool { return len(s.turns) == cap(s.turns) })
	close(goOn)
	until(t, "turns were not given back, or the answer was lost", func() bool {
		// What was worked out for nobody is there for the next who asks.
		got := s.get(context.Background(), "slow", 0, fine("again"))
		return string(got.body.text) == "late" && len(s.turns) == 0
	})
}

func TestTrafficIsBounded(t *testing.T) {
	tr := newTraffic()
	some := func() *response { return &response{body: body{packed: make([]byte, mostLarge/4)}} }
	first := some()
	for range 100 { // one response takes its room once, however many take it
		if !tr.admit(first) {
			t.Fatal("no room for a response that is on its way already")
		}
	}
	n := 1
	for tr.admit(some()) {
		n++
	}
	if n != 4 {
		t.Errorf("%d responses were let in", n)
	}
	for range 100 {
		tr.release(first)
	}
	if !tr.admit(some()) {
		t.Error("no room after one was taken")
	}
	for range mostInputs {
		if !tr.enter(context.Background(), time.Hour) {
			t.Fatal("no room for a document")
		}
	}
	if tr.enter(context.Background(), time.Millisecond) {
		t.Error("room for one document more")
	}
	tr.leave()
	if !tr.enter(context.Background(), time.Hour) {
		t.Error("no room after a document was left")
	}
}
