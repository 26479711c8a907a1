package web

import (
	"fmt"
	"log/slog"
	"net/http"
	"strings"
	"sync/atomic"
	"time"
)

// meter counts requests.
type meter struct {
	open     atomic.Int64
	byStatus [6]atomic.Int64 // by the first digit
	bytes    atomic.Int64
	nanos    atomic.Int64
}

// watched is a response that is counted and logged.
type watched struct {
	http.ResponseWriter
	meter  *meter
	log    *slog.Logger
	r      *http.Request
	start  time.Time
	status int
	bytes  int
}

func (m *meter) begin(w http.ResponseWriter, r *http.Request, log *slog.Logger) *watched {
	m.open.Add(1)
	return &watched{ResponseWriter: w, meter: m, log: log, r: r, start: time.Now()}
}

// WriteHeader implements http.ResponseWriter.
func (w *watched) WriteHeader(status int) {
	w.status = status
	w.ResponseWriter.WriteHeader(status)
}

// Write implements http.ResponseWriter.
func (w *watched) Write(b []byte) (int, error) {
	n, err := w.ResponseWriter.Write(b)
	w.bytes += n
	return n, err
}

func (w *watched) end() {
	took := time.Since(w.start)
	w.meter.open.Add(-1)
	w.meter.byStatus[min(max(w.status/100, 0), 5)].Add(1)
	w.meter.bytes.Add(int64(w.bytes))
	w.meter.nanos.Add(int64(took))
	level := slog.LevelInfo
	if w.status >= 500 {
		level = slog.LevelError
	}
	w.log.LogAttrs(w.r.Context(), level, "request", slog.String("method", w.r.Method), slog.String("path", w.r.URL.Path),
		slog.Int("status", w.status), slog.Int("bytes", w.bytes), slog.Duration("took", took))
}

// text writes the counts in the text format that Prometheus reads.
func (m *meter) text() string {
	var b strings.Builder
	b.WriteString("# TYPE spectally_requests_total counter\n")
	for class := 1; class < len(m.byStatus); class++ {
		fmt.Fprintf(&b, "spectally_requests_total{status=\"%dxx\"} %d\n", class, m.byStatus[class].Load())
	}
	fmt.Fprintf(&b, "# TYPE spectally_requests_open gauge\nspectally_requests_open %d\n", m.open.Load())
	fmt.Fprintf(&b, "# TYPE spectally_response_bytes_total counter\nspectally_response_bytes_total %d\n", m.bytes.Load())
	fmt.Fprintf(&b, "# TYPE spectally_request_seconds_total counter\nspectally_request_seconds_total %g\n", time.Duration(m.nanos.Load()).Seconds())
	return b.String()
}
