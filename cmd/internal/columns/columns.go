// Package columns declares the columns of a table once: heading and unit for people, the
// name that JSON and CSV use, and where the value comes from. Text, Markdown and HTML take
// a [render.Table] of it, CSV another, and JSON the fields of an object.
package columns

import (
	"bytes"
	"encoding/json"
	"reflect"
	"slices"
	"strconv"

	"spectally/cmd/internal/render"
)

// Column is a column of a table whose rows are of type R.
type Column[R any] struct {
	// Key is the name in JSON and CSV; a column without one is for people alone.
	Key string
	// Header and Unit name the column for people; one without a header is for programs
	// alone.
	Header, Unit string
	Align        render.Align
	// Minor lets text leave the column out where there is no room for all.
	Minor bool
	// Deciding marks what a row is read for.
	Deciding bool
	// Value is what JSON shows: a number or a figure, a text, a boolean; nil for null,
	// which is an empty cell in CSV.
	Value func(R) any
	// Text is the cell for people where it is not that of CSV.
	Text func(R) string
	// Apart keeps the column out of the object of JSON, which has the value elsewhere.
	Apart bool
	// Object keeps the column for the object of JSON.
	Object bool
}

// Set is the columns of a table in their order.
type Set[R any] []Column[R]

// Of takes a set for rows of one type as columns of rows that have such a row in them.
func Of[R, P any](set Set[P], part func(R) P) Set[R] {
	list := make(Set[R], len(set))
	for i, c := range set {
		list[i] = Column[R]{Key: c.Key, Header: c.Header, Unit: c.Unit, Align: c.Align, Minor: c.Minor, Deciding: c.Deciding, Apart: c.Apart, Object: c.Object,
			Value: func(r R) any { return c.Value(part(r)) }}
		if c.Text != nil {
			list[i].Text = func(r R) string { return c.Text(part(r)) }
		}
	}
	return list
}

// People is the table that people read, without the columns that no row fills.
func (s Set[R]) People(title string, rows []R) *render.Table {
	t := &render.Table{Title: title}
	shown := slices.DeleteFunc(slices.Clone(s), func(c Column[R]) bool { return c.Header == "" })
	for _, c := range shown {
		t.Columns = append(t.Columns, render.Column{Header: c.Header, Unit: c.Unit, Align: c.Align, Minor: c.Minor, Deciding: c.Deciding})
	}
	for _, r := range rows {
		cells := make([]string, len(shown))
		for i, c := range shown {
			if c.Text != nil {
				cells[i] = c.Text(r)
			} else {
				cells[i] = plain(c.Value(r))
			}
		}
		t.Rows = append(t.Rows, cells)
	}
	t.DropEmpty()
	return t
}

// Data is the table that CSV shows.
func (s Set[R]) Data(rows []R) *render.Table {
	t := &render.Table{}
	shown := slices.DeleteFunc(slices.Clone(s), func(c Column[R]) bool { return c.Key == "" || c.Object })
	for _, c := range shown {
		t.Columns = append(t.Columns, render.Column{Key: c.Key, Header: c.Key})
	}
	for _, r := range rows {
		cells := make([]string, len(shown))
		for i, c := range shown {
			cells[i] = plain(c.Value(r))
		}
		t.Rows = append(t.Rows, cells)
	}
	return t
}

// JSON writes a row as an object.
func (s Set[R]) JSON(r R) ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for _, c := range s {
		if c.Key == "" || c.Apart {
			continue
		}
		text, err := json.Marshal(c.Value(r))
		if err != nil {
			return nil, err
		}
		if b.Len() > 1 {
			b.WriteByte(',')
		}
		b.WriteString(strconv.Quote(c.Key)) // letters, digits and _
		b.WriteByte(':')
		b.Write(text)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// Keys lists the fields of the object of JSON.
func (s Set[R]) Keys() []string {
	var keys []string
	for _, c := range s {
		if c.Key != "" && !c.Apart {
			keys = append(keys, c.Key)
		}
	}
	return keys
}

// plain writes a value as a cell; empty for null.
func plain(v any) string {
	switch v := v.(type) {
	case nil:
		return ""
	case string:
		return v
	case int:
		return strconv.Itoa(v)
	case bool:
		return strconv.FormatBool(v)
	}
	r := reflect.ValueOf(v)
	if r.Kind() == reflect.Pointer {
		if r.IsNil() {
			return ""
		}
		return plain(r.Elem().Interface())
	}
	return r.String() // a figure
}
