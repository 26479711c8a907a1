package pages

import (
	"errors"
	"mime"
	"slices"
	"strings"

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

// work asks the command and writes its answer.
func (s *Site) work(p *page, f format, q *query) *Response {
	if f.page && !q.asks() {
		return show(&view{page: p, query: q})
	}
	args := q.arguments(p.command)
	if !f.page {
		args = slices.Insert(args, 1, "--format="+f.option())
	}
	a, err := s.ask(args, q.reader())
	if err != nil {
		return refuse(p, f, q, q.fault(err))
	}
	if f.page {
		return s.page(p, q, a)
	}
	answer, err := f.response(a, q)
	if err != nil {
		panic(err) // the answer is of no use to its own renderer
	}
	answer.Kind = f.kind + "; charset=utf-8"
	answer.Header = []string{"Content-Disposition", mime.FormatMediaType("inline", map[string]string{"filename": p.command + f.extension}), "Vary", "Accept"}
	return answer
}

// response writes an answer as data, as the command does.
func (f *format) response(a *render.Answer, q *query) (*Response, error) {
	if f.render == render.JSON && a.Values != nil {
		return listResponse(a)
	}
	body, err := render.Render(a, render.Options{Format: f.render, Width: textWidth, Full: q.value("full") != "", Explain: q.value(explainField.name) != ""})
	return &Response{Status: statusOK, Body: bodyOf(body)}, err
}

// fault says what a command refuses, in the command's words.
func (q *query) fault(err error) *fault {
	bad := &fault{status: statusBadRequest, text: words.OneLine("spectally " + q.page.command + ": " + err.Error())}
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
func refuse(p *page, f format, q *query, bad *fault) *Response {
	switch {
	case f.page:
		return show(&view{page: p, query: q, fault: bad})
	case f.kind == jsonFormat.kind:
		body, err := render.Render(&render.Answer{Value: func() any {
			return struct {
				Error string `json:"error"`
			}{bad.text}
		}}, render.Options{Format: render.JSON})
		if err != nil {
			panic(err) // a text can always be written
		}
		return &Response{Status: bad.status, Kind: f.kind + "; charset=utf-8", Body: bodyOf(body)}
	}
	return Plain(bad.status, bad.text+"\n")
}
