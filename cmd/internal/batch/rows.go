package batch

import (
	"bytes"
	"errors"
	"io"
)

// Rows reads CSV with a header, or JSON lines, row by row, under the rules by which
// [Run] reads them, in bounded memory. Blank lines are no rows.
type Rows struct {
	src   *source
	form  rowScanner
	csv   *csvForm // nil for JSON lines
	keys  keyed    // of JSON lines
	names []string
	chunk chunk
	rest  []byte // of the chunk
	line  int64  // of rest
	marks marks
	row   row
	// What Next has read.
	at    int64
	fault string
}

// rowScanner cuts rows from the input, see rowForm.
type rowScanner interface {
	cut(b []byte, final bool) int
	next(b []byte, r *row) (length int)
}

// NewRows reads the header of CSV. The first of , ; | and tab in it stands between
// fields. It is an error if there is no header, or the text is not UTF-8 by its first
// bytes.
func NewRows(r io.Reader) (*Rows, error) { return OpenRows(r, CSV, 0) }

// OpenRows reads rows of a form; None finds out by the first mark whether they are CSV
// or JSON lines. A separator of 0 is found out as by [NewRows].
func OpenRows(r io.Reader, f Form, separator byte) (*Rows, error) {
	src := newSource(r, false)
	start := src.atLeast(4)
	if err := checkEncoding(start); err != nil {
		return nil, err
	}
	if bytes.HasPrefix(start, bomUTF8) {
		src.consume(len(bomUTF8))
	}
	rows := &Rows{src: src, row: row{spans: make([]span, 0, 32)}}
	if f == JSONLines || f == None && src.firstMark() == '{' {
		rows.form = &jsonForm{}
		src.form = &jsonForm{}
		return rows, nil
	}
	form := &csvForm{separator: separator, style: style{}}
	if separator == 0 {
		form.separator = src.separator()
	}
	text, err := form.readHeader(src)
	if errors.Is(err, errEmpty) {
		err = errNoHeader
	}
	if err != nil {
		return nil, err
	}
	rows.form, rows.csv, rows.names = form, form, form.names(text)
	form.columns = len(rows.names)
	src.form = form
	return rows, nil
}

var errNoHeader = errors.New("empty: must be a header row, and rows")

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

// Names are the names of the columns of CSV, without white space around them; nil for
// JSON lines, whose rows each have their own.
func (r *Rows) Names() []string { return r.names }

// Keys says which keys of JSON lines are the fields, in order; nothing else of a row is
// looked at. CSV has the fields of its header.
func (r *Rows) Keys(names []string) {
	r.keys.places = make(map[string]int, len(names))
	for i, name := range names {
		r.keys.places[name] = i + 1
	}
	r.keys.values = make([][]byte, len(names))
}

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
			r.row.spans, r.fault = r.row.spans[:0], longRow(r.chunk.long)
			clear(r.keys.values)
			return true
		}
		r.rest, r.marks = r.chunk.in, marksOf(r.chunk.in)
	}
}

// take finds the fields of the row. One with a quote at fault has none that can be
// trusted.
func (r *Rows) take() {
	switch {
	case r.csv == nil:
		r.keys.read(&r.row, r.marks)
	case r.row.reason != "":
		r.row.spans = r.row.spans[:0]
	default:
		r.csv.split(&r.row, r.marks)
	}
	r.fault = r.row.reason
}

// Line is the line on which the row begins, counted from 1.
func (r *Rows) Line() int64 { return r.at }

// Field is a field without white space around it, until the next row is read; nil if
// the row does not have it.
func (r *Rows) Field(i int) []byte {
	if r.csv == nil {
		return r.keys.values[i]
	}
	if i >= len(r.row.spans) {
		return nil
	}
	s := r.row.spans[i]
	value := r.row.text[s.begin:s.end]
	if s.escaped {
		value = undoubled(nil, value)
	}
	return trimmed(value)
}

// Fields are the fields of the row of CSV without white space around them, for the
// caller to keep. Of a row that cannot be used they are what could be told apart, or
// nil.
func (r *Rows) Fields() []string {
	if len(r.row.spans) == 0 {
		return nil
	}
	fields := make([]string, len(r.row.spans))
	for i := range fields {
		fields[i] = string(r.Field(i))
	}
	return fields
}

// Fault is the reason why the row cannot be used; empty if it can.
func (r *Rows) Fault() string { return r.fault }

// Err is why the input ended, unless that is its end.
func (r *Rows) Err() error { return r.src.fault() }
