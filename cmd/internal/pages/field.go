package pages

import (
	"slices"
	"strconv"
	"strings"

	"spectally/cmd/internal/render"
)

// field is one value that a page asks for: a parameter of its address, and an
// argument or a flag of its command.
type field struct {
	name, label, hint string
	flag              string // "--width"; empty for an argument
	sort              sort
	options           []option // of a choice
	sample            string
	wide              bool // wants the whole width of the form
	extra             bool // is folded until it is used
	whole             bool // is one argument, with the blanks in it
	number            bool // is typed on a keyboard of numbers
}

// sort says how a field is filled in.
type sort uint8

const (
	line   sort = iota // one line of text
	choice             // one of a few
	check              // yes or no
)

// option is one thing that can be chosen; an empty value is no choice.
type option struct{ value, text string }

func options(any string, values ...string) []option {
	list := []option{{"", any}}
	for _, v := range values {
		list = append(list, option{v, v})
	}
	return list
}

// checked is the value of a check that is set.
const checked = "yes"

// explain unfolds the working; every page has it.
var explainField = field{name: "explain", flag: "--explain", sort: check, label: "Working unfolded", hint: "each step with its clause", extra: true}

// query is what a page was asked: values by the name of their field, all trimmed and
// none empty, and what was sent along.
type query struct {
	page   *page
	values map[string]string
	input  []byte
	rates  *render.Answer // of the carriers of a check; nil if there are none
}

func (q *query) value(name string) string { return q.values[name] }

// asks tells whether there is anything to answer.
func (q *query) asks() bool {
	if q.page.open || q.input != nil {
		return true
	}
	for name := range q.values {
		if name != explainField.name && name != rowsName && name != templateName {
			return true
		}
	}
	return false
}

// arguments turns a query into the arguments of a command. What was typed can become
// a flag's value or an argument, never a flag.
func (q *query) arguments(command string) []string {
	var args []string
	if command != "" {
		args = append(args, command)
	}
	var words []string
	for i := range q.page.fields {
		f := &q.page.fields[i]
		v, ok := q.values[f.name]
		switch {
		case !ok:
		case f.flag == "":
			words = append(words, f.words(v)...)
		case f.sort == check:
			args = append(args, f.flag)
		default:
			args = append(args, f.flag+"="+v)
		}
	}
	if q.page.takes != nil {
		args = append(args, q.page.takes.arguments(q)...)
	}
	if slices.ContainsFunc(words, func(w string) bool { return strings.HasPrefix(w, "-") && w != "-" }) {
		args = append(args, "--")
	}
	return append(args, words...)
}

// words are the arguments that a value stands for.
func (f *field) words(value string) []string {
	if f.whole && value != "" {
		return []string{value}
	}
	return strings.Fields(value)
}

// fieldAt finds the field that a place of an error is about: "--width" or
// "argument 2"; nil if there is none.
func (q *query) fieldAt(place string) *field {
	n := 0
	if digits, ok := strings.CutPrefix(place, "argument "); ok {
		n, _ = strconv.Atoi(digits) // no number: no argument has it
	}
	for i := range q.page.fields {
		f := &q.page.fields[i]
		if f.flag != "" {
			if f.flag == place {
				return f
			}
			continue
		}
		count := len(f.words(q.values[f.name]))
		if n > 0 && n <= count {
			return f
		}
		n -= count
	}
	return nil
}
