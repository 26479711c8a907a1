package tomlfile

import (
	"strings"
	"testing"
)

// What would take many times its size to be read is refused before it is.
func TestBounds(t *testing.T) {
	for name, test := range map[string]struct {
		text string
		line int
		want string // in the only problem; empty if it can be read
	}{
		"plain":            {"a = 1\nb.c = \"x\" # note\n[[d]]\ne = [1, [2, 3], {f = 'g'}]\n", 0, ""},
		"long text":        {"a = \"" + strings.Repeat("x", 100_000) + "\"\n", 0, ""},
		"long texts":       {"a = '''\n" + strings.Repeat("[[[[{{.x\n", 10_000) + "'''\nb = \"\"\"" + strings.Repeat("[", 100) + "\\\"\"\"\"\n", 0, ""},
		"long comment":     {"#" + strings.Repeat("[", 100_000) + "\na = 1\n", 0, ""},
		"brackets in text": {"a = \"" + strings.Repeat("[", 1000) + "\"\nb = '" + strings.Repeat("{", 1000) + "'\n", 0, ""},
		"long list":        {"a = [\n" + strings.Repeat("[1],\n", 20_000) + "]\n", 0, ""},
		"long key":         {"a = 1\n" + strings.Repeat("k", 1_000_000) + " = 1\n", 2, "key or value \"1000001 bytes\": must be at most 512"},
		"long quoted key":  {"\"" + strings.Repeat("k", 1000) + "\" = 1\n", 1, "at most 512"},
		"many dots":        {strings.Repeat("a.", 300) + "b = 1\n", 1, "at most 512"},
		"many quoted dots": {strings.Repeat("'a' . ", 200) + "b = 1\n", 1, "at most 512"},
		"long number":      {"a = " + strings.Repeat("9", 1000), 1, "at most 512"},
		"deep list":        {"\na = " + strings.Repeat("[", 1000) + strings.Repeat("]", 1000) + "\n", 2, "nesting \"33 brackets\": must be at most 32"},
		"deep, in lines":   {"a = " + strings.Repeat("[\n", 1000), 33, "nesting \"33 brackets\""},
		"deep inline":      {"a = " + strings.Repeat("{a=", 100_000), 1, "nesting \"33 brackets\""},
		"many tables":      {strings.Repeat("[[a]]\n", 20_000), 10_001, "number of tables \"10001\": must be at most 10000"},
	} {
		problems := Parse("x.toml", []byte(test.text)).Problems()
		switch {
		case test.want == "" && len(problems) > 0:
			t.Errorf("%s: %.300v", name, problems)
		case test.want != "" && (len(problems) != 1 || problems[0].Line != test.line || !strings.Contains(problems[0].Err.Error(), test.want)):
			t.Errorf("%s: %.300v", name, problems)
		}
	}
}

// FuzzBounds goes through any text: it comes to its end, and what it refuses is there.
func FuzzBounds(f *testing.F) {
	for _, s := range []string{"a = 1\n[b]\n", "a = '''", "\"\\", "a.\"b\" = [{", "#", "''''''", "a = \"\"\"\\\"\"\"\""} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		at, err := (&bounds{data: []byte(s)}).check()
		if err != nil && (at < 0 || at >= len(s)) {
			t.Fatalf("%v at %d of %d", err, at, len(s))
		}
		if err != nil && len(s) <= maxNested {
			t.Fatalf("%q: %v", s, err)
		}
	})
}
