package tomlfile

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2/unstable"

	"spectally/bands"
)

// MaxSize is the largest file that is read, in bytes.
const MaxSize = 1 << 20

// File is a file that has been parsed, and the problems found in it so far.
type File struct {
	name     string
	lines    []int // where each line begins
	root     *Table
	problems Problems
	broken   bool // some of it could not be parsed
}

// Parse reads a TOML file. Faults of its form become problems; what stands under
// the next header after such a fault is read all the same. The name is for messages
// alone.
func Parse(name string, data []byte) *File {
	f := &File{name: name}
	f.root = f.newTable(1)
	if len(data) > MaxSize {
		f.fault(1, &bands.ValueError{Param: "size of the file", Got: strconv.Itoa(len(data)) + " bytes", Allowed: "at most 1 MiB (1048576 bytes)"})
		return f
	}
	data = slices.Clip(bytes.TrimPrefix(data, []byte("\ufeff")))
	f.lines = append(f.lines, 0)
	for i, c := range data {
		if c == '\n' {
			f.lines = append(f.lines, i+1)
		}
	}
	if i := invalidUTF8(data); i >= 0 {
		f.fault(f.lineOf(i), &bands.ValueError{Param: "text", Got: fmt.Sprintf("byte 0x%02X", data[i]), Allowed: "UTF-8, which a TOML file is in"})
		return f
	}
	if at, err := (&bounds{data: data}).check(); err != nil {
		f.fault(f.lineOf(at), err)
		return f
	}
	b := builder{file: f, current: f.root}
	for b.base < len(data) {
		b.parser.Reset(slices.Clip(data[b.base:]))
		for b.parser.NextExpression() {
			b.expression(b.parser.Expression())
		}
		err := b.parser.Error()
		if err == nil {
			break
		}
		at := b.base
		var p *unstable.ParserError
		if errors.As(err, &p) {
			at += int(b.parser.Range(p.Highlight).Offset)
		}
		f.fault(f.lineOf(at), &SyntaxError{Message: err.Error() + hint(data, at)})
		b.base = f.nextHeader(data, at)
	}
	return f
}

// hint says what is most likely meant by a line that begins a value with a number and does
// not end with it; empty for another fault.
func hint(data []byte, at int) string {
	at = min(at, len(data))
	line := data[bytes.LastIndexByte(data[:at], '\n')+1:]
	line, _, _ = bytes.Cut(line, []byte("\n"))
	_, value, ok := strings.Cut(string(line), "=")
	value, _, _ = strings.Cut(value, "#")
	value = strings.TrimSpace(value)
	rest := strings.TrimLeft(value, "+-.0123456789")
	switch {
	case !ok || rest == value || rest == "":
		return ""
	case rest[0] == ',' && len(rest) > 1 && '0' <= rest[1] && rest[1] <= '9':
		return "; numbers have a decimal point, such as 58.4"
	}
	return "; text and figures with their unit stand in quotes: " + strconv.Quote(Shorten(value))
}

// SyntaxError says where a file is not TOML.
type SyntaxError struct{ Message string }

// Error writes the error on one line.
func (e *SyntaxError) Error() string { return "not TOML: " + e.Message }

func invalidUTF8(data []byte) int {
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n <= 1 {
			return i
		}
		i += n
	}
	return -1
}

// fault reports what keeps part of the file from being read.
func (f *File) fault(line int, err error) {
	f.broken = true
	f.problems = append(f.problems, Problem{File: f.name, Line: line, Err: err})
}

// twice reports a key that is there already.
func (f *File) twice(k key, line int) {
	f.fault(k.line, &bands.ValueError{Param: "key", Got: Shorten(k.name), Allowed: "given once: it is already on line " + strconv.Itoa(line)})
}

// lineOf is the line of an offset.
func (f *File) lineOf(offset int) int {
	i, found := slices.BinarySearch(f.lines, offset)
	if found {
		return i + 1
	}
	return i
}

// nextHeader is where the first line below an offset begins that starts with a
// bracket; the end of the data if there is none.
func (f *File) nextHeader(data []byte, offset int) int {
	for line := f.lineOf(offset); line < len(f.lines); line++ {
		if start := f.lines[line]; bytes.HasPrefix(bytes.TrimLeft(data[start:], " \t"), []byte("[")) {
			return start
		}
	}
	return len(data)
}

// Root is the table of the file as a whole.
func (f *File) Root() *Table { return f.root }

// Complete tells whether the whole file could be parsed. Where it could not,
// something may be missing that is there.
func (f *File) Complete() bool { return !f.broken }

// Problems returns what has been found wrong, in order of line; nil if nothing was.
func (f *File) Problems() Problems {
	f.problems.sort()
	return f.problems
}

// Report adds a problem.
func (f *File) Report(line int, place, key string, err error) {
	f.problems = append(f.problems, Problem{File: f.name, Line: line, Place: place, Key: key, Err: err})
}
