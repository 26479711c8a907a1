package web

import (
	"errors"
	"fmt"
	"mime"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"unicode"

	"spectally/cmd/internal/render"
	"spectally/cmd/internal/tomlfile"
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
	var (
		q   *query
		bad *fault
	)
	switch {
	case r.Method == http.MethodGet || r.Method == http.MethodHead:
		values, err := url.ParseQuery(r.URL.RawQuery)
		if err != nil {
			return s.refuse(p, f, &query{page: p}, &fault{http.StatusBadRequest, "the address cannot be read: " + err.Error(), nil})
		}
		if address := p.tidy(values); address != "" && f.page {
			return seeOther(address)
		}
		q, bad = p.read(values)
	case r.Method == http.MethodPost && p.takes != nil:
		var address string
		q, address, bad = p.receive(r, f)
		if address != "" {
			return seeOther(address)
		}
	case p.takes != nil:
		return methodRefused("GET, HEAD, POST")
	default:
		return methodRefused("GET, HEAD")
	}
	if bad != nil {
		return s.refuse(p, f, q, bad)
	}
	work := func() *response { return s.safely(p, f, q, r) }
	if q.input != nil {
		return s.store.once(r.Context(), work) // somebody's log is not kept
	}
	return s.store.get(r.Context(), p.path+f.extension+f.kind+"?"+q.encode(), work)
}

// safely works an answer out, and turns a panic into a page and a line in the log.
func (s *site) safely(p *page, f format, q *query, r *http.Request) (answer *response) {
	defer func() {
		if err := recover(); err != nil {
			logPanic(s.log, r, err)
			answer = s.refuse(p, f, &query{page: p}, &fault{http.StatusInternalServerError, failedText, nil})
		}
	}()
	return s.work(p, f, q)
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
	return &response{status: http.StatusOK, body: body}, err
}

// fault says what a command refuses, in the command's words.
func (q *query) fault(err error) *fault {
	bad := &fault{status: http.StatusBadRequest, text: oneLine("spectally " + q.page.command + ": " + err.Error())}
	if problems, ok := errors.AsType[tomlfile.Problems](err); ok {
		lines := make([]string, len(problems))
		for i := range problems {
			lines[i] = oneLine(problems[i].Error())
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

// oneLine takes out what would break a line.
func oneLine(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, s)
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
		return &response{status: bad.status, kind: f.kind + "; charset=utf-8", body: body}
	}
	return plain(bad.status, bad.text+"\n")
}

// notFound answers for a path that is no page.
func (s *site) notFound(r *http.Request) *response {
	return s.show(&view{page: &page{path: r.URL.Path, title: "No such page"}, query: &query{},
		fault: &fault{http.StatusNotFound, fmt.Sprintf("there is no page %q: the menu has those that there are", r.URL.Path), nil}})
}
