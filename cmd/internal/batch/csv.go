package batch

import (
	"bytes"
	"strconv"
)

// csvForm reads rows of RFC 4180, with any separator. Quotes have to follow it
// strictly; a row that breaks that rule is one physical line, so that a stray quote
// costs its own line and not those after it.
type csvForm struct {
	separator byte
	columns   int // of the header
	use       columnUse
	header    []byte // as it stands in the input; nil if there is none
	style     style
}

// columnUse tells which column each field is read from, counted from 0; -1 for none.
type columnUse struct {
	carriers int
	figures  [figureCount]int
}

// scanState is what a look for the end of a row has found.
type scanState uint8

const (
	scanWhole    scanState = iota
	scanMore               // the data end before the row does
	scanStray              // a quote inside an unquoted field
	scanAfter              // text behind a closing quote
	scanOpen               // the data end inside quotes
	scanCarriage           // a carriage return that ends no line
)

var scanReasons = [...]string{
	scanStray:    "a quote inside a field that does not begin with one: put quotes round the field and double those in it",
	scanAfter:    "text behind a closing quote: double the quotes inside a quoted field",
	scanOpen:     "a quote that is not closed, or should not be there",
	scanCarriage: "a carriage return inside the row: lines end in LF or CR LF",
}

// scan finds the first row of b: its text, its length with the line end, and where
// its fields stand, if spans is not nil. Where a quote or a carriage return is at fault
// the length is where that was seen.
func (f *csvForm) scan(b []byte, spans []span) (text, length int, _ []span, state scanState) {
	line := b
	end := bytes.IndexByte(b, '\n')
	if end >= 0 {
		line = b[:end]
	}
	if bytes.IndexByte(line, '"') >= 0 {
		return f.scanQuoted(b, spans)
	}
	if end < 0 {
		return len(b), len(b), spans, scanMore
	}
	return withoutCR(line), end + 1, spans, scanWhole
}

// scanQuoted is scan for a row with quotes. It goes from one quote to the next; what
// stands between them are plain fields.
func (f *csvForm) scanQuoted(b []byte, spans []span) (text, length int, _ []span, state scanState) {
	i := 0 // where a field begins
	for {
		line := b[i:]
		end := bytes.IndexByte(line, '\n')
		if end >= 0 {
			line = line[:end]
		}
		q := bytes.IndexByte(line, '"')
		plain := line[:max(0, q)]
		if q < 0 {
			plain = line[:withoutCR(line)]
		}
		switch {
		case bytes.IndexByte(plain, '\r') >= 0:
			return 0, i, spans, scanCarriage
		case q < 0:
			if spans != nil {
				spans = splitPlain(spans, b[:i+len(plain)], i, f.separator)
			}
			if end < 0 {
				return i + len(plain), len(b), spans, scanMore
			}
			return i + len(plain), i + end + 1, spans, scanWhole
		case q > 0 && plain[q-1] != f.separator:
			return 0, i, spans, scanStray
		case q > 0 && spans != nil:
			spans = splitPlain(spans, b[:i+q-1], i, f.separator)
		}
		i += q + 1
		s := span{begin: i}
		for {
			q := bytes.IndexByte(b[i:], '"')
			if q < 0 {
				return len(b), len(b), spans, scanOpen
			}
			i += q + 1
			if i == len(b) || b[i] != '"' {
				break
			}
			s.escaped = true
			i++
		}
		s.end = i - 1
		if spans != nil {
			spans = append(spans, s)
		}
		switch rest := b[i:]; {
		case len(rest) == 0:
			return i, i, spans, scanMore
		case rest[0] == f.separator:
			i++
		case rest[0] == '\n':
			return i, i + 1, spans, scanWhole
		case rest[0] != '\r':
			return 0, i, spans, scanAfter
		case len(rest) == 1:
			return i, i + 1, spans, scanMore
		case rest[1] == '\n':
			return i, i + 2, spans, scanWhole
		default:
			return 0, i, spans, scanCarriage
		}
	}
}

// withoutCR is the length of a line without a carriage return at its end.
func withoutCR(line []byte) int {
	if n := len(line); n > 0 && line[n-1] == '\r' {
		return n - 1
	}
	return len(line)
}

// cut implements rowForm.
func (f *csvForm) cut(b []byte, final bool) int {
	if final {
		return len(b)
	}
	quote := bytes.IndexByte(b, '"')
	if quote < 0 {
		return bytes.LastIndexByte(b, '\n') + 1
	}
	whole := bytes.LastIndexByte(b[:quote], '\n') + 1
	for whole < len(b) {
		_, n, _, state := f.scan(b[whole:], nil)
		switch state {
		case scanWhole:
		case scanMore, scanOpen:
			return whole
		default:
			end := bytes.IndexByte(b[whole:], '\n')
			if end < 0 {
				return whole
			}
			n = end + 1
		}
		whole += n
	}
	return whole
}

// next implements rowForm.
func (f *csvForm) next(b []byte, r *row) int {
	text, n, spans, state := f.scan(b, r.spans[:0])
	r.spans, r.reason, r.lines = spans, "", 1
	if state > scanMore {
		r.reason, n = fault(b, n, state)
		text = n
		if b[n-1] == '\n' {
			text--
		}
		text = withoutCR(b[:text])
	} else if len(spans) > 0 {
		r.lines = max(1, bytes.Count(b[:n], newline))
	} else if state == scanMore {
		text = withoutCR(b)
	}
	r.text = b[:text]
	return n
}

var newline = []byte{'\n'}

// fault is the reason why the first line of b is no row, and its length. A fault seen
// on a later line is that of a quote that opens on the first and should not: whether
// the later lines are in b makes no difference then.
func fault(b []byte, seen int, state scanState) (reason string, length int) {
	length = bytes.IndexByte(b, '\n') + 1
	if length == 0 {
		length = len(b)
	} else if seen >= length {
		state = scanOpen
	}
	return scanReasons[state], length
}

// split finds the fields of the row that next has taken; false if it cannot be used.
func (f *csvForm) split(r *row, m marks) bool {
	if r.reason != "" {
		return false
	}
	if m.nul && bytes.IndexByte(r.text, 0) >= 0 {
		r.reason = reasonNUL
		return false
	}
	if len(r.spans) == 0 {
		if m.cr && bytes.IndexByte(r.text, '\r') >= 0 {
			r.reason = scanReasons[scanCarriage]
			return false
		}
		r.spans = splitPlain(r.spans, r.text, 0, f.separator)
	}
	if len(r.spans) != f.columns {
		r.reason = counted(len(r.spans), "field") + " where there are " + counted(f.columns, "column")
		return false
	}
	return true
}

// fields implements rowForm.
func (f *csvForm) fields(r *row, m marks) bool {
	if !f.split(r, m) {
		return false
	}
	r.carriers = f.field(r, f.use.carriers, 0)
	for i, column := range f.use.figures {
		if !r.measure(i, f.field(r, column, 1+i)) {
			return false
		}
	}
	return true
}

// splitPlain finds the fields of a text without quotes, from where one begins.
func splitPlain(spans []span, text []byte, begin int, separator byte) []span {
	for {
		n := bytes.IndexByte(text[begin:], separator)
		if n < 0 {
			return append(spans, span{begin: begin, end: len(text)})
		}
		spans = append(spans, span{begin: begin, end: begin + n})
		begin += n + 1
	}
}

// field is the value of a column without quotes and blanks around it.
func (f *csvForm) field(r *row, column, buffer int) []byte {
	if column < 0 {
		return nil
	}
	s := r.spans[column]
	value := r.text[s.begin:s.end]
	if s.escaped {
		r.scratch[buffer] = undoubled(r.scratch[buffer][:0], value)
		value = r.scratch[buffer]
	}
	return trimmed(value)
}

// undoubled appends a text with each pair of quotes made one.
func undoubled(dst, text []byte) []byte {
	for {
		q := bytes.IndexByte(text, '"')
		if q < 0 {
			return append(dst, text...)
		}
		dst = append(dst, text[:q+1]...)
		text = text[q+2:] // quotes inside a field are in pairs
	}
}

// answered implements rowForm.
func (f *csvForm) answered(dst []byte, r *row, a *answer) []byte {
	dst = append(dst, r.text...)
	dst = append(dst, a.columns...)
	dst = f.style.measured(dst, r, a)
	return append(dst, '\n')
}

// rejected implements rowForm.
func (f *csvForm) rejected(dst []byte, r *Reject) []byte {
	dst = strconv.AppendInt(dst, r.Line, 10)
	dst = append(dst, f.separator)
	dst = f.appendField(dst, r.Reason)
	dst = append(dst, f.separator)
	dst = f.appendField(dst, r.Row)
	return append(dst, '\n')
}

// appendField appends a field, in quotes if it has to be.
func (f *csvForm) appendField(dst []byte, text string) []byte {
	plain := true
	for i := range len(text) {
		if c := text[i]; c == '"' || c == f.separator || c == '\n' || c == '\r' {
			plain = false
			break
		}
	}
	if plain {
		return append(dst, text...)
	}
	dst = append(dst, '"')
	for i := range len(text) {
		if text[i] == '"' {
			dst = append(dst, '"')
		}
		dst = append(dst, text[i])
	}
	return append(dst, '"')
}

// headers implements rowForm.
func (f *csvForm) headers() (output, rejects []byte) {
	if f.header != nil {
		output = append(append(output, f.header...), f.style.names(f.separator)...)
		output = append(output, '\n')
	}
	for i, name := range rejectColumns {
		if i > 0 {
			rejects = append(rejects, f.separator)
		}
		rejects = append(rejects, name...)
	}
	return output, append(rejects, '\n')
}
