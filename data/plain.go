package data

import (
	"fmt"
	"strings"
)

// readPlain reads a file of tables, which is TOML in the plain form that the package
// comment shows: comments and blank lines, [[table]], then a line for each key with its
// value in double quotes without escapes, and the rows between lines of three single
// quotes. What else TOML allows is refused.
//
// Some fifty tables stand behind one question about a band, for each of which a TOML
// decoder takes 45 µs; this copies nothing.
func readPlain(text string) (list []tableText, err error) {
	for rest, number := text, 1; rest != ""; number++ {
		var line string
		line, rest, _ = strings.Cut(rest, "\n")
		if line == "" || line[0] == '#' {
			continue
		}
		if line == "[[table]]" {
			list = append(list, tableText{})
			continue
		}
		key, value, found := strings.Cut(line, "=")
		if !found || len(list) == 0 {
			return nil, fmt.Errorf("line %d: %q is neither [[table]] nor a key of a table", number, line)
		}
		key, value = strings.TrimRight(key, " "), strings.TrimLeft(value, " ")
		field := list[len(list)-1].field(key)
		if field == nil || *field != "" {
			return nil, fmt.Errorf("line %d: %q is no key of a table, or stands twice", number, key)
		}
		if value == quotes {
			end := strings.Index(rest, quotes)
			if end < 0 || end > 0 && rest[end-1] != '\n' || !strings.HasPrefix(rest[end+len(quotes):], "\n") {
				return nil, fmt.Errorf("line %d: %s of %s are not ended by a line of them", number, quotes, key)
			}
			*field, rest = rest[:end], rest[end+len(quotes)+1:]
			number += strings.Count(*field, "\n") + 1
			continue
		}
		n := len(value)
		if n < 2 || value[0] != '"' || value[n-1] != '"' || strings.ContainsAny(value[1:n-1], "\"\\") {
			return nil, fmt.Errorf("line %d: the value of %s must stand in double quotes, without escapes", number, key)
		}
		*field = value[1 : n-1]
	}
	return list, nil
}

const quotes = "'''"

// field is the place of a key; nil if there is no such key.
func (text *tableText) field(key string) *string {
	switch key {
	case "id":
		return &text.ID
	case "spec":
		return &text.Spec
	case "version":
		return &text.Version
	case "table":
		return &text.Table
	case "title":
		return &text.Title
	case "note":
		return &text.Note
	case "columns":
		return &text.Columns
	case "rows":
		return &text.Rows
	}
	return nil
}
