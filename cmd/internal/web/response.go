package web

import (
	"io"
	"net/http"
	"strconv"
)

// response is an answer to a request, complete before the first byte is sent, so that
// a failure is never half a page.
type response struct {
	status int
	kind   string // media type
	body   []byte
	// stream writes the body, in place of body, where it is too long to be made first.
	stream func(io.Writer) error
	header []string // further names and values in turn
}

func plain(status int, text string) *response {
	return &response{status: status, kind: "text/plain; charset=utf-8", body: []byte(text)}
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
	switch {
	case r.Method == http.MethodHead:
	case answer.stream != nil:
		if !s.traffic.enter(r.Context(), s.store.time) {
			answer = busy()
			break
		}
		defer s.traffic.leave()
	case s.traffic.admit(len(answer.body)):
		defer s.traffic.release(len(answer.body))
	default:
		answer = busy()
	}
	h := w.Header()
	h.Set("Content-Type", answer.kind)
	if answer.stream == nil {
		h.Set("Content-Length", strconv.Itoa(len(answer.body)))
	}
	for i := 0; i+1 < len(answer.header); i += 2 {
		h.Set(answer.header[i], answer.header[i+1])
	}
	if h.Get("Cache-Control") == "" {
		h.Set("Cache-Control", "no-store")
	}
	w.WriteHeader(answer.status)
	switch {
	case r.Method == http.MethodHead:
	case answer.stream != nil:
		if err := answer.stream(w); err != nil {
			panic(http.ErrAbortHandler) // so that the client does not take it for whole
		}
	default:
		_, _ = w.Write(answer.body) // a client that has gone needs no answer
	}
}
