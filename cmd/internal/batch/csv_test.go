package batch

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"
)

// csvRow is a row as the form has taken it from a text.
type csvRow struct {
	line   int
	text   string
	fields []string
	reason string
}

// csvRows takes all rows off a text as a worker does.
func csvRows(f *csvForm, text []byte) []csvRow {
	var list []csvRow
	r := row{spans: make([]span, 0, 16)}
	for line := 1; len(text) > 0; {
		n := f.next(text, &r)
		if len(r.text) > 0 || r.reason != "" {
			c := csvRow{line: line, text: string(r.text), reason: r.reason}
			if r.reason == "" {
				if len(r.spans) == 0 {
					r.spans = splitPlain(r.spans, r.text, 0, f.separator)
				}
				for i := range r.spans {
					c.fields = append(c.fields, string(untrimmed(f, &r, i)))
				}
			}
			list = append(list, c)
		}
		line += r.lines
		text = text[n:]
	}
	return list
}

func untrimmed(_ *csvForm, r *row, column int) []byte {
	s := r.spans[column]
	value := r.text[s.begin:s.end]
	if s.escaped {
		value = undoubled(nil, value)
	}
	return value
}

func TestCSVRows(t *testing.T) {
	for _, test := range []struct {
		text string
		want []csvRow
	}{
		{"a,b\nc,d\n", []csvRow{{1, "a,b", []string{"a", "b"}, ""}, {2, "c,d", []string{"c", "d"}, ""}}},
		{"a,b\r\nc,d", []csvRow{{1, "a,b", []string{"a", "b"}, ""}, {2, "c,d", []string{"c", "d"}, ""}}},
		{"\n\r\na\n", []csvRow{{3, "a", []string{"a"}, ""}}},
		{`"a,""b""",c` + "\n", []csvRow{{1, `"a,""b""",c`, []string{`a,"b"`, "c"}, ""}}},
		{"\"a\nb\",c\nd,e\n", []csvRow{{1, "\"a\nb\",c", []string{"a\nb", "c"}, ""}, {3, "d,e", []string{"d", "e"}, ""}}},
		{`"a",` + "\n", []csvRow{{1, `"a",`, []string{"a", ""}, ""}}},
		{`"a",`, []csvRow{{1, `"a",`, []string{"a", ""}, ""}}},
		{"\"a\"\r\n,\"\"\r", []csvRow{{1, `"a"`, []string{"a"}, ""}, {2, `,""`, []string{"", ""}, ""}}},
		// A stray quote costs its own line alone.
		{"5\" pipe,b\nc,d\n", []csvRow{{1, "5\" pipe,b", nil, scanReasons[scanStray]}, {2, "c,d", []string{"c", "d"}, ""}}},
		{"\"a\"x,b\nc,d\n", []csvRow{{1, "\"a\"x,b", nil, scanReasons[scanAfter]}, {2, "c,d", []string{"c", "d"}, ""}}},
		{"\"a,b\nc,d\n", []csvRow{{1, "\"a,b", nil, scanReasons[scanOpen]}, {2, "c,d", []string{"c", "d"}, ""}}},
		{"\"a\",b\rc\n", []csvRow{{1, "\"a\",b\rc", nil, scanReasons[scanCarriage]}}},
		{"\"a\"\rb\n", []csvRow{{1, "\"a\"\rb", nil, scanReasons[scanCarriage]}}},
	} {
		f := &csvForm{separator: ','}
		got := csvRows(f, []byte(test.text))
		if !slices.EqualFunc(got, test.want, func(a, b csvRow) bool {
			return a.line == b.line && a.text == b.text && a.reason == b.reason && slices.Equal(a.fields, b.fields)
		}) {
			t.Errorf("%q:\n got %+v\nwant %+v", test.text, got, test.want)
		}
	}
}

// Whatever the text, it is cut between rows, and rows are what encoding/csv makes of
// it up to the first fault, which both find in the same row. (A carriage return that
// ends no line is a fault here alone.)
func FuzzCSVRows(f *testing.F) {
	for _, s := range []string{
		"a,b\nc,d\n", "\"a\nb\",\"c\"\"d\"\r\n1,2", "a;b\n\"c;d\";e\n", "x,\"y\n", "x\"y\n\n\n1", "\"a\"b\n", "a,\n,b\n,\n", "\"\"\"\"\n\"\"", "\r\n\n\"\r\n\"\r\n",
	} {
		f.Add([]byte(s), byte(0))
		f.Add([]byte(s), byte(1))
	}
	f.Fuzz(func(t *testing.T, text []byte, separator byte) {
		form := &csvForm{separator: []byte{',', ';', '\t', '|'}[separator%4]}
		for i := range text {
			if n := form.cut(text[:i], false); n > i || n > 0 && text[n-1] != '\n' {
				t.Fatalf("%q is cut at %d", text[:i], n)
			}
		}
		lone := bytes.Count(text, []byte("\r")) - bytes.Count(text, []byte("\r\n"))
		if lone > 0 {
			csvRows(form, text) // must come to an end
			return
		}
		got := csvRows(form, text)
		reader := csv.NewReader(bytes.NewReader(text))
		reader.Comma, reader.FieldsPerRecord = rune(form.separator), -1
		for i := 0; ; i++ {
			want, err := reader.Read()
			var fault *csv.ParseError
			switch {
			case err == io.EOF:
				if i != len(got) {
					t.Fatalf("%q: %d rows, want %d", text, len(got), i)
				}
				return
			case errors.As(err, &fault):
				if i >= len(got) || got[i].reason == "" || got[i].line != fault.StartLine {
					t.Fatalf("%q: row %d: %v is not found: %+v", text, i, fault, got)
				}
				return
			case err != nil:
				t.Fatal(err)
			}
			if i >= len(got) || got[i].reason != "" {
				t.Fatalf("%q: row %d is refused: %+v", text, i, got)
			}
			for k := range got[i].fields {
				got[i].fields[k] = strings.ReplaceAll(got[i].fields[k], "\r\n", "\n") // as encoding/csv does
			}
			if !slices.Equal(got[i].fields, want) {
				t.Fatalf("%q: row %d: got %q, want %q", text, i, got[i].fields, want)
			}
		}
	})
}
