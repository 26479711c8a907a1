package batch

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
	"unicode/utf8"
)

// jsonForm reads JSON lines: an object in each.
type jsonForm struct {
	keys  map[string]jsonKey
	style style
}

// jsonKey is what a key of a row means.
type jsonKey uint8

// The keys that matter. The zero jsonKey is any other.
const (
	keyCarriers jsonKey = 1
	keyFigures  jsonKey = 2                                 // the first of the measured values
	keyAnswer   jsonKey = keyFigures + jsonKey(figureCount) // one that is going to be added
)

// cut implements rowForm.
func (f *jsonForm) cut(b []byte, final bool) int {
	if final {
		return len(b)
	}
	return bytes.LastIndexByte(b, '\n') + 1
}

// next implements rowForm.
func (f *jsonForm) next(b []byte, r *row) int {
	r.reason, r.lines = "", 1
	n := bytes.IndexByte(b, '\n') + 1
	if n == 0 {
		n = len(b)
	}
	r.text = bytes.Trim(b[:n], " \t\r\n")
	return n
}

// fields implements rowForm.
func (f *jsonForm) fields(r *row, m marks) bool {
	r.reason = objectFault(r.text, m)
	return r.reason == "" && f.read(r)
}

// objectFault is the reason why a line is no object; empty if it is one.
func objectFault(t []byte, m marks) string {
	switch {
	case m.nul && bytes.IndexByte(t, 0) >= 0:
		return reasonNUL
	case t[0] != '{' || !json.Valid(t):
		return jsonFault(t)
	case !utf8.Valid(t):
		return "not UTF-8, which JSON must be"
	}
	return ""
}

// jsonFault says what is wrong with a line.
func jsonFault(t []byte) string {
	var v map[string]json.RawMessage
	err := json.Unmarshal(t, &v)
	if err == nil || json.Valid(t) {
		return "not an object: must be one JSON object a line"
	}
	return "not JSON: " + err.Error()
}

// members hands out the members of an object that is valid JSON, each key in its
// quotes, until the function returns false; false then.
func members(object []byte, visit func(key, value []byte) bool) bool {
	for i := 1; ; {
		i = skipBlanks(object, i)
		if object[i] == '}' {
			return true
		}
		if object[i] == ',' {
			i = skipBlanks(object, i+1)
		}
		end := skipValue(object, i)
		key := object[i:end]
		begin := skipBlanks(object, skipBlanks(object, end)+1)
		i = skipValue(object, begin)
		if !visit(key, object[begin:i]) {
			return false
		}
	}
}

// read takes the fields from an object that is valid JSON.
func (f *jsonForm) read(r *row) bool {
	r.carriers = nil
	var values [keyAnswer][]byte
	good := members(r.text, func(quoted, value []byte) bool {
		switch key := findKey(f.keys, quoted); {
		case key == 0:
		case key == keyAnswer:
			r.reason = "the row has a key that is to be added: --prefix puts something before the names of what is added"
		case values[key] != nil:
			r.reason = twice(fieldNames[key-keyCarriers])
		default:
			values[key] = value
		}
		return r.reason == ""
	})
	if !good {
		return false
	}
	carriers := values[keyCarriers]
	if len(carriers) > 0 && carriers[0] != '"' && !isNull(carriers) {
		r.reason = fieldCarriers + " " + strconv.Quote(short(string(carriers))) + ": must be a JSON string"
		return false
	}
	r.carriers = r.unquoted(carriers, 0)
	for i := range figureCount {
		if !r.measure(i, r.unquoted(values[keyFigures+jsonKey(i)], 1+i)) {
			return false
		}
	}
	return true
}

func twice(key string) string { return "the key of " + key + " stands in the row twice" }

// findKey finds a key that stands in quotes; zero if it is not there.
func findKey[T any](keys map[string]T, quoted []byte) T {
	if bytes.IndexByte(quoted, '\\') >= 0 {
		var s string
		if err := json.Unmarshal(quoted, &s); err == nil {
			return keys[s]
		}
	}
	return keys[string(quoted[1:len(quoted)-1])]
}

// keyed are the fields of JSON lines by their keys.
type keyed struct {
	places map[string]int // of the fields, by key, counted from 1
	values [][]byte
}

// read finds the fields of the row that next has taken.
func (k *keyed) read(r *row, m marks) {
	clear(k.values)
	if r.reason = objectFault(r.text, m); r.reason != "" {
		return
	}
	members(r.text, func(quoted, value []byte) bool {
		i := findKey(k.places, quoted) - 1
		switch {
		case i < 0:
		case k.values[i] != nil:
			r.reason = twice(string(quoted[1 : len(quoted)-1]))
		default:
			k.values[i] = unquoted(value, nil)
		}
		return r.reason == ""
	})
}

func isNull(value []byte) bool { return len(value) > 0 && value[0] == 'n' }

// unquoted is the text of a string, or the number as it stands; nil for null.
func (r *row) unquoted(value []byte, buffer int) []byte {
	return unquoted(value, &r.scratch[buffer])
}

// unquoted puts the text of a string with escapes into a buffer, if there is one.
func unquoted(value []byte, buffer *[]byte) []byte {
	switch {
	case len(value) == 0 || isNull(value):
		return nil
	case value[0] != '"':
		return value
	case bytes.IndexByte(value, '\\') < 0:
		return trimmed(value[1 : len(value)-1])
	}
	var s string
	if json.Unmarshal(value, &s) != nil {
		return value
	}
	if buffer == nil {
		return trimmed([]byte(s))
	}
	*buffer = append((*buffer)[:0], s...)
	return trimmed(*buffer)
}

func skipBlanks(t []byte, i int) int {
	for t[i] == ' ' || t[i] == '\t' || t[i] == '\r' {
		i++
	}
	return i
}

// skipValue returns the end of the value that begins at i, in valid JSON.
func skipValue(t []byte, i int) int {
	depth := 0
	for {
		switch t[i] {
		case '"':
			for i++; t[i] != '"'; i++ {
				if t[i] == '\\' {
					i++
				}
			}
			i++
		case '{', '[':
			depth++
			i++
		case '}', ']':
			depth--
			i++
		case ' ', '\t', '\r', ',', ':':
			i++ // inside an object or a list
		default: // a number, true, false or null
			for i++; !isEnd(t[i]); i++ {
			}
		}
		if depth == 0 {
			return i
		}
	}
}

func isEnd(c byte) bool {
	switch c {
	case ',', '}', ']', ':', ' ', '\t', '\r':
		return true
	}
	return false
}

// answered implements rowForm.
func (f *jsonForm) answered(dst []byte, r *row, a *answer) []byte {
	dst = append(dst, bytes.TrimRight(r.text[:len(r.text)-1], " \t\r")...) // never empty: it has carriers
	dst = append(dst, a.columns...)
	dst = f.style.measured(dst, r, a)
	return append(dst, '}', '\n')
}

// rejected implements rowForm.
func (f *jsonForm) rejected(dst []byte, r *Reject) []byte {
	shown := *r
	valid := utf8.ValidString(r.Row)
	if !valid {
		shown.Row = ""
	}
	text, err := json.Marshal(shown)
	if err != nil {
		panic("batch: a reject that is no JSON: " + err.Error()) // a number and two strings always are
	}
	if !valid { // the row comes last
		text = append(quotedAsItIs(bytes.TrimSuffix(text, []byte("\"\"}")), r.Row), '}')
	}
	return append(append(dst, text...), '\n')
}

// quotedAsItIs appends a text that is not in UTF-8 as a JSON string with the bytes that
// it has: what was read can be put right then, though a strict reader refuses it.
func quotedAsItIs(dst []byte, s string) []byte {
	dst = append(dst, '"')
	for i := range len(s) {
		switch c := s[i]; {
		case c == '"' || c == '\\':
			dst = append(dst, '\\', c)
		case c < ' ' || c == 0x7f:
			dst = fmt.Appendf(dst, "\\u%04x", c)
		default:
			dst = append(dst, c)
		}
	}
	return append(dst, '"')
}

// headers implements rowForm.
func (f *jsonForm) headers() (output, rejects []byte) { return nil, nil }
