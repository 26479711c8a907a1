package web_test

import (
	"io"
	"net"
	"net/http"
	"testing"

	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/web"
)

// trivial serves the least that a handler can say, in the same process.
func trivial(t testing.TB) (address string) {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	server := &http.Server{Handler: http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { _, _ = io.WriteString(w, "ok\n") })}
	done := make(chan error, 1)
	go func() { done <- server.Serve(l) }()
	t.Cleanup(func() {
		_ = server.Close()
		<-done
	})
	return "http://" + l.Addr().String()
}

// The slowest page is served at a third of the rate of a trivial handler at least, both
// asked a hundred times at once.
func TestSlowestPage(t *testing.T) {
	s := newTestSite(t, web.Config{})
	other := &testSite{t: t, address: trivial(t), client: s.client}
	rate := func(s *testSite, path string) float64 {
		const requests = 2000
		load(t, s, 200, 100, func(int) string { return path })
		return requests / load(t, s, requests, 100, func(int) string { return path }).Seconds()
	}
	paths := []string{"/", s.post("/field", "text/plain", fieldlog.Demo()).header.Get("Location")}
	for _, q := range questions {
		paths = append(paths, q.page+"?"+q.query)
	}
	for _, path := range paths {
		ratio := 0.0
		for range 5 { // another program may take the processor for a while
			plain := rate(other, "/")
			got := rate(s, path)
			ratio = max(ratio, got/plain)
			t.Logf("%6.0f a second, %.2f of %6.0f: %.80s", got, got/plain, plain, path)
			if ratio >= 1.0/3 {
				break
			}
		}
		if ratio < 1.0/3 {
			t.Errorf("%s is served at %.2f of the rate of a trivial handler", path, ratio)
		}
	}
}
