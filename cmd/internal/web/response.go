package web

import (
	"net/http"
	"strconv"
	"strings"

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
	length, zipped := answer.Body.Length(), []byte(nil)
	if acceptsGzip(r.Header.Values("Accept-Encoding")) {
		if zipped = answer.Body.Gzip(); zipped != nil {
			length = len(zipped)
			h.Set("Content-Encoding", "gzip")
		}
	}
	h.Set("Content-Length", strconv.Itoa(length))
	for i := 0; i+1 < len(answer.Header); i += 2 {
		h.Set(answer.Header[i], answer.Header[i+1])
	}
	if h.Get("Cache-Control") == "" {
		h.Set("Cache-Control", "no-store")
	}
	h.Add("Vary", "Accept-Encoding")
	w.WriteHeader(answer.Status)
	switch {
	case r.Method == http.MethodHead:
	case zipped != nil:
		_, _ = w.Write(zipped) // a client that has gone needs no answer
	default:
		_, _ = answer.Body.WriteTo(w)
	}
}

// acceptsGzip tells whether a client takes a body packed as gzip (RFC 9110 clause 12.5.3).
func acceptsGzip(headers []string) bool {
	for entry := range strings.SplitSeq(strings.Join(headers, ","), ",") {
		coding, weight, _ := strings.Cut(entry, ";")
		if strings.EqualFold(strings.TrimSpace(coding), "gzip") {
			q := strings.ReplaceAll(weight, " ", "")
			return strings.Trim(strings.TrimPrefix(q, "q="), "0.") != "" || q == ""
		}
	}
	return false
}
