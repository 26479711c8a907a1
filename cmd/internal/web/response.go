package web

import (
	"net/http"
	"strconv"
)

// response is an answer to a request, complete before the first byte is sent, so that
// a failure is never half a page.
type response struct {
	status int
	kind   string // media type
	body   body
	header []string // further names and values in turn
}

func plain(status int, text string) *response {
	return &response{status: status, kind: "text/plain; charset=utf-8", body: bodyOf([]byte(text))}
}

func seeOther(address string) *response {
	r := plain(http.StatusSeeOther, "")
	r.header = []string{"Location", address}
	return r
}

func methodRefused(allowed string) *response {
	r := plain(http.StatusMethodNotAllowed, "allowed methods are "+allowed+"\n")
	r.header = []string{"Allow", allowed}
	return r
}

// send writes a response, if there is room for it among those on their way.
func (s *site) send(w http.ResponseWriter, r *http.Request, answer *response) {
	if r.Method != http.MethodHead && answer.body.size() >= smallBody {
		if s.traffic.admit(answer) {
			sent := answer
			defer s.traffic.release(sent)
		} else {
			answer = busy()
		}
	}
	h := w.Header()
	h.Set("Content-Type", answer.kind)
	h.Set("Content-Length", strconv.Itoa(answer.body.length))
	for i := 0; i+1 < len(answer.header); i += 2 {
		h.Set(answer.header[i], answer.header[i+1])
	}
	if h.Get("Cache-Control") == "" {
		h.Set("Cache-Control", "no-store")
	}
	w.WriteHeader(answer.status)
	if r.Method != http.MethodHead {
		_, _ = answer.body.WriteTo(w) // a client that has gone needs no answer
	}
}
