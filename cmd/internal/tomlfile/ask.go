package tomlfile

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
)

// Need tells whether a key has to be there.
type Need bool

// The needs.
const (
	Optional Need = false
	Required Need = true
)

// Has tells whether the table has a key, whatever its value.
func (t *Table) Has(key string) bool {
	_, ok := t.get(key)
	return ok
}

// LineOf is the line of a key; that of the table if it is not there.
func (t *Table) LineOf(key string) int {
	if e, ok := t.get(key); ok {
		return e.line
	}
	return t.Line
}

// Report adds a problem with a key of the table, or with the whole table if the key
// is empty.
func (t *Table) Report(key string, err error) {
	t.faults++
	t.file.Report(t.LineOf(key), t.Place, key, err)
}

// Refuse reports that the value of a key is outside what is allowed.
func (t *Table) Refuse(key, got, allowed string) {
	t.Report(key, &bands.ValueError{Param: key, Got: Shorten(got), Allowed: allowed})
}

// Conflict reports that a key does not go together with others.
func (t *Table) Conflict(key, text, allowed string) {
	t.Report(key, &ConflictError{text, allowed})
}

// Faultless tells whether no problem of the table itself has been reported.
func (t *Table) Faultless() bool { return t.faults == 0 && t.file.Complete() }

// Missing reports that a key has to be there. It says nothing where part of the
// file could not be read.
func (t *Table) Missing(key, allowed string) {
	if t.file.Complete() {
		t.Report("", &MissingError{key, allowed})
	}
}

// ask finds the value of a key, and makes the key known.
func (t *Table) ask(key string, need Need, allowed string) (*Value, bool) {
	if !slices.Contains(t.known, key) {
		t.known = append(t.known, key)
	}
	e, ok := t.get(key)
	if !ok {
		if need {
			t.Missing(key, allowed)
		}
		return nil, false
	}
	return e.value, true
}

// askKind is ask for values of some kinds.
func (t *Table) askKind(key string, need Need, allowed string, kinds ...Kind) (*Value, bool) {
	v, ok := t.ask(key, need, allowed)
	if ok && !slices.Contains(kinds, v.Kind) {
		t.Refuse(key, v.shown(), allowed)
		return nil, false
	}
	return v, ok
}

// Bool reads true or false.
func (t *Table) Bool(key string) (value, given bool) {
	v, ok := t.askKind(key, Optional, "true or false, without quotes", Bool)
	return ok && v.Text == "true", ok
}

// Choice reads one of several words; letter case does not matter.
func (t *Table) Choice(key string, words ...string) (string, bool) {
	allowed := strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
	v, ok := t.askKind(key, Optional, allowed+", in quotes", String)
	if !ok {
		return "", false
	}
	for _, w := range words {
		if strings.EqualFold(w, v.Text) {
			return w, true
		}
	}
	t.Report(key, &bands.ValueError{Param: key, Got: Shorten(v.Text), Allowed: allowed, Nearest: Nearest(v.Text, words)})
	return "", false
}

// Single reads a text or a number as it is written, for a reader that knows more
// than one form.
func (t *Table) Single(key string, need Need, allowed string) (string, bool) {
	v, ok := t.askKind(key, need, allowed, String, Integer, Float)
	if !ok {
		return "", false
	}
	if v.Kind != String {
		return strings.TrimPrefix(v.Text, "+"), true
	}
	return strings.TrimSpace(v.Text), true
}

// Moment reads a date, a time, or text, as it is written.
func (t *Table) Moment(key string, need Need, allowed string) (string, bool) {
	v, ok := t.askKind(key, need, allowed, String, Date)
	if !ok {
		return "", false
	}
	return strings.TrimSpace(v.Text), true
}

// List reads a list of single values, or one such value, as they are written.
func (t *Table) List(key, allowed string) ([]string, bool) {
	v, ok := t.askKind(key, Optional, allowed, String, Integer, Array)
	if !ok {
		return nil, false
	}
	items := v.Items
	if v.Kind != Array {
		items = []*Value{v}
	}
	list := make([]string, len(items))
	for i, item := range items {
		if item.Kind != String && item.Kind != Integer {
			t.Refuse(key, item.shown(), allowed)
			return nil, false
		}
		list[i] = strings.TrimSpace(item.Text)
	}
	return list, true
}

// KindOf is the kind of the value of a key; 0 if it is not there.
func (t *Table) KindOf(key string) Kind {
	if e, ok := t.get(key); ok {
		return e.value.Kind
	}
	return 0
}

// Sub reads a table in the table; nil if it is not there.
func (t *Table) Sub(key string) *Table {
	v, ok := t.askKind(key, Optional, "a table: ["+key+"] or "+key+" = { … }", SubTable)
	if !ok {
		return nil
	}
	return v.table.named(t, key)
}

func (t *Table) named(parent *Table, name string) *Table {
	t.Place = name
	if parent.Place != "" {
		t.Place = parent.Place + ", " + name
	}
	return t
}

// Subs reads a list of tables, at most a number of them. path is how their header is
// written: "network.run". Their places count from 1.
func (t *Table) Subs(key, path string, most int) []*Table {
	allowed := "tables under the header [[" + path + "]]"
	v, ok := t.askKind(key, Optional, allowed, Array)
	if !ok {
		return nil
	}
	if len(v.Items) > most {
		t.faults++
		t.file.Report(v.Items[most].Line, t.Place, key, &bands.ValueError{Param: key, Got: strconv.Itoa(len(v.Items)) + " tables", Allowed: "at most " + strconv.Itoa(most)})
	}
	var list []*Table
	for i, item := range v.Items[:min(len(v.Items), most)] {
		if item.Kind != SubTable {
			t.Refuse(key, item.shown(), allowed)
			continue
		}
		list = append(list, item.table.named(t, key+" "+strconv.Itoa(i+1)))
	}
	return list
}

// Finish reports the keys that nothing asked for.
func (t *Table) Finish() {
	for i := range t.entries {
		e := &t.entries[i]
		if slices.Contains(t.known, e.key) {
			continue
		}
		t.faults++
		t.file.Report(e.line, t.Place, e.key, &bands.ValueError{
			Param: "key", Got: Shorten(e.key), Allowed: strings.Join(t.known, ", "), Nearest: Nearest(e.key, t.known)})
	}
}

// Nearest is the word that differs least from the one given, if little enough.
func Nearest(word string, words []string) string {
	if len(words) == 0 || len(word) > maxShown {
		return ""
	}
	word = strings.ToLower(word)
	best := slices.MinFunc(words, func(a, b string) int {
		return bands.EditDistance(word, strings.ToLower(a)) - bands.EditDistance(word, strings.ToLower(b))
	})
	if bands.EditDistance(word, strings.ToLower(best)) > max(1, (len(word)+2)/3) {
		return ""
	}
	return best
}
