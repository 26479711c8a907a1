package web

import (
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"time"

	"spectally/cmd/internal/pages"
)

// answer answers a request for a page.
func (s *site) answer(t *pages.Target, r *http.Request) *pages.Response {
	switch {
	case r.Method == http.MethodGet || r.Method == http.MethodHead:
		limit := time.Duration(0)
		if t.Reads() {
			limit = inputTime
		}
		// The same address has the same answer, so it is not even read twice.
		return s.store.get(r.Context(), t.Key()+"?"+r.URL.RawQuery, limit, func() *pages.Response {
			return s.safely(t, r, func() *pages.Response { return t.Get(r.URL.RawQuery) })
		})
	case r.Method == http.MethodPost && t.Reads():
		return s.safely(t, r, func() *pages.Response { return s.answerForm(t, r) })
	}
	return pages.MethodRefused(t.Methods())
}

// answerForm answers a document that was sent. It is not kept.
func (s *site) answerForm(t *pages.Target, r *http.Request) *pages.Response {
	leave := func() {}
	if r.ContentLength < 0 || r.ContentLength > smallInput {
		if !s.traffic.enter(r.Context(), s.store.time) {
			return busy()
		}
		leave = s.traffic.leave
	}
	sent, err := io.ReadAll(http.MaxBytesReader(nil, r.Body, pages.MaxBody))
	if err != nil {
		leave()
		return t.Refuse(unread(err))
	}
	return s.store.once(r.Context(), func() *pages.Response {
		return s.safely(t, r, func() *pages.Response { return t.Post(r.Header.Get("Content-Type"), sent) })
	}, leave)
}

// unread says why a document was not read.
func unread(err error) (status int, text string) {
	var tooLarge *http.MaxBytesError
	switch {
	case errors.As(err, &tooLarge):
		return http.StatusRequestEntityTooLarge, fmt.Sprintf("the form is larger than the %d bytes that are read", tooLarge.Limit)
	case errors.Is(err, os.ErrDeadlineExceeded):
		return http.StatusRequestTimeout, "the form took too long to come: it must be there within " + inputPeriod.String()
	}
	return http.StatusBadRequest, "the form cannot be read: " + err.Error()
}

// safely turns a panic into a page and a line in the log.
func (s *site) safely(t *pages.Target, r *http.Request, work func() *pages.Response) (answer *pages.Response) {
	defer func() {
		if err := recover(); err != nil {
			logPanic(s.log, r, err)
			answer = t.Refuse(http.StatusInternalServerError, failedText)
		}
	}()
	return work()
}
