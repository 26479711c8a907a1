package web

import (
	"context"
	"math/rand/v2"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"spectally/cmd/internal/pages"
)

func fine(text string) func() *pages.Response {
	return func() *pages.Response { return pages.Plain(http.StatusOK, text) }
}

// text is what a response says.
func text(r *pages.Response) string {
	var b strings.Builder
	_, _ = r.Body.WriteTo(&b) // it takes all
	return b.String()
}

// noise is a text that cannot be packed.
func noise(n int) string {
	b := make([]byte, n)
	_, _ = rand.NewChaCha8([32]byte{}).Read(b) // it always gives all
	return string(b)
}

// All who ask for the same at once get one answer, which is worked out once.
func TestStoreWorksOnce(t *testing.T) {
	s := newStore()
	var worked atomic.Int64
	goOn := make(chan struct{})
	var wg sync.WaitGroup
	for range 50 {
		wg.Go(func() {
			got := s.get(context.Background(), "key", 0, func() *pages.Response {
				worked.Add(1)
				<-goOn
				return pages.Plain(http.StatusOK, "answer")
			})
			if text(got) != "answer" {
				t.Errorf("%q", text(got))
			}
		})
	}
	close(goOn)
	wg.Wait()
	if worked.Load() != 1 {
		t.Errorf("worked out %d times", worked.Load())
	}
	if got := s.get(context.Background(), "key", 0, fine("other")); text(got) != "answer" {
		t.Errorf("kept is %q", text(got))
	}
	if got := s.get(context.Background(), "other key", 0, fine("other")); text(got) != "other" {
		t.Errorf("another key gets %q", text(got))
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
		s.get(context.Background(), key, 0, func() *pages.Response {
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
	for name, answer := range map[string]*pages.Response{
		"fault": pages.Plain(http.StatusInternalServerError, "x"),
		"busy":  busy(),
		"long":  pages.Plain(http.StatusOK, noise(storeEach)),
	} {
		s := newStore()
		worked := 0
		for range 2 {
			s.get(context.Background(), name, 0, func() *pages.Response { worked++; return answer })
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
		s.get(context.Background(), key, limit, func() *pages.Response { worked++; return pages.Plain(http.StatusOK, "report") })
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
	slow := func() *pages.Response { <-goOn; return pages.Plain(http.StatusOK, "late") }
	if got := s.get(context.Background(), "slow", 0, slow); got.Status != http.StatusServiceUnavailable || len(got.Header) == 0 {
		t.Errorf("status %d", got.Status)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if got := s.get(ctx, "slow", 0, slow); got.Status != http.StatusServiceUnavailable {
		t.Errorf("gone: status %d", got.Status)
	}
	for i := range 3 * cap(s.turns) { // all turns are taken
		if got := s.once(context.Background(), slow, func() {}); got.Status != http.StatusServiceUnavailable {
			t.Errorf("%d: status %d", i, got.Status)
		}
	}
	until(t, "turns are free, and nobody takes them", func() bool { return len(s.turns) == cap(s.turns) })
	close(goOn)
	until(t, "turns were not given back, or the answer was lost", func() bool {
		// What was worked out for nobody is there for the next who asks.
		got := s.get(context.Background(), "slow", 0, fine("again"))
		return text(got) == "late" && len(s.turns) == 0
	})
}

func TestTrafficIsBounded(t *testing.T) {
	tr := newTraffic()
	some := func() *pages.Response { return pages.Plain(http.StatusOK, strings.Repeat("x", mostLarge/32)) }
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
	if want := mostLarge / first.Body.Size(); n != want || want < 20 {
		t.Errorf("%d responses were let in, want %d", n, want)
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
