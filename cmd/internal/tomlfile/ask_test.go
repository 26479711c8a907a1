package tomlfile

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"spectally/bands"
)

func ExampleParse() {
	f := Parse("pond.toml", []byte("name = \"Pond\"\ndepth = \"deep\"\nfrogs = 3.5\ncolor = \"green\"\n"))
	t := f.Root()
	name, _ := t.Text("name", Required, "a line of text")
	t.Number("depth", Required, 0, 100, "metres")
	t.Whole("frogs", Optional, 0, 1000, "a number of frogs")
	t.Text("colour", Optional, "a line of text")
	t.Finish()
	fmt.Println(name)
	fmt.Println(f.Problems())
	// Output:
	// Pond
	// pond.toml:2: depth "deep": must be metres as a number, without quotes
	// pond.toml:3: frogs "3.5": must be a number of frogs, a whole number from 0 to 1000
	// pond.toml:4: key "color": must be name, depth, frogs, colour; closest is colour
}

// asked reads a document with every method of a table.
func asked(t *Table) map[string]any {
	m := make(map[string]any)
	keep := func(key string, v any, ok bool) {
		if ok {
			m[key] = v
		}
	}
	text, ok := t.Text("text", Optional, "text")
	keep("text", text, ok)
	if p := t.Prose("prose", "text"); p != nil {
		m["prose"] = p
	}
	n, ok := t.Number("number", Optional, -10, 10, "a number")
	keep("number", n.String(), ok)
	n, ok = t.Positive("positive", Optional, 10, "a number")
	keep("positive", n.String(), ok)
	w, ok := t.Whole("whole", Optional, 0, 10, "a number")
	keep("whole", w, ok)
	b, ok := t.Bool("bool")
	keep("bool", b, ok)
	c, ok := t.Choice("choice", "left", "right")
	keep("choice", c, ok)
	s, ok := t.Single("single", Optional, "text or a number")
	keep("single", s, ok)
	w2, ok := t.Moment("moment", Optional, "a time")
	keep("moment", w2, ok)
	l, ok := t.List("list", "texts")
	keep("list", l, ok)
	if sub := t.Sub("sub"); sub != nil {
		m["sub"] = sub.Place
		sub.Finish()
	}
	for _, sub := range t.Subs("subs", "subs", 2) {
		m[sub.Place] = fmt.Sprintf("line %d", sub.Line)
		sub.Finish()
	}
	t.Finish()
	return m
}

func TestAsk(t *testing.T) {
	f := Parse("x.toml", []byte(`text = " one line "
prose = """
One
paragraph.

Another	one.
"""
number = -2.50
positive = +1_0
whole = 10
bool = true
choice = "LEFT"
single = +5
moment = 18:05:00
list = ["a", 2]
[sub]
[[subs]]
[[subs]]
`))
	got := asked(f.Root())
	want := map[string]any{
		"text": "one line", "prose": []string{"One paragraph.", "Another one."}, "number": "-2.50", "positive": "10", "whole": 10, "bool": true,
		"choice": "left", "single": "5", "moment": "18:05:00", "list": []string{"a", "2"}, "sub": "sub", "subs 1": "line 17", "subs 2": "line 18",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if p := f.Problems(); p != nil {
		t.Error(p)
	}
	if !f.Root().Faultless() || !f.Complete() {
		t.Error("a file without problems has faults")
	}
	if f.Root().KindOf("number") != Float || f.Root().KindOf("none") != 0 || f.Root().LineOf("list") != 15 || f.Root().LineOf("none") != 1 {
		t.Error("wrong kind or line")
	}
}

func TestAskOther(t *testing.T) {
	f := Parse("x.toml", []byte("text = \"\"\nprose = [\"a\\n\\n b\", \"\"]\nlist = 5\nsubs = [{}]\nsub = {}\nsingle = \" x \"\n"))
	want := map[string]any{"prose": []string{"a", "b"}, "list": []string{"5"}, "subs 1": "line 4", "sub": "sub", "single": "x"}
	if diff := cmp.Diff(want, asked(f.Root())); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if p := f.Problems(); p != nil {
		t.Error(p)
	}
}

func TestAskWrong(t *testing.T) {
	const long = "abcdefghijabcdefghijabcdefghijabcdefghijabcdefghijabcdefghij"
	for _, test := range []struct{ in, want string }{
		{"text = 1", `text "1": must be text, in quotes`},
		{"text = {}", `text "a table": must be text, in quotes`},
		{"text = 'a\tb'", `text "a\tb": must be one line of text without control characters; this has U+0009`},
		{"text = \"a\u2028b\"", `text "a\u2028b": must be one line of text without control characters; this has U+2028`},
		{"prose = true", `prose "true": must be text, in quotes, or a list of such texts`},
		{"prose = [[]]", `prose "a list": must be a text, in quotes, or a list of such texts`},
		{"number = 10.1", `number "10.1": must be a number from -10 to 10`},
		{"number = -11", `number "-11": must be a number from -10 to 10`},
		{"number = " + strings.Repeat("9", 70), `number "` + strings.Repeat("9", 60) + `…": must be a number as a plain decimal number`},
		{"positive = 0.0", `positive "0.0": must be a number above zero, up to 10`},
		{"positive = 11", `positive "11": must be a number above zero, up to 10`},
		{"positive = inf", `positive "inf": must be a number as a plain decimal number`},
		{"whole = 2.0001", `whole "2.0001": must be a number, a whole number from 0 to 10`},
		{"bool = 1", `bool "1": must be true or false, without quotes`},
		{"choice = 'rihgt'", `choice "rihgt": must be left or right; closest is right`},
		{"choice = 5", `choice "5": must be left or right, in quotes`},
		{"single = []", `single "a list": must be text or a number`},
		{"moment = 5", `moment "5": must be a time`},
		{"list = [1.5]", `list "1.5": must be texts`},
		{"list = 1.5", `list "1.5": must be texts`},
		{"sub = 5", `sub "5": must be a table: [sub] or sub = { … }`},
		{"subs = [5]", `subs "5": must be tables under the header [[subs]]`},
		{"subs = [{}, {}, {}]", `subs "3 tables": must be at most 2`},
		{"subs = [{}, {x = 1}]", `subs 2: key "x": must be `},
		{long + "x = 1", `key "` + long + `…": must be text, prose, number, positive, whole, bool, choice, single, moment, list, sub, subs`},
		{`"a\nb" = 1`, `key "a\nb": must be text, prose, number, positive, whole, bool, choice, single, moment, list, sub, subs`},
	} {
		f := Parse("x.toml", []byte(test.in))
		asked(f.Root())
		if got, want := f.Problems().Error(), "x.toml:1: "+test.want; got != want {
			t.Errorf("%s\n got %s\nwant %s", test.in, got, want)
		}
		if f.Root().Faultless() && !strings.Contains(test.want, "subs 2") {
			t.Errorf("%s: no fault counted", test.in)
		}
	}
}

func TestRequired(t *testing.T) {
	f := Parse("", []byte("a = ''\n"))
	root := f.Root()
	root.Text("a", Required, "text")
	root.Single("b", Required, "text")
	root.Conflict("a", "a beside b", "one of the two")
	root.Report("", &SyntaxError{"odd"})
	want := `1: a "": must be text
1: no b given: must be text
1: a beside b: must be one of the two
1: not TOML: odd`
	if got := f.Problems().Error(); got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
	var missing *MissingError
	if !errors.As(f.Problems(), &missing) || missing.Key != "b" {
		t.Errorf("no *MissingError in %v", f.Problems())
	}
}

// TestAfterFault: what stands under the next header is read all the same, but nothing
// is said to be missing.
func TestAfterFault(t *testing.T) {
	f := Parse("x.toml", []byte("[[subs]]\nx = \n\n[[subs]]\nnone = 1\n[sub\n[[subs]]\n"))
	asked(f.Root())
	f.Root().Text("needed", Required, "text")
	want := `x.toml:2: not TOML: unexpected character U+000A at start of value
x.toml:5: subs 2: key "none": must be 
x.toml:6: not TOML: expected ']' to close table name
x.toml:7: subs "3 tables": must be at most 2`
	if got := f.Problems().Error(); got != want || f.Complete() {
		t.Errorf("got %s\nwant %s", got, want)
	}
}

func TestWholeFile(t *testing.T) {
	for _, test := range []struct{ in, want string }{
		{strings.Repeat("#", MaxSize+1), `x.toml:1: size of the file "1048577 bytes": must be at most 1 MiB (1048576 bytes)`},
		{"a = 1\nb = 'caf\xe9'\n", `x.toml:2: text "byte 0xE9": must be UTF-8, which a TOML file is in`},
		{"a = " + strings.Repeat("[", 20000), `x.toml:1: nesting "33 brackets": must be at most 32`},
		{"a = 1\n[a]\nb = 1\n", `x.toml:2: key "a": must be given once: it is already on line 1`},
		{"a = 1\n[a.b]\n", `x.toml:2: key "a": must be given once: it is already on line 1`},
		{"a = 1\n[[a.b]]\n", `x.toml:2: key "a": must be given once: it is already on line 1`},
		{"a = 1\na.b = 1\n", `x.toml:2: key "a": must be given once: it is already on line 1`},
		{"a = {}\n[[a]]\n", `x.toml:2: key "a": must be given once: it is already on line 1`},
		{"a = 1\n", ""},
	} {
		f := Parse("x.toml", []byte(test.in))
		if got := f.Problems().Error(); got != test.want {
			t.Errorf("got %s\nwant %s", got, test.want)
		}
	}
}

func TestProblems(t *testing.T) {
	f := Parse("x.toml", []byte("b = 1\na = 2\n"))
	f.Report(9, "somewhere", "a", &bands.ValueError{Param: "other", Got: "2", Allowed: "3"})
	f.Root().Refuse("b", "1", "2")
	p := f.Problems()
	if len(p) != 2 || len(p.Unwrap()) != 2 || p[0].Line != 1 || p[1].Line != 9 {
		t.Fatalf("problems %v", p)
	}
	if got, want := p[1].Error(), `x.toml:9: somewhere, a: other "2": must be 3`; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	var v *bands.ValueError
	if !errors.As(p, &v) || v.Param != "b" || !errors.Is(p, v) {
		t.Errorf("no *bands.ValueError about b in %v", p)
	}
	if Kind(99).String() != "" || Date.String() != "a date or time" {
		t.Error("wrong name of a kind")
	}
	if Nearest("x", nil) != "" || Nearest("weather", []string{"title"}) != "" || Nearest("Titel", []string{"date", "title"}) != "title" {
		t.Error("wrong nearest word")
	}
}

// TestLines: every key has the line it stands on, in files with either line ending.
func TestLines(t *testing.T) {
	for _, end := range []string{"\n", "\r\n"} {
		text := strings.ReplaceAll("a = 1\n# two\nb = [\n 1,\n 2]\nc = '''\nx\n'''\n\n[d] # ten\n  e.f = 1\ng = { h = 1, i = 2 }\n[[j]]\n[[j]]\nk = 1", "\n", end)
		f := Parse("x", []byte(text))
		if p := f.Problems(); p != nil {
			t.Fatal(p)
		}
		r := f.Root()
		d := r.Sub("d")
		js := r.Subs("j", "j", 9)
		for _, test := range []struct {
			name      string
			got, want int
		}{
			{"a", r.LineOf("a"), 1}, {"b", r.LineOf("b"), 3}, {"c", r.LineOf("c"), 6}, {"d", r.LineOf("d"), 10}, {"d", d.Line, 10},
			{"d.e.f", d.Sub("e").LineOf("f"), 11}, {"d.g.i", d.Sub("g").LineOf("i"), 12}, {"j", js[0].Line, 13}, {"j", js[1].Line, 14}, {"k", js[1].LineOf("k"), 15},
		} {
			if test.got != test.want {
				t.Errorf("%s on line %d, want %d", test.name, test.got, test.want)
			}
		}
	}
}
