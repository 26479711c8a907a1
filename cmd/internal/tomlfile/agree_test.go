package tomlfile

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
)

// documents are TOML of every shape, good and bad, after the examples of the TOML
// specification.
var documents = []string{
	"",
	"a = 1\nb = 'x'\n",
	"\ufeffa = 1",
	"a.b = 1\na.c = 2\n",
	"a.b = 1\na.b.c = 2\n",
	"a = 1\na = 2\n",
	"a = 1\n\"a\" = 2\n",
	"[a]\nb = 1\n[a.c]\nd = 2\n",
	"[a.c]\nd = 2\n[a]\nb = 1\n",
	"[a]\n[a]\n",
	"[a.b]\n[a]\nb = 1\n",
	"[a.b.c]\nz = 9\n[a]\nb.c.t = 1\n",
	"[a.b.c]\nz = 9\n[a]\nb.t = 1\n",
	"[a]\nb.c = 1\n[a.b]\n",
	"[a]\nb.c = 1\n[a.b.d]\ne = 1\n",
	"[[a]]\nb = 1\n[[a]]\nb = 2\n[a.c]\nd = 3\n[[a.e]]\nf = 4\n",
	"[[a]]\n[a]\n",
	"[a]\n[[a]]\n",
	"a = []\n[[a]]\n",
	"a = [{b = 1}, {b = 2}]\n[[a]]\nb = 3\n",
	"a = {b = 1}\n[a.c]\n",
	"a = {b = 1}\na.c = 2\n",
	"a = {b.c = 1, b.d = 2}\n",
	"a = {b = 1, b = 2}\n",
	"a = {b.c = 1}\n[a.b]\nd = 1\n",
	"[a.b]\nc = 1\n[[a.b]]\n",
	"[[a.b]]\nc = 1\n[a]\nd = 1\n",
	"a = [1, 'x', [2.5, true], {b = 2031-05-14}]\n",
	"a = \"\"\"\nlong\ntext\"\"\"\nb = '''\n'x'\n'''\n",
	"a = [\n  1, # one\n  2,\n]\n",
	"a = 1_000\nb = 0x1F\nc = -1e3\nd = inf\n",
	"a = 2031-05-14T18:05:00Z\nb = 18:05:00\n",
	"a = \n", "[a\n", "[[a]\n", "a = \"x\n", "a 1\n", "= 1\n", "a = 1 b = 2\n", "\x00", "a = '\x07'\n", "[]\n", "a = 01\n", "a = [1,,2]\n", "a = tru\n",
}

// whole is the tree as plain values.
func (t *Table) whole() map[string]any {
	m := make(map[string]any)
	for i := range t.entries {
		m[t.entries[i].key] = t.entries[i].value.whole()
	}
	return m
}

func (v *Value) whole() any {
	switch v.Kind {
	case SubTable:
		return v.table.whole()
	case Array:
		list := make([]any, len(v.Items))
		for i, item := range v.Items {
			list[i] = item.whole()
		}
		return list
	case String:
		return v.Text
	case Bool:
		return v.Text == "true"
	}
	return "value" // numbers and dates are kept as they are written
}

// flatten makes the values of a decoder comparable with those of whole.
func flatten(x any) any {
	switch v := x.(type) {
	case map[string]any:
		m := make(map[string]any, len(v))
		for k, y := range v {
			m[k] = flatten(y)
		}
		return m
	case []any:
		list := make([]any, len(v))
		for i, y := range v {
			list[i] = flatten(y)
		}
		return list
	case string, bool:
		return v
	}
	return "value"
}

// agree compares what Parse makes of a document with what the decoder of the library
// makes of it. Parse looks at the form of numbers and dates, and not whether their
// value exists, so it may accept more.
func agree(t *testing.T, data []byte) {
	t.Helper()
	f := Parse("x.toml", data)
	var want map[string]any
	err := toml.Unmarshal(data, &want)
	if err == nil {
		if p := f.Problems(); len(p) > 0 {
			t.Fatalf("the decoder takes %q, Parse says %v", data, p)
		}
		if got, want := fmt.Sprint(f.Root().whole()), fmt.Sprint(flatten(want)); got != want {
			t.Fatalf("%q is %s, want %s", data, got, want)
		}
		return
	}
	if f.Complete() && !onlyValues(err) {
		t.Fatalf("the decoder refuses %q (%v), Parse takes it", data, err)
	}
}

// onlyValues tells whether a document was refused for the value of a number or date,
// or for a key that is too long for the decoder.
func onlyValues(err error) bool {
	var d *toml.DecodeError
	if !errors.As(err, &d) {
		return true // a type that a map of Go does not hold
	}
	text := d.Error()
	return slices.ContainsFunc([]string{"date", "time", "year", "month", "day", "hour", "minute", "second", "integer", "number", "float", "digit", "range", "offset", "timezone", "fraction"}, func(w string) bool {
		return strings.Contains(text, w)
	})
}

func TestAgreement(t *testing.T) {
	for _, d := range documents {
		if !strings.HasPrefix(d, "\ufeff") { // the decoder takes no byte order mark
			agree(t, []byte(d))
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, d := range documents {
		f.Add([]byte(d))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > MaxSize || strings.HasPrefix(string(data), "\ufeff") {
			return
		}
		agree(t, data)
	})
}
