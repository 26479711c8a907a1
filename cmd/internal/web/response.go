package web

import (
	"net/http"
	"strconv"

	"spectally/cmd/internal/pages"
)

// send writes a response, if there is room for it among those on their way.
func (s *site) send(w http.ResponseWriter, r *http.Request, answer *pages.Response) {
	if r.Method != http.MethodHead && answer.Body.Size() >= smallBody {
		if s.traffic.admit(answer) {
			sent := answer
			defer s.traffic.release(sent)
		} else {
			answer = busy()
		}
	}
	h := w.Header()
	h.Set("Content-Type", answer.Kind)
	h.Set("Content-Length", strconv.Itoa(answer.Body.Length()))
	for i := 0; i+1 < len(answer.Header); i += 2 {
		h.Set(answer.Header[i], answer.Header[i+1])
	}
	if h.Get("Cache-Control") == "" {
		h.Set("Cache-Control", "no-store")
	}
	w.WriteHeader(answer.Status)
	if r.Method != http.MethodHead {
		_, _ = answer.Body.WriteTo(w) // a client that has gone needs no answer
	}
}
