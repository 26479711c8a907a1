package pages

import (
	"cmp"
	"errors"
	"mime"
	"slices"
	"strconv"
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
	text   string // for people
	field  *field // that it is about; nil if it is about none
	// said is what the command says, for programs; empty where that is the text.
	said string
}

// work asks the command and writes its answer.
func (s *Site) work(p *page, f format, q *query) *Response {
	if f.page && !q.asks() {
		return show(&view{page: p, query: q})
	}
	a, err := s.answerOf(p, f, q)
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

// answers tells whether the page answers anything.
func (p *page) answers() bool { return p.command != "" || p.answer != nil }

func (s *Site) answerOf(p *page, f format, q *query) (*render.Answer, error) {
	if p.answer != nil {
		return p.answer(s, q)
	}
	args := q.arguments(p.command)
	if !f.page {
		args = slices.Insert(args, 1, "--format="+f.option())
	}
	return s.ask(args, q.reader())
}

// response writes an answer as data, as the command does.
func (f *format) response(a *render.Answer, q *query) (*Response, error) {
	if f.render == render.JSON && a.Values != nil {
		return listResponse(a)
	}
	body, err := render.Render(a, render.Options{Format: f.render, Width: textWidth, Full: q.value("full") != "", Explain: q.value(explainField.name) != ""})
	return &Response{Status: statusOK, Body: bodyOf(body)}, err
}

// fault says what a command refuses: of a document each line, of a field its label.
func (q *query) fault(err error) *fault {
	bad := &fault{status: statusBadRequest, said: words.OneLine("spectally " + q.page.command + ": " + err.Error())}
	if problems, ok := errors.AsType[tomlfile.Problems](err); ok {
		lines, said := make([]string, len(problems)), make([]string, len(problems))
		for i := range problems {
			lines[i], said[i] = q.problem(&problems[i]), words.OneLine(problems[i].Error())
		}
		bad.text, bad.said = strings.Join(lines, "\n"), strings.Join(said, "\n")
		return bad
	}
	var at interface {
		error
		Place() string
		Unwrap() error
	}
	if errors.As(err, &at) {
		if bad.field = q.fieldAt(at.Place()); bad.field != nil {
			err = at.Unwrap()
		}
	}
	if bad.field == nil && len(q.page.fields) > 0 {
		if f := &q.page.fields[0]; f.name == carriersName || f.name == questionName {
			bad.field = f // what is asked about cannot be read
		}
	}
	bad.text = words.OneLine(words.Sentence(err.Error()))
	for i := range q.page.fields {
		if f := &q.page.fields[i]; f.flag != "" {
			bad.text = strings.ReplaceAll(bad.text, f.flag+" ", "“"+f.label+"” ")
		}
	}
	return bad
}

// problem says what is wrong in a line of a document, and shows the line.
func (q *query) problem(p *tomlfile.Problem) string {
	line := ""
	if lines := strings.Split(string(q.input), "\n"); p.Line >= 1 && p.Line <= len(lines) {
		if line = strings.TrimSpace(lines[p.Line-1]); line != "" {
			line = " It reads “" + tomlfile.Shorten(line) + "”."
		}
	}
	return words.OneLine("Line " + strconv.Itoa(p.Line) + ", " + p.Fault() + "." + line)
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
			}{cmp.Or(bad.said, bad.text)}
		}}, render.Options{Format: render.JSON})
		if err != nil {
			panic(err) // a text can always be written
		}
		return &Response{Status: bad.status, Kind: f.kind + "; charset=utf-8", Body: bodyOf(body)}
	}
	return Plain(bad.status, cmp.Or(bad.said, bad.text)+"\n")
}
