// Package web serves the pages of package pages: who is answered, how much is read, worked
// out and sent at a time, and which answers are kept.
package web

import (
	"log/slog"
	"net/http"
	"runtime/debug"
	"time"

	"spectally/cmd/internal/pages"
)

// Config is what a site needs.
type Config struct {
	Ask pages.Ask
	// Hosts are the names by which the site may be called, beside the address that it
	// listens on, and localhost where that is a loopback address. Any other name is
	// refused: it may be an attacker's that was pointed here.
	Hosts []string
	// Log gets a line for each request and each failure. Queries are not logged, nor
	// is what is sent: a field log is its owner's business.
	Log *slog.Logger
}

// site serves the pages.
type site struct {
	pages *pages.Site
	store *store
	// traffic is what is on its way to clients.
	traffic *traffic
	guard   guard
	log     *slog.Logger
	meter   meter
}

// New makes the handler of a site.
func New(c Config) http.Handler { return newSite(c) }

func newSite(c Config) *site {
	return &site{pages: pages.New(c.Ask), store: newStore(), traffic: newTraffic(), guard: newGuard(c.Hosts), log: c.Log}
}

// ServeHTTP implements http.Handler.
func (s *site) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	out := s.meter.begin(w, r, s.log)
	defer out.end()
	defer func() {
		if err := recover(); err == http.ErrAbortHandler {
			panic(err)
		} else if err != nil {
			logPanic(s.log, r, err)
			if out.status == 0 {
				s.send(out, r, pages.Plain(http.StatusInternalServerError, failedText+"\n"))
			}
		}
	}()
	setHeaders(w.Header())
	if r.Body != http.NoBody {
		own := *r // the server looks at the body of its own request
		r = &own
		r.Body = &timedBody{ReadCloser: r.Body, begin: func() {
			_ = http.NewResponseController(w).SetReadDeadline(time.Now().Add(inputPeriod)) // tests have writers that cannot
		}}
	}
	if refused := s.guard.check(r); refused != nil {
		s.send(out, r, refused.response())
		return
	}
	s.send(out, r, s.respond(r))
}

const failedText = "this could not be answered: the fault is the program's, and has been logged"

func logPanic(log *slog.Logger, r *http.Request, err any) {
	log.Error("panic", slog.String("path", r.URL.Path), slog.Any("panic", err), slog.String("stack", string(debug.Stack())))
}

// respond finds who answers a path. Paths name nothing on disk.
func (s *site) respond(r *http.Request) *pages.Response {
	var fixed *pages.Response
	switch r.URL.Path {
	case "/healthz":
		fixed = pages.Plain(http.StatusOK, "ok\n")
	case "/metrics":
		fixed = pages.Plain(http.StatusOK, s.meter.text())
	default:
		fixed = pages.Asset(r.URL.Path, r.URL.RawQuery)
	}
	switch {
	case fixed == nil:
	case r.Method != http.MethodGet && r.Method != http.MethodHead:
		return pages.MethodRefused("GET, HEAD")
	default:
		return fixed
	}
	if t := s.pages.Find(r.URL.Path, r.Header.Values("Accept")); t != nil {
		return s.answer(t, r)
	}
	return pages.NotFound(r.URL.Path)
}
