package tomlfile

import (
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// Kind is the type of a value.
type Kind uint8

// The kinds of values.
const (
	String Kind = iota + 1
	Integer
	Float
	Bool
	Date     // a date, a time or both
	Array    // of any values
	SubTable // a table, or an inline table
)

var kindNames = [...]string{
	String: "text", Integer: "a number", Float: "a number", Bool: "true or false", Date: "a date or time",
	Array: "a list", SubTable: "a table",
}

// String names the kind for a message.
func (k Kind) String() string {
	if int(k) >= len(kindNames) {
		return ""
	}
	return kindNames[k]
}

// Value is a value of the file.
type Value struct {
	Kind  Kind
	Line  int
	Text  string // of a string what it holds, of other single values what stands in the file
	Items []*Value
	table *Table
}

// shown is what a message quotes of the value.
func (v *Value) shown() string {
	switch v.Kind {
	case Array, SubTable:
		return v.Kind.String()
	}
	return Shorten(v.Text)
}

// entry is a key of a table and its value.
type entry struct {
	key   string
	line  int
	value *Value
}

// Table is a table of the file.
type Table struct {
	file    *File
	Place   string
	Line    int
	entries []entry
	index   map[string]int
	// header tells that the table has a header of its own; closed that it is an
	// inline table or came by dotted keys, which a header may not add to.
	header, closed bool
	known          []string // keys that were asked for
	faults         int
}

func (f *File) newTable(line int) *Table {
	return &Table{file: f, Line: line, index: make(map[string]int)}
}

func (t *Table) get(key string) (*entry, bool) {
	i, ok := t.index[key]
	if !ok {
		return nil, false
	}
	return &t.entries[i], true
}

func (t *Table) put(key string, line int, v *Value) {
	t.index[key] = len(t.entries)
	t.entries = append(t.entries, entry{key, line, v})
}

// Each calls a function with every key of the table and its value, in their order.
func (t *Table) Each(f func(key string, v *Value)) {
	for i := range t.entries {
		f(t.entries[i].key, t.entries[i].value)
	}
}

// Table is the table that the value is; nil if it is none.
func (v *Value) Table() *Table { return v.table }

// builder makes the tree of a file out of the parser's expressions.
type builder struct {
	file    *File
	parser  unstable.Parser
	base    int // of the parser's data in the file
	current *Table
}

// key is one part of a dotted key and its line.
type key struct {
	name string
	line int
}

func (b *builder) lineAt(r unstable.Range) int { return b.file.lineOf(b.base + int(r.Offset)) }

func (b *builder) keysOf(n *unstable.Node) []key {
	var keys []key
	for it := n.Key(); it.Next(); {
		k := it.Node()
		keys = append(keys, key{string(k.Data), b.lineAt(k.Raw)})
	}
	return keys
}

func (b *builder) expression(n *unstable.Node) {
	keys := b.keysOf(n)
	switch n.Kind {
	case unstable.KeyValue:
		b.keyValue(b.current, keys, n.Value())
	case unstable.Table:
		b.tableHeader(keys)
	case unstable.ArrayTable:
		b.arrayHeader(keys)
	}
}

// keyValue adds a key, which may be dotted, to a table.
func (b *builder) keyValue(t *Table, keys []key, n *unstable.Node) {
	for _, k := range keys[:len(keys)-1] {
		e, ok := t.get(k.name)
		switch {
		case !ok:
			sub := b.file.newTable(k.line)
			sub.closed = true
			t.put(k.name, k.line, &Value{Kind: SubTable, Line: k.line, table: sub})
			t = sub
		case e.value.Kind == SubTable && e.value.table.closed && !e.value.table.header:
			t = e.value.table
		default:
			b.file.twice(k, e.line)
			return
		}
	}
	last := keys[len(keys)-1]
	if e, ok := t.get(last.name); ok {
		b.file.twice(last, e.line)
		return
	}
	t.put(last.name, last.line, b.value(n, last.line))
}

// inline tells whether the table was written in braces.
func (t *Table) inline() bool { return t.closed && t.header }

// descend walks to the table in which the last part of a header stands.
func (b *builder) descend(keys []key) *Table {
	t := b.file.root
	for _, k := range keys {
		e, ok := t.get(k.name)
		switch {
		case !ok:
			sub := b.file.newTable(k.line)
			t.put(k.name, k.line, &Value{Kind: SubTable, Line: k.line, table: sub})
			t = sub
		case e.value.Kind == SubTable && !e.value.table.inline():
			t = e.value.table
		case e.value.isTableArray():
			t = e.value.Items[len(e.value.Items)-1].table
		default:
			b.file.twice(k, e.line)
			return nil
		}
	}
	return t
}

// isTableArray tells whether headers in double brackets made the value.
func (v *Value) isTableArray() bool {
	return v.Kind == Array && len(v.Items) > 0 && v.Items[0].Kind == SubTable && !v.Items[0].table.inline()
}

func (b *builder) tableHeader(keys []key) {
	last := keys[len(keys)-1]
	fresh := b.file.newTable(last.line)
	fresh.header = true
	b.current = fresh // what follows a faulty header is read, but belongs nowhere
	t := b.descend(keys[:len(keys)-1])
	if t == nil {
		return
	}
	e, ok := t.get(last.name)
	switch {
	case !ok:
		t.put(last.name, last.line, &Value{Kind: SubTable, Line: last.line, table: fresh})
	case e.value.Kind == SubTable && !e.value.table.header && !e.value.table.closed:
		b.current = e.value.table // so far only its sub-tables were there
		b.current.header, b.current.Line = true, last.line
	default:
		b.file.twice(last, e.line)
	}
}

func (b *builder) arrayHeader(keys []key) {
	last := keys[len(keys)-1]
	fresh := b.file.newTable(last.line)
	fresh.header = true
	b.current = fresh
	t := b.descend(keys[:len(keys)-1])
	if t == nil {
		return
	}
	item := &Value{Kind: SubTable, Line: last.line, table: fresh}
	e, ok := t.get(last.name)
	switch {
	case !ok:
		t.put(last.name, last.line, &Value{Kind: Array, Line: last.line, Items: []*Value{item}})
	case e.value.isTableArray():
		e.value.Items = append(e.value.Items, item)
	default:
		b.file.twice(last, e.line)
	}
}

// value copies a value out of the parser. The lines of values without a place of
// their own are those of their key.
func (b *builder) value(n *unstable.Node, line int) *Value {
	if n.Raw.Length > 0 {
		line = b.lineAt(n.Raw)
	}
	v := &Value{Line: line, Text: string(n.Data)}
	switch n.Kind {
	case unstable.String:
		v.Kind = String
	case unstable.Integer:
		v.Kind, v.Text = Integer, strings.ReplaceAll(v.Text, "_", "")
	case unstable.Float:
		v.Kind, v.Text = Float, strings.ReplaceAll(v.Text, "_", "")
	case unstable.Bool:
		v.Kind = Bool
	case unstable.Array:
		v.Kind = Array
		for it := n.Children(); it.Next(); {
			v.Items = append(v.Items, b.value(it.Node(), line))
		}
	case unstable.InlineTable:
		v.Kind, v.table = SubTable, b.file.newTable(line)
		for it := n.Children(); it.Next(); {
			b.keyValue(v.table, b.keysOf(it.Node()), it.Node().Value())
		}
		v.table.header, v.table.closed = true, true
	default:
		v.Kind = Date
	}
	return v
}
