package web

import (
	"context"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/http/httptest"
	"net/netip"
	"strings"
	"testing"

	"spectally/cmd/internal/render"
)

// benchAsk is set by the tests outside of the package, which know the commands.
var benchAsk func(args []string, input io.Reader) (*render.Answer, error)

// benchPaths are pages and data, the slowest of each kind among them.
var benchPaths = []string{
	"/", "/healthz", "/style.css",
	"/ca?carriers=B3:20+%2B+n78:80@640000", "/ca.json?carriers=B3:20+%2B+n78:80@640000",
	"/throughput?carriers=B3:20+%2B+n78:100&pattern=7DS2U/6:4:4",
	"/bands", "/bands?find=n78", "/bands.json",
	"/channel?band=n78&place=640000&width=80",
	"/configs", "/configs?with=n78,3&kind=en-dc&at-most=3", "/configs?names=CA_n3A-n78C",
	"/claim?carriers=B3:20+%2B+n78:80&total-mhz=100",
	"/field?demo=yes", "/field.json?demo=yes", "/site?demo=yes", "/site.json?demo=yes", "/sources",
}

// askedFor is a request as it comes in over the network.
func askedFor(path string) *http.Request {
	local := net.TCPAddrFromAddrPort(netip.MustParseAddrPort("127.0.0.1:80"))
	ctx := context.WithValue(context.Background(), http.LocalAddrContextKey, net.Addr(local))
	return httptest.NewRequestWithContext(ctx, "GET", "http://127.0.0.1"+path, nil)
}

// An answer that is kept takes the site no more work than a trivial one, however long it
// took to work out: counted in allocations, which do not depend on the machine.
func TestKeptAnswersTakeLittle(t *testing.T) {
	s, _ := quiet(benchAsk)
	s.log = slog.New(slog.DiscardHandler)
	allocations := func(path string) float64 {
		r := askedFor(path)
		return testing.AllocsPerRun(20, func() {
			w := httptest.NewRecorder()
			s.ServeHTTP(w, r)
			if w.Code != http.StatusOK {
				t.Fatalf("%s: status %d", path, w.Code)
			}
		})
	}
	trivial := allocations("/healthz")
	for _, path := range benchPaths {
		if n := allocations(path); n > trivial+8 {
			t.Errorf("%s takes %.0f allocations, /healthz %.0f", path, n, trivial)
		}
	}
}

// BenchmarkHandlers measures a request without the network: kept, when its answer is
// there already, and anew, when it has to be worked out.
func BenchmarkHandlers(b *testing.B) {
	for _, path := range benchPaths {
		for _, kept := range []bool{true, false} {
			name := strings.ReplaceAll(strings.TrimPrefix(path, "/"), "/", ":")
			if name == "" {
				name = "first"
			}
			b.Run(map[bool]string{true: "kept/", false: "anew/"}[kept]+name, func(b *testing.B) {
				s := newSite(Config{Ask: benchAsk, Log: slog.New(slog.DiscardHandler)})
				r := askedFor(path)
				s.ServeHTTP(httptest.NewRecorder(), r) // tables are read, the answer is there
				b.ReportAllocs()
				for b.Loop() {
					if !kept {
						s.store = newStore()
					}
					w := httptest.NewRecorder()
					s.ServeHTTP(w, r)
					if w.Code != http.StatusOK {
						b.Fatalf("status %d", w.Code)
					}
					b.SetBytes(int64(w.Body.Len()))
				}
			})
		}
	}
}
