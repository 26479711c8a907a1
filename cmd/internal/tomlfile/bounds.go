package tomlfile

import (
	"bytes"
	"strconv"

	"spectally/bands"
)

// Limits of what a file may hold. None is written by hand that comes near to them; what
// is beyond would take many times its own size to be read.
const (
	maxKey    = 512 // bytes of a key with all its dots, or of a number
	maxNested = 32  // brackets within each other
	maxTables = 10_000
)

// bounds goes through a text before it is parsed, as far as that can be done without
// knowing what it means, and finds where it goes beyond a limit.
type bounds struct {
	data   []byte
	at     int
	nested int
	tables int
}

// check returns the offset of what is beyond a limit and why; nil if nothing is.
func (b *bounds) check() (at int, err error) {
	for b.at < len(b.data) {
		start := b.at
		if text := b.word(); !text && b.at-start > maxKey {
			return start, &bands.ValueError{Param: "key or value", Got: strconv.Itoa(b.at-start) + " bytes", Allowed: "at most " + strconv.Itoa(maxKey)}
		}
		if b.at == len(b.data) {
			return 0, nil
		}
		switch b.data[b.at] {
		case '#':
			b.line()
			continue
		case '[', '{':
			if b.atLineStart() && b.data[b.at] == '[' && !b.inList() {
				b.nested = 0 // a header: the parser says what is not closed above it
				b.tables++
			}
			b.nested++
		case ']', '}':
			b.nested = max(0, b.nested-1)
		}
		switch {
		case b.nested > maxNested:
			return b.at, &bands.ValueError{Param: "nesting", Got: strconv.Itoa(b.nested) + " brackets", Allowed: "at most " + strconv.Itoa(maxNested)}
		case b.tables > maxTables:
			return b.at, &bands.ValueError{Param: "number of tables", Got: strconv.Itoa(b.tables), Allowed: "at most " + strconv.Itoa(maxTables)}
		}
		b.at++
	}
	return 0, nil
}

// inList tells whether the bracket at the start of a line is in a list that is open, and
// no header: as far as can be told, one of a header is followed by a letter or quote.
func (b *bounds) inList() bool {
	rest := bytes.TrimLeft(b.data[b.at:min(len(b.data), b.at+8)], "[ \t")
	return b.nested > 0 && (len(rest) == 0 || !isLetter(rest[0]))
}

func isLetter(c byte) bool { return c == '_' || 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' }

// word goes over a key with its dots and quoted parts, a number, or a text, which is what
// stands in quotes if no dot and no equals sign follows. It tells whether it is a text.
func (b *bounds) word() (text bool) {
	for b.at < len(b.data) {
		switch c := b.data[b.at]; {
		case c == '"' || c == '\'':
			b.quoted(c)
			text = !b.goesOn()
		case isLetter(c) || '0' <= c && c <= '9' || bytes.IndexByte([]byte(".-+:"), c) >= 0:
			b.at++
			text = false
		case (c == ' ' || c == '\t') && (b.goesOn() || b.data[max(0, b.at-1)] == '.'):
			b.at += len(b.data[b.at:]) - len(bytes.TrimLeft(b.data[b.at:], " \t"))
		default:
			return text
		}
	}
	return text
}

// goesOn tells whether the next mark that is no blank joins or ends a key.
func (b *bounds) goesOn() bool {
	rest := bytes.TrimLeft(b.data[b.at:min(len(b.data), b.at+maxKey)], " \t")
	return len(rest) > 0 && (rest[0] == '.' || rest[0] == '=')
}

// quoted goes over a text in quotes, of one line or, in three of them, of several.
func (b *bounds) quoted(quote byte) {
	three := bytes.Repeat([]byte{quote}, 3)
	several := bytes.HasPrefix(b.data[b.at:], three)
	if b.at++; several {
		b.at += 2
	}
	for ; b.at < len(b.data); b.at++ {
		switch c := b.data[b.at]; {
		case c == '\\' && quote == '"':
			b.at = min(b.at+1, len(b.data)-1)
		case c == quote && !several:
			b.at++
			return
		case several && bytes.HasPrefix(b.data[b.at:], three):
			b.at += 3
			return
		case c == '\n' && !several:
			return // the parser says that it is not closed
		}
	}
}

// line goes to the end of the line.
func (b *bounds) line() {
	if n := bytes.IndexByte(b.data[b.at:], '\n'); n >= 0 {
		b.at += n + 1
		return
	}
	b.at = len(b.data)
}

// atLineStart tells whether nothing stands before the mark in its line.
func (b *bounds) atLineStart() bool {
	before := bytes.TrimRight(b.data[max(0, b.at-maxKey):b.at], " \t")
	return len(before) == 0 || before[len(before)-1] == '\n'
}
