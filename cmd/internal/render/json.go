package render

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"iter"
	"strconv"
	"unicode/utf8"
)

// writeJSON writes a value with two blanks of indentation, characters as they are,
// and numbers in their shortest form without an exponent. A list of numbers stands
// on one line.
func writeJSON(b *bytes.Buffer, value func() any) error {
	if value == nil {
		return fmt.Errorf("render: the answer has no JSON form")
	}
	var raw bytes.Buffer
	if err := encode(&raw, value()); err != nil {
		return err
	}
	b.Write(indented(nil, raw.Bytes(), 0))
	b.WriteByte('\n')
	return nil
}

// encode writes a value as JSON on one line, without a line end.
func encode(b *bytes.Buffer, value any) error {
	e := json.NewEncoder(b)
	e.SetEscapeHTML(false)
	if err := e.Encode(value); err != nil {
		return fmt.Errorf("render: %w", err)
	}
	text := escaped(withoutExponents(bytes.TrimSuffix(b.Bytes(), []byte("\n"))))
	b.Reset()
	b.Write(text)
	return nil
}

// escaped writes as escapes what would steer a terminal or the reading direction:
// encoding/json does so below U+0020 alone.
func escaped(text []byte) []byte {
	if bytes.IndexFunc(text, steers) < 0 {
		return text
	}
	var out []byte
	for _, r := range string(text) {
		if steers(r) {
			out = fmt.Appendf(out, "\\u%04x", r)
		} else {
			out = utf8.AppendRune(out, r)
		}
	}
	return out
}

// Stream writes values as a JSON array, each as it comes, so that an array of any
// length takes no more room than one of its elements.
func Stream(w io.Writer, values iter.Seq[any]) error {
	out := bufio.NewWriterSize(w, 1<<16)
	var raw bytes.Buffer
	var text []byte
	between := "[\n"
	for v := range values {
		raw.Reset()
		if err := encode(&raw, v); err != nil {
			return err
		}
		text = append(append(text[:0], between...), blanks(jsonIndent)...)
		text = indented(text, raw.Bytes(), 1)
		if _, err := out.Write(text); err != nil {
			return err
		}
		between = ",\n"
	}
	end := "\n]\n"
	if between == "[\n" {
		end = "[]\n"
	}
	if _, err := out.WriteString(end); err != nil {
		return err
	}
	return out.Flush()
}

const jsonIndent = 2

// indented appends a JSON text that stands on one line, broken into lines. The text
// starts at a depth; its first line is not indented.
func indented(out, text []byte, depth int) []byte {
	line := func() {
		out = append(out, '\n')
		for range depth * jsonIndent {
			out = append(out, ' ')
		}
	}
	for i := 0; i < len(text); {
		j := i + 1
		switch c := text[i]; c {
		case '"':
			j = endOfString(text, i)
			out = append(out, text[i:j]...)
		case '[', '{':
			if n := numbersEnd(text, i); n > 0 {
				out = append(out, bytes.ReplaceAll(text[i:n], []byte(","), []byte(", "))...)
				j = n
				break
			}
			out = append(out, c)
			depth++
			line()
		case ']', '}':
			depth--
			line()
			out = append(out, c)
		case ',':
			out = append(out, c)
			line()
		case ':':
			out = append(out, ':', ' ')
		default:
			out = append(out, c)
		}
		i = j
	}
	return out
}

// numbersEnd returns where a list of numbers alone that begins at i ends, or an
// empty list or object; 0 if it is anything else.
func numbersEnd(text []byte, i int) int {
	for j := i + 1; ; j++ {
		switch c := text[j]; {
		case c == ']' || c == '}':
			return j + 1
		case c != ',' && !isNumberByte(c):
			return 0
		}
	}
}

// endOfString returns where a string that begins at i ends.
func endOfString(text []byte, i int) int {
	for i++; text[i] != '"'; i++ {
		if text[i] == '\\' {
			i++
		}
	}
	return i + 1
}

// withoutExponents rewrites the numbers of a JSON text that have an exponent.
// encoding/json uses one below 1e-6 and from 1e21 on.
func withoutExponents(text []byte) []byte {
	if bytes.IndexByte(text, 'e') < 0 && bytes.IndexByte(text, 'E') < 0 {
		return text
	}
	out := make([]byte, 0, len(text))
	for i := 0; i < len(text); {
		j := i
		switch c := text[i]; {
		case c == '"':
			j = endOfString(text, i)
		case c == '-' || c >= '0' && c <= '9':
			for j < len(text) && isNumberByte(text[j]) {
				j++
			}
			if bytes.ContainsAny(text[i:j], "eE") {
				if f, err := strconv.ParseFloat(string(text[i:j]), 64); err == nil {
					out = strconv.AppendFloat(out, f, 'f', -1, 64)
					i = j
					continue
				}
			}
		default:
			j++
		}
		out = append(out, text[i:j]...)
		i = j
	}
	return out
}

func isNumberByte(c byte) bool {
	return c >= '0' && c <= '9' || c == '-' || c == '+' || c == '.' || c == 'e' || c == 'E'
}

// FindingValue is a finding as JSON shows it.
type FindingValue struct {
	Severity Severity `json:"severity"`
	Rule     string   `json:"rule"`
	Carrier  *int     `json:"carrier"` // counted from 1; null for the combination
	Message  string   `json:"message"`
	Source   Source   `json:"source"`
}

// Values are the findings as JSON shows them.
func (b Findings) Values() []FindingValue {
	list := make([]FindingValue, len(b))
	for i, f := range b {
		list[i] = FindingValue{Severity: f.Severity, Rule: f.Rule, Message: f.Message, Source: f.Source}
		if f.Number > 0 {
			list[i].Carrier = &b[i].Number
		}
	}
	return list
}
