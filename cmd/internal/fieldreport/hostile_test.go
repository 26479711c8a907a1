package fieldreport

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"reflect"
	"strings"
	"testing"
	"unicode"

	"golang.org/x/net/html"

	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/htmlcheck"
	"spectally/cmd/internal/render"
)

// typedLog has the word TYPED in every place where a log takes text.
const typedLog = `
title = "TYPED"
date = 2031-05-14
place = "TYPED"
author = "TYPED"
notes = ["TYPED", "TYPED"]

[[network]]
name = "TYPED"
device = { name = "TYPED" }
carriers = "B3:20@1300,pci=1,rsrp=-80 + n78:80@643334,pci=2,rsrp=-90"
notes = "TYPED"

[[network.radio]]
name = "TYPED"
ports = "8T8R"
notes = "TYPED"

[[network.radio]]
ports = "2T2R"
notes = "TYPED"

[[network.run]]
down = 612
where = "TYPED"
when = "18:05"
notes = "TYPED"

[[network.transfer]]
size = "1 GB"
seconds = 30
where = "TYPED"
notes = "TYPED"

[[network]]
name = "TYPED too"
carriers = "B3:20@1300,pci=1"

[[claim]]
text = "TYPED"
network = "TYPED"
total_mhz = 100

[[claim]]
text = "TYPED"
network = "TYPED too"
peak_mbps = 9000
`

// typed is the report of the log with a text in the place of the word. It goes past the
// reader of logs, which would refuse some.
func typed(t *testing.T, text string) *fieldlog.Report {
	t.Helper()
	r := read(t, typedLog)
	replaced := replace(reflect.ValueOf(r).Elem(), text)
	if replaced < 20 {
		t.Fatalf("only %d texts are typed", replaced)
	}
	return r
}

func replace(v reflect.Value, text string) (n int) {
	switch v.Kind() {
	case reflect.String:
		if v.CanSet() && strings.Contains(v.String(), "TYPED") {
			v.SetString(strings.ReplaceAll(v.String(), "TYPED", text))
			return 1
		}
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			return replace(v.Elem(), text)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			n += replace(v.Field(i), text)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			n += replace(v.Index(i), text)
		}
	}
	return n
}

var hostile = []string{
	`<script>alert(1)</script>`, `</title><script>alert(1)</script>`, `</svg><img src=x onerror=alert(1)>`, `</style>`, `"><svg onload=alert(1)>`, `' onmouseover='alert(1)`,
	`<!--`, `]]>`, `&lt;b&gt;`, `&#60;b&#62;`, `</details></figure></main></body>`, `<a href="http://example.org">x</a>`, `http://example.org/`, `[x](http://example.org)`,
	"`code`", `*stars* _lines_ ~~gone~~`, `| a | b |`, `# head`, `> quote`, `1. one`, `=HYPERLINK("http://example.org")`, `+1+1`, `-2+3`, `@SUM(A1)`, "\t=1",
	"\x1b[31mred\x1b[0m", "\x1b]0;title\x07", "a\x00b", "a\rb", "line\nbreak", "a\u202eb", "a\u2066b", "a\u2028b", "\xff\xfe", "東京 e\u0301 📡", strings.Repeat("long ", 80), strings.Repeat("w", 400),
}

// What a user types changes no element of the page, ends no line and steers no
// terminal, becomes no formula, and stays itself in JSON.
func TestHostileLogs(t *testing.T) {
	parse := func(text string) *html.Node {
		root, err := html.Parse(bytes.NewReader(show(t, Answer(typed(t, text)), render.Options{Format: render.HTML, Explain: true})))
		if err != nil {
			t.Fatal(err)
		}
		return root
	}
	want := htmlcheck.Structure(parse("plain"))
	lines := strings.Count(string(show(t, Answer(typed(t, "plain")), render.Options{Format: render.Markdown})), "\n")
	for _, s := range hostile {
		if got := htmlcheck.Structure(parse(s)); got != want {
			t.Errorf("%q changes the elements of the page", s)
		}
		a := Answer(typed(t, s))
		markdown := string(show(t, a, render.Options{Format: render.Markdown}))
		if n := strings.Count(markdown, "\n"); n != lines {
			t.Errorf("%q makes %d lines of Markdown of %d", s, n, lines)
		}
		for _, text := range []string{markdown, string(show(t, a, render.Options{Format: render.Text}))} {
			if i := strings.IndexFunc(text, func(r rune) bool { return r != '\n' && unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) }); i >= 0 {
				t.Errorf("%q comes through as %q", s, text[i:i+1])
			}
		}
		rows, err := csv.NewReader(bytes.NewReader(show(t, a, render.Options{Format: render.CSV}))).ReadAll()
		if err != nil || len(rows) != 3 {
			t.Fatalf("%q: %d rows of CSV, %v", s, len(rows), err)
		}
		if cell := rows[1][0]; cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
			t.Errorf("%q begins a cell of CSV: %q", s, cell)
		}
		var back struct {
			Title string `json:"title"`
		}
		if err := json.Unmarshal(show(t, a, render.Options{Format: render.JSON}), &back); err != nil || back.Title != string([]rune(s)) {
			t.Errorf("%q comes back from JSON as %q, %v", s, back.Title, err)
		}
	}
}
