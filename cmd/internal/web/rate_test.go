//go:build unix

package web_test

import (
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"syscall"
	"testing"
	"time"

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

// BenchmarkUnderLoad asks for each page a hundred times at once, in turn with a trivial
// handler in the same process. It shows how many requests a second are answered, and
// which part that is of the trivial handler's: by the clock, and by the time that the
// processors worked for it, client included, which other programs on the machine change
// little. A third at least is what is aimed at.
func BenchmarkUnderLoad(b *testing.B) {
	s := newTestSite(b, web.Config{})
	other := &testSite{t: b, address: trivial(b), client: s.client}
	paths := []string{"/"}
	for i := range papers {
		paths = append(paths, s.post(papers[i].page, "text/plain", papers[i].demo).header.Get("Location"))
	}
	for _, q := range questions {
		paths = append(paths, q.page+"?"+q.query)
	}
	for _, path := range paths {
		name := fmt.Sprintf("%.60s", strings.ReplaceAll(strings.TrimPrefix(path, "/"), "/", ":"))
		if name == "" {
			name = "first"
		}
		b.Run(name, func(b *testing.B) {
			const requests = 400
			ask := func(s *testSite) (clock, work time.Duration) {
				before := worked(b)
				clock = load(b, s, requests, 100, func(int) string { return path })
				return clock, worked(b) - before
			}
			ask(other)
			ask(s)
			var plain, page, plainWork, pageWork time.Duration
			b.ReportAllocs()
			for b.Loop() {
				clock, work := ask(other)
				plain, plainWork = plain+clock, plainWork+work
				clock, work = ask(s)
				page, pageWork = page+clock, pageWork+work
			}
			b.ReportMetric(requests*float64(b.N)/page.Seconds(), "requests/s")
			b.ReportMetric(plain.Seconds()/page.Seconds(), "of-trivial")
			b.ReportMetric(plainWork.Seconds()/pageWork.Seconds(), "of-trivial-by-work")
		})
	}
}

// worked is for how long the processors have worked for this process.
func worked(b *testing.B) time.Duration {
	b.Helper()
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
