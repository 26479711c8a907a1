package batch

import (
	"bytes"
	"errors"
	"io"
	"strings"
)

// Rows reads CSV with a header row by row, under the rules by which [Run] reads it, in
// bounded memory. Blank lines are no rows.
type Rows struct {
	src   *source
	form  *csvForm
	names []string
	chunk chunk
	rest  []byte // of the chunk
	line  int64  // of rest
	marks marks
	row   row
	// What Next has read.
	at     int64
	fields []string
	fault  string
}

// NewRows reads the header. The first of , ; | and tab in it stands between fields. It
// is an error if there is no header, or the text is not UTF-8 by its first bytes.
func NewRows(r io.Reader) (*Rows, error) {
	src := newSource(r, false)
	start := src.atLeast(4)
	if err := checkEncoding(start); err != nil {
		return nil, err
	}
	if bytes.HasPrefix(start, bomUTF8) {
		src.consume(len(bomUTF8))
	}
	form := &csvForm{separator: src.separator(), style: style{}}
	text, err := form.readHeader(src)
	if errors.Is(err, errEmpty) {
		err = errNoHeader
	}
	if err != nil {
		return nil, err
	}
	rows := &Rows{src: src, form: form, names: form.names(text), row: row{spans: make([]span, 0, 32)}}
	form.columns = len(rows.names)
	src.form = form
	return rows, nil
}

var errNoHeader = errors.New("there is nothing in it: allowed is a header row, and rows")

// separator is the first mark of a header that can stand between fields; a comma if
// there is none.
func (s *source) separator() byte {
	header := bytes.TrimLeft(s.atLeast(maxBlank), "\r\n")
	if end := bytes.IndexByte(header, '\n'); end >= 0 {
		header = header[:end]
	}
	if i := bytes.IndexAny(header, ",;|\t"); i >= 0 {
		return header[i]
	}
	return ','
}

// Names are the names of the columns, without white space around them.
func (r *Rows) Names() []string { return r.names }

// Next reads a row; false at the end of the input, of which Err tells more.
func (r *Rows) Next() bool {
	for {
		for len(r.rest) > 0 {
			n := r.form.next(r.rest, &r.row)
			r.at = r.line
			r.line += int64(r.row.lines)
			r.rest = r.rest[n:]
			if len(r.row.text) > 0 || r.row.reason != "" {
				r.take()
				return true
			}
		}
		if !r.src.next(&r.chunk) {
			return false
		}
		r.line, r.at = r.chunk.line, r.chunk.line
		if r.chunk.long > 0 {
			r.fields, r.fault = nil, longRow(r.chunk.long)
			return true
		}
		r.rest, r.marks = r.chunk.in, marksOf(r.chunk.in)
	}
}

// take keeps the fields of the row. One with a quote at fault has none that can be
// trusted.
func (r *Rows) take() {
	r.fields, r.fault = nil, r.row.reason
	if r.fault != "" {
		return
	}
	if !r.form.split(&r.row, r.marks) {
		r.fault = r.row.reason
	}
	if len(r.row.spans) == 0 {
		return
	}
	text := string(r.row.text)
	r.fields = make([]string, len(r.row.spans))
	for i, s := range r.row.spans {
		field := text[s.begin:s.end]
		if s.escaped {
			field = strings.ReplaceAll(field, `""`, `"`)
		}
		r.fields[i] = strings.TrimSpace(field)
	}
}

// Line is the line on which the row begins, counted from 1.
func (r *Rows) Line() int64 { return r.at }

// Fields are the fields of the row without white space around them, for the caller to
// keep. Of a row that cannot be used they are what could be told apart, or nil.
func (r *Rows) Fields() []string { return r.fields }

// Fault is the reason why the row cannot be used; empty if it can.
func (r *Rows) Fault() string { return r.fault }

// Err is why the input ended, unless that is its end.
func (r *Rows) Err() error { return r.src.fault() }
