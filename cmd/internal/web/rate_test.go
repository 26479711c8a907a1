package web_test

import (
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"

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

// BenchmarkUnderLoad asks for each page a hundred times at once, in turn with a trivial
// handler in the same process. It shows how many requests a second are answered, and
// which part that is of the trivial handler's: a third at least is what is aimed at.
// Both are measured in the same run, so that the part says little of the machine.
func BenchmarkUnderLoad(b *testing.B) {
	s := newTestSite(b, web.Config{})
	other := &testSite{t: b, address: trivial(b), client: s.client}
	paths := []string{"/", s.post("/field", "text/plain", fieldlog.Demo()).header.Get("Location")}
	for _, q := range questions {
		paths = append(paths, q.page+"?"+q.query)
	}
	for _, path := range paths {
		b.Run(fmt.Sprintf("%.60s", strings.ReplaceAll(strings.TrimPrefix(path, "/"), "/", ":")), func(b *testing.B) {
			const requests = 400
			ask := func(s *testSite) time.Duration { return load(b, s, requests, 100, func(int) string { return path }) }
			ask(other)
			ask(s)
			var plain, page time.Duration
			b.ReportAllocs()
			for b.Loop() {
				plain += ask(other)
				page += ask(s)
			}
			b.ReportMetric(requests*float64(b.N)/page.Seconds(), "requests/s")
			b.ReportMetric(plain.Seconds()/page.Seconds(), "of-trivial")
		})
	}
}
