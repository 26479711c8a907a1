package render

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
)

// writeJSON writes a value with two blanks of indentation, characters as they are,
// and numbers in their shortest form without an exponent.
func writeJSON(b *bytes.Buffer, value func() any) error {
	if value == nil {
		return fmt.Errorf("render: the answer has no JSON form")
	}
	var raw bytes.Buffer
	e := json.NewEncoder(&raw)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(value()); err != nil {
		return fmt.Errorf("render: %w", err)
	}
	b.Write(withoutExponents(raw.Bytes()))
	return nil
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
			for j++; text[j] != '"'; j++ {
				if text[j] == '\\' {
					j++
				}
			}
			j++
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
