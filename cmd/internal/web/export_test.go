package web

import (
	"context"
	"log/slog"
	"net"
	"net/http"
	"time"

	"spectally/cmd/internal/pages"
)

// BenchWith gives the benchmarks of this package the commands, which import it.
func BenchWith(ask pages.Ask) { benchAsk = ask }

// patient are times that no test comes to, on whatever machine.
var patient = times{header: time.Hour, read: time.Hour, write: time.Hour, idle: time.Hour, shutdown: time.Hour}

// ServePatiently is Serve without limits of time, so that a test of something else does
// not depend on the speed of the machine.
func ServePatiently(ctx context.Context, l net.Listener, h http.Handler, log *slog.Logger) error {
	h.(*site).store.time = time.Hour
	return serve(ctx, l, h, log, patient)
}

// MaxQuery is how many bytes of a query are read.
const MaxQuery = maxQuery

// Kept is how many bytes of answers a site keeps, and KeepAtMost how many it may.
func Kept(h http.Handler) int {
	s := h.(*site).store
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.size
}

func KeepAtMost(h http.Handler, bytes int) {
	s := h.(*site).store
	s.mu.Lock()
	defer s.mu.Unlock()
	s.most = bytes
}
