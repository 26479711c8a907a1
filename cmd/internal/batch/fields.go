package batch

import (
	"bytes"
	"strconv"
	"strings"
	"unicode/utf8"

	"spectally/bands"
	"spectally/cmd/internal/quantity"
)

// The fields that a row may have.
const (
	fieldCarriers = "carriers" // in the notation of package ca, or a name of the standard
	fieldDown     = "down"     // measured rates, Mbit/s
	fieldUp       = "up"
	fieldLatency  = "latency" // ms
)

var fieldNames = [...]string{fieldCarriers, fieldDown, fieldUp, fieldLatency}

// Fields lists the fields that a row may have; the first is the one that it must.
func Fields() []string { return fieldNames[:] }

// Reject is a row that cannot be used, and why.
type Reject struct {
	Line   int64  `json:"line"` // where the row begins in the input, counted from 1
	Reason string `json:"reason"`
	Row    string `json:"row"` // as it stands; only its beginning if it is too long
}

var rejectColumns = [...]string{"line", "reason", "row"}

const reasonNUL = "a NUL byte: must be text in UTF-8"

// The measured values of a row, in the order of the fields behind the first.
const (
	down = iota
	up
	latency
	figureCount
)

// figure is a measured value: coefficient / 10^places.
type figure struct {
	coefficient uint64
	places      uint8
	given       bool
}

// measure reads a measured value; false if it is none, with the reason in the row.
func (r *row) measure(i int, text []byte) bool {
	f := figure{}
	ok := true
	if len(text) > 0 {
		f, ok = parseFigure(text)
	}
	r.figures[i] = f
	if i == latency && f.given && f.coefficient == 0 {
		ok = false
	}
	if !ok {
		r.reason = figureFault(i, string(text)).Error()
	}
	return ok
}

const maxFigureDigits = 15 // as quantity.ParseDecimal has it

// parseFigure reads a plain decimal that is not negative.
func parseFigure(b []byte) (f figure, ok bool) {
	digits, point := 0, -1
	for i, c := range b {
		switch {
		case '0' <= c && c <= '9':
			f.coefficient = 10*f.coefficient + uint64(c-'0')
			digits++
		case c == '.' && point < 0 && i > 0:
			point = i
		default:
			return figure{}, false
		}
		if digits > maxFigureDigits {
			return figure{}, false
		}
	}
	if point >= 0 {
		places := len(b) - point - 1
		if places == 0 || places > maxPlaces {
			return figure{}, false
		}
		f.places = uint8(places)
	}
	f.given = true
	return f, digits > 0
}

const maxPlaces = 9

// figureFault says what is wrong with a measured value.
func figureFault(i int, text string) error {
	e := &bands.ValueError{Param: fieldNames[1+i], Got: short(text), Allowed: "a plain decimal such as 412.5, not negative, of at most 15 digits"}
	if i == latency {
		e.Allowed = "milliseconds above zero, a plain decimal such as 24.5"
	}
	if head, last, ok := strings.Cut(text, ","); ok && len(last) == 3 && len(head) <= 3 && head != "" && strings.Trim(head+last, "0123456789") == "" {
		e.Allowed, e.Nearest = "without commas", head+last
		return e
	}
	if fixed := strings.Replace(text, ",", ".", 1); fixed != text {
		if d, err := quantity.ParseDecimal(fixed); err == nil && d.Sign() >= 0 {
			e.Allowed, e.Nearest = "a decimal point, not a decimal comma", fixed
		}
	}
	return e
}

// trimmed is a text without white space around it.
func trimmed(b []byte) []byte {
	if n := len(b); n == 0 || plainMark(b[0]) && plainMark(b[n-1]) {
		return b
	}
	return bytes.TrimSpace(b)
}

// plainMark tells whether a byte is an ASCII character and no white space.
func plainMark(c byte) bool { return ' ' < c && c < utf8.RuneSelf }

// withoutDecimalComma is carriers with decimal points in the place of decimal commas,
// if they have any: a comma between digits, behind which no key stands.
func withoutDecimalComma(carriers string) (fixed string, found bool) {
	b := []byte(carriers)
	for i := 1; i+1 < len(b); i++ {
		if b[i] != ',' || !isDigit(b[i-1]) || !isDigit(b[i+1]) {
			continue
		}
		piece := b[i+1:]
		if end := bytes.IndexAny(piece, ",+"); end >= 0 {
			piece = piece[:end]
		}
		if bytes.IndexByte(piece, '=') < 0 {
			b[i], found = '.', true
		}
	}
	return string(b), found
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// short is a text cut to what an error can quote.
func short(s string) string { return cutTo(s, 120) }

// cutTo is a text cut to a number of bytes, at the beginning of a character.
func cutTo(s string, most int) string {
	if len(s) <= most {
		return s
	}
	n := most
	for n > 0 && !utf8.RuneStart(s[n]) {
		n--
	}
	return s[:n] + "…"
}

// counted writes a number with its noun.
func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return strconv.Itoa(n) + " " + noun + "s"
}
