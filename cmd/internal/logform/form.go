package logform

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"spectally/cmd/internal/tomlfile"
)

// Item is a table while it is filled in.
type Item struct {
	// Values are what was typed, by the key of the field. A key that no field has begins with
	// "=", and its value is TOML.
	Values map[string]string `json:"values"`
	// Lists are the tables below, by their key.
	Lists map[string][]*Item `json:"lists"`

	path string // where it is in the form: "network/0/run/2"
}

// number is what TOML reads as a number and a log as one.
var number = regexp.MustCompile(`^[+-]?(0|[1-9][0-9]*)(\.[0-9]+)?([eE][+-]?[0-9]+)?$`)

var date = regexp.MustCompile(`^[0-9]{4}-[0-9]{2}-[0-9]{2}$`)

// writer writes TOML, and keeps what each line is about.
type writer struct {
	text  strings.Builder
	lines []string // paths
}

func (w *writer) line(path, format string, args ...any) {
	fmt.Fprintf(&w.text, format+"\n", args...)
	w.lines = append(w.lines, path)
}

// Write writes a file as TOML. paths are what each line is about: "network/0/run/2/down".
func (f *File) Write(file *Item) (text string, paths []string) {
	file.place("")
	return f.write(file)
}

func (f *File) write(file *Item) (text string, paths []string) {
	var w writer
	w.item(file, f.Root, "")
	return w.text.String(), w.lines
}

// place gives each item its path.
func (i *Item) place(path string) {
	i.path = path
	for key, list := range i.Lists {
		for n, item := range list {
			item.place(strings.TrimPrefix(path+"/"+key+"/"+strconv.Itoa(n), "/"))
		}
	}
}

func (i *Item) at(key string) string { return strings.TrimPrefix(i.path+"/"+key, "/") }

// item writes the values of an item, then those of the tables in it, then the tables below.
func (w *writer) item(i *Item, s *Section, header string) {
	table := ""
	for _, l := range i.assignments(s) {
		if l.table != table {
			table = l.table
			w.line("", "")
			w.line(i.path, "[%s]", join(header, table))
		}
		w.line(i.at(l.key), "%s = %s", strings.TrimPrefix(l.name, table+"."), l.value)
	}
	for _, sub := range s.Lists {
		path := join(header, sub.Key)
		for _, item := range i.Lists[sub.Key] {
			w.line("", "")
			w.line(item.path, "[[%s]]", path)
			w.item(item, sub, path)
		}
	}
}

func join(header, key string) string { return strings.TrimPrefix(header+"."+key, ".") }

// assignment is a key with a value, in the item itself or in a table in it.
type assignment struct{ key, table, name, value string }

// assignments are those of an item, the ones of its tables last.
func (i *Item) assignments(s *Section) []assignment {
	var list []assignment
	add := func(key, name, value string) {
		table, _, in := strings.Cut(name, ".")
		if !in {
			table = ""
		}
		list = append(list, assignment{key, table, name, value})
	}
	for n := range s.Fields {
		f := &s.Fields[n]
		if v := strings.TrimSpace(i.Values[f.Key]); v != "" {
			add(f.Key, f.Key, f.literal(v))
		}
	}
	for key, v := range sorted(i.Values) {
		if bare, ok := strings.CutPrefix(key, "="); ok {
			add(key, bare, v)
		}
	}
	slices.SortStableFunc(list, func(a, b assignment) int { return strings.Compare(a.table, b.table) })
	return list
}

// literal writes a value as TOML. What does not look as its sort should stands as text, so
// that the reader of the log says what it must be.
func (f *Field) literal(v string) string {
	switch f.Sort {
	case Number, Amount:
		if n := strings.NewReplacer("−", "-", ",", ".").Replace(v); number.MatchString(n) {
			return n
		}
	case Numbers, Words:
		parts := strings.FieldsFunc(v, func(r rune) bool { return r == ',' || r == ' ' || r == ';' })
		if f.Key == "connected" && len(parts) == 1 && !strings.Contains(v, ",") && number.MatchString(parts[0]) {
			return parts[0] // how many, not which
		}
		for i, p := range parts {
			if f.Sort == Words || !number.MatchString(p) {
				parts[i] = quoted(p)
			}
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case Lines:
		var list []string
		for line := range strings.Lines(v) {
			if line = strings.TrimSpace(line); line != "" {
				list = append(list, quoted(line))
			}
		}
		return "[" + strings.Join(list, ", ") + "]"
	case Check:
		if v == "yes" {
			return "true"
		}
		if v == "no" {
			return "false"
		}
	case Date:
		if date.MatchString(v) {
			return v
		}
	}
	return quoted(v)
}

// quoted writes a basic string of TOML, whose escapes are those of JSON.
func quoted(s string) string {
	var b strings.Builder
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(strings.ToValidUTF8(s, "\ufffd")); err != nil {
		panic(err) // a text can always be written
	}
	return strings.ReplaceAll(strings.TrimSuffix(b.String(), "\n"), "\x7f", `\u007f`)
}

// Read reads a form out of the TOML of a file. Carriers in tables become one line. An error
// is of type tomlfile.Problems.
func (f *File) Read(data []byte) (*Item, error) {
	if err := f.check(data); err != nil {
		return nil, err
	}
	file := readItem(tomlfile.Parse("", data).Root(), f.Root)
	if f.carriers == nil {
		return file, nil
	}
	for n, carriers := range f.carriers(data) {
		network := file.Lists["network"][n]
		if _, tables := network.Values["=carrier"]; tables {
			delete(network.Values, "=carrier")
			network.Values["carriers"] = carriers
		}
	}
	return file, nil
}

func readItem(t *tomlfile.Table, s *Section) *Item {
	i := &Item{Values: map[string]string{}, Lists: map[string][]*Item{}}
	i.read(t, s, "")
	return i
}

func (i *Item) read(t *tomlfile.Table, s *Section, prefix string) {
	t.Each(func(key string, v *tomlfile.Value) {
		key = prefix + key
		for n := range s.Fields {
			if f := &s.Fields[n]; f.Key == key {
				i.Values[key] = f.typed(v)
				return
			}
		}
		for _, sub := range s.Lists {
			if sub.Key == key && v.Kind == tomlfile.Array {
				for _, item := range v.Items {
					i.Lists[key] = append(i.Lists[key], readItem(item.Table(), sub))
				}
				return
			}
		}
		if sub := v.Table(); sub != nil && prefix == "" && s.has(key+".") {
			i.read(sub, s, key+".")
			return
		}
		i.Values["="+key] = literal(v)
	})
}

// has tells whether the section has fields in a table in the table.
func (s *Section) has(prefix string) bool {
	for i := range s.Fields {
		if strings.HasPrefix(s.Fields[i].Key, prefix) {
			return true
		}
	}
	return false
}

// typed is a value as it is typed.
func (f *Field) typed(v *tomlfile.Value) string {
	switch {
	case v.Kind == tomlfile.Array:
		parts := make([]string, len(v.Items))
		for i, item := range v.Items {
			parts[i] = item.Text
		}
		switch f.Sort {
		case Prose:
			return strings.Join(parts, "\n\n")
		case Lines:
			return strings.Join(parts, "\n")
		}
		if len(parts) == 1 && f.Key == "connected" {
			return parts[0] + "," // which, not how many
		}
		return strings.Join(parts, ", ")
	case v.Kind == tomlfile.Bool:
		return map[bool]string{true: "yes", false: "no"}[v.Text == "true"]
	}
	return v.Text
}

// literal writes any value of TOML on one line.
func literal(v *tomlfile.Value) string {
	switch v.Kind {
	case tomlfile.String:
		return quoted(v.Text)
	case tomlfile.Array:
		parts := make([]string, len(v.Items))
		for i, item := range v.Items {
			parts[i] = literal(item)
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case tomlfile.SubTable:
		var parts []string
		v.Table().Each(func(key string, v *tomlfile.Value) { parts = append(parts, quoted(key)+" = "+literal(v)) })
		return "{ " + strings.Join(parts, ", ") + " }"
	}
	return v.Text
}
