package imports

import (
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// expression compiles a regular expression when it is first used.
func expression(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}

// unknown is the value for a figure that a modem does not have: the largest of 32 bits.
const unknown = 2147483647

// fields is a text in which values stand behind names, as "name=value" or "name = value".
type fields string

// value returns the text behind a name; false if the name is not there as a whole word.
func (f fields) value(name string) (string, bool) {
	s := string(f)
	for at := 0; ; {
		i := strings.Index(s[at:], name)
		if i < 0 {
			return "", false
		}
		i += at
		at = i + len(name)
		if i > 0 && isWord(s[i-1]) {
			continue
		}
		rest := strings.TrimLeft(s[at:], " ")
		if !strings.HasPrefix(rest, "=") {
			continue
		}
		rest = strings.TrimLeft(rest[1:], " ")
		return rest[:endOfValue(rest)], true
	}
}

func isWord(c byte) bool {
	return c == '_' || '0' <= c && c <= '9' || 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z'
}

// endOfValue is where a value ends: at a blank, a comma or a closing bracket outside
// brackets of its own.
func endOfValue(s string) int {
	depth := 0
	for i := range len(s) {
		switch s[i] {
		case '{', '[', '(':
			depth++
		case '}', ']', ')':
			if depth == 0 {
				return i
			}
			depth--
		case ' ', ',', '\n', '\r', '\t':
			if depth == 0 {
				return i
			}
		}
	}
	return len(s)
}

// number reads a whole number behind the first of some names that is there; ok is false if
// none is, or if the modem does not know it.
func (f fields) number(names ...string) (n int64, ok bool) {
	for _, name := range names {
		v, there := f.value(name)
		if !there {
			continue
		}
		n, err := strconv.ParseInt(v, 10, 64)
		return n, err == nil && n != unknown && n != -unknown-1
	}
	return 0, false
}

// items cuts a list of the form "[{…}, {…}]" behind a name, or of "[Name:{…}, …]", into
// its elements by matching brackets. whole is false if the list is cut short.
func items(s string) (list []string, whole bool) {
	if !strings.HasPrefix(s, "[") {
		return nil, false
	}
	depth, start := 0, 1
	for i := range len(s) {
		switch s[i] {
		case '{', '[', '(':
			depth++
		case '}', ']', ')':
			depth--
			if depth == 0 {
				return appendItem(list, s[start:i]), true
			}
		case ',':
			if depth == 1 {
				list, start = appendItem(list, s[start:i]), i+1
			}
		}
	}
	return list, false
}

func appendItem(list []string, s string) []string {
	if s = strings.TrimSpace(s); s != "" {
		list = append(list, s)
	}
	return list
}
