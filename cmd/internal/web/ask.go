package web

import (
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
	"net/url"
	"os"
	"slices"
	"strings"
	"time"

	"spectally/cmd/internal/render"
	"spectally/cmd/internal/tomlfile"
	"spectally/cmd/internal/words"
)

// textWidth is the width of lines of plain text.
const textWidth = 100

// fault is an input that cannot be used.
type fault struct {
	status int
	text   string
	field  *field // that it is about; nil if it is about none
}

// answer answers a request for a page.
func (s *site) answer(p *page, f format, r *http.Request) *response {
	switch {
	case r.Method == http.MethodGet || r.Method == http.MethodHead:
		limit := time.Duration(0)
		if p.takes != nil {
			limit = inputTime
		}
		// The same address has the same answer, so it is not even read twice.
		return s.store.get(r.Context(), p.path+f.extension+f.kind+"?"+r.URL.RawQuery, limit, func() *response {
			return s.safely(p, f, r, func() *response { return s.answerAddress(p, f, r.URL.RawQuery) })
		})
	case r.Method == http.MethodPost && p.takes != nil:
		return s.safely(p, f, r, func() *response { return s.answerForm(p, f, r) })
	case p.takes != nil:
		return methodRefused("GET, HEAD, POST")
	}
	return methodRefused("GET, HEAD")
}

// answerAddress answers the query of an address.
func (s *site) answerAddress(p *page, f format, raw string) *response {
	values, err := url.ParseQuery(raw)
	if err != nil {
		return s.refuse(p, f, &query{page: p}, &fault{http.StatusBadRequest, "the address cannot be read: " + err.Error(), nil})
	}
	if address := p.tidy(values); address != "" && f.page {
		return seeOther(address)
	}
	q, bad := p.read(values)
	if bad != nil {
		return s.refuse(p, f, q, bad)
	}
	return s.work(p, f, q)
}

// answerForm answers a document that was sent. It is not kept.
func (s *site) answerForm(p *page, f format, r *http.Request) *response {
	leave := func() {}
	if r.ContentLength < 0 || r.ContentLength > smallInput {
		if !s.traffic.enter(r.Context(), s.store.time) {
			return busy()
		}
		leave = s.traffic.leave
	}
	sent, err := io.ReadAll(http.MaxBytesReader(nil, r.Body, maxBody))
	if err != nil {
		leave()
		return s.refuse(p, f, &query{page: p}, unread(err))
	}
	return s.store.once(r.Context(), func() *response {
		return s.safely(p, f, r, func() *response {
			q, address, bad := p.receive(r, sent, f)
			switch {
			case bad != nil:
				return s.refuse(p, f, q, bad)
			case address != "":
				return seeOther(address)
			}
			return s.work(p, f, q)
		})
	}, leave)
}

// unread says why a document was not read.
func unread(err error) *fault {
	var tooLarge *http.MaxBytesError
	switch {
	case errors.As(err, &tooLarge):
		return &fault{http.StatusRequestEntityTooLarge, fmt.Sprintf("the form is larger than the %d bytes that are read", tooLarge.Limit), nil}
	case errors.Is(err, os.ErrDeadlineExceeded):
		return &fault{http.StatusRequestTimeout, "the form took too long to come: it must be there within " + inputPeriod.String(), nil}
	}
	return &fault{http.StatusBadRequest, "the form cannot be read: " + err.Error(), nil}
}

// safely turns a panic into a page and a line in the log.
func (s *site) safely(p *page, f format, r *http.Request, work func() *response) (answer *response) {
	defer func() {
		if err := recover(); err != nil {
			logPanic(s.log, r, err)
			answer = s.refuse(p, f, &query{page: p}, &fault{http.StatusInternalServerError, failedText, nil})
		}
	}()
	return work()
}

// work asks the command and writes its answer.
func (s *site) work(p *page, f format, q *query) *response {
	if f.page && !q.asks() {
		return s.show(&view{page: p, query: q})
	}
	args := q.arguments(p.command)
	if !f.page {
		args = slices.Insert(args, 1, "--format="+f.option())
	}
	a, err := s.ask(args, q.reader())
	if err != nil {
		return s.refuse(p, f, q, q.fault(err))
	}
	if f.page {
		return s.page(p, q, a)
	}
	answer, err := f.response(a, q)
	if err != nil {
		panic(err) // the answer is of no use to its own renderer
	}
	answer.kind = f.kind + "; charset=utf-8"
	answer.header = []string{"Content-Disposition", mime.FormatMediaType("inline", map[string]string{"filename": p.command + f.extension}), "Vary", "Accept"}
	return answer
}

// response writes an answer as data, as the command does.
func (f *format) response(a *render.Answer, q *query) (*response, error) {
	if f.render == render.JSON && a.Values != nil {
		return listResponse(a)
	}
	body, err := render.Render(a, render.Options{Format: f.render, Width: textWidth, Explain: q.value(explainField.name) != ""})
	return &response{status: http.StatusOK, body: bodyOf(body)}, err
}

// fault says what a command refuses, in the command's words.
func (q *query) fault(err error) *fault {
	bad := &fault{status: http.StatusBadRequest, text: words.OneLine("spectally " + q.page.command + ": " + err.Error())}
	if problems, ok := errors.AsType[tomlfile.Problems](err); ok {
		lines := make([]string, len(problems))
		for i := range problems {
			lines[i] = words.OneLine(problems[i].Error())
		}
		bad.text = strings.Join(lines, "\n")
		return bad
	}
	var at interface{ Place() string }
	if errors.As(err, &at) {
		bad.field = q.fieldAt(at.Place())
	}
	return bad
}

// refuse answers that an input cannot be used: a page with its form, or a line.
func (s *site) refuse(p *page, f format, q *query, bad *fault) *response {
	switch {
	case f.page:
		return s.show(&view{page: p, query: q, fault: bad})
	case f.kind == jsonFormat.kind:
		body, err := render.Render(&render.Answer{Value: func() any {
			return struct {
				Error string `json:"error"`
			}{bad.text}
		}}, render.Options{Format: render.JSON})
		if err != nil {
			panic(err) // a text can always be written
		}
		return &response{status: bad.status, kind: f.kind + "; charset=utf-8", body: bodyOf(body)}
	}
	return plain(bad.status, bad.text+"\n")
}

// notFound answers for a path that is no page.
func (s *site) notFound(r *http.Request) *response {
	return s.show(&view{page: &page{path: r.URL.Path, title: "No such page"}, query: &query{},
		fault: &fault{http.StatusNotFound, fmt.Sprintf("there is no page %q: the menu has those that there are", r.URL.Path), nil}})
}
