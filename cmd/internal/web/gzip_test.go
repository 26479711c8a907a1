package web_test

import (
	"compress/gzip"
	"io"
	"net/http"
	"strings"
	"testing"

	"spectally/cmd/internal/web"
)

// Answers are packed for those who take that, and are the same then; others get them as they
// are.
func TestGzip(t *testing.T) {
	s := newTestSite(t, web.Config{})
	for _, path := range []string{"/", "/bands", "/bands.json", "/configs.csv?limit=20000", "/style.css", "/field?demo=yes"} {
		ask := func(encoding string) answer {
			t.Helper()
			r := s.request(http.MethodGet, path, nil)
			r.Header.Set("Accept-Encoding", encoding)
			return s.do(r)
		}
		plain := ask("identity")
		if plain.header.Get("Content-Encoding") != "" || !strings.Contains(strings.Join(plain.header.Values("Vary"), ","), "Accept-Encoding") {
			t.Errorf("%s: %v", path, plain.header)
		}
		if got := ask("gzip;q=0"); got.body != plain.body {
			t.Errorf("%s is packed for one who refuses it", path)
		}
		for _, encoding := range []string{"gzip", "br, gzip;q=0.5", "deflate,GZIP"} {
			got := ask(encoding)
			if got.header.Get("Content-Encoding") != "gzip" || len(got.body)*2 > len(plain.body) {
				t.Fatalf("%s for %q: %d bytes of %d, %v", path, encoding, len(got.body), len(plain.body), got.header)
			}
			r, err := gzip.NewReader(strings.NewReader(got.body))
			if err != nil {
				t.Fatal(err)
			}
			if text, err := io.ReadAll(r); err != nil || string(text) != plain.body {
				t.Errorf("%s for %q is another text: %v", path, encoding, err)
			}
		}
	}
	r := s.request(http.MethodGet, "/healthz", nil)
	r.Header.Set("Accept-Encoding", "gzip")
	if got := s.do(r); got.body != "ok\n" {
		t.Errorf("a short answer is %q", got.body)
	}
}
