// Package web serves the answers of the commands as pages, and as the JSON, CSV and
// Markdown that the commands write.
//
// A page turns its form into the arguments of a command and shows what that answers,
// so a page and a command cannot differ. All of a page's state is in its address:
// nothing is stored, and no address changes anything. Pages work without JavaScript.
package web

import (
	"io"
	"log/slog"
	"net/http"
	"runtime/debug"
	"time"

	"spectally/cmd/internal/render"
)

// Ask answers the arguments of a command line; input is its standard input. An error
// may have a method Place, which tells the argument ("argument 2") or the flag
// ("--width") that is wrong.
type Ask func(args []string, input io.Reader) (*render.Answer, error)

// Config is what a site needs.
type Config struct {
	Ask Ask
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
	ask   Ask
	pages map[string]*page // by path
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
	s := &site{ask: c.Ask, pages: map[string]*page{}, store: newStore(), traffic: newTraffic(), guard: newGuard(c.Hosts), log: c.Log}
	for _, p := range pages() {
		s.pages[p.path] = p
	}
	return s
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
				s.send(out, r, plain(http.StatusInternalServerError, failedText+"\n"))
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
func (s *site) respond(r *http.Request) *response {
	path, format, ok := split(r.URL.Path)
	if !ok {
		return s.notFound(r)
	}
	if a, ok := assets()[r.URL.Path]; ok {
		return reading(r, func() *response { return a.response(r) })
	}
	switch r.URL.Path {
	case "/healthz":
		return reading(r, func() *response { return plain(http.StatusOK, "ok\n") })
	case "/metrics":
		return reading(r, func() *response { return plain(http.StatusOK, s.meter.text()) })
	}
	p := s.pages[path]
	if p == nil || format.given && p.command == "" {
		return s.notFound(r)
	}
	if !format.given {
		format = negotiate(r.Header.Values("Accept"), p)
	}
	return s.answer(p, format, r)
}

// reading refuses methods that do more than read.
func reading(r *http.Request, f func() *response) *response {
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		return methodRefused("GET, HEAD")
	}
	return f()
}
