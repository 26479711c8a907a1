package data

import "strings"

// readPlain reads a file of tables that is written as the package comment shows:
// comments and blank lines, [[table]], then a line for each key with its value in
// double quotes, and the rows between lines of three single quotes. It is false for
// everything else that TOML allows, faults included.
//
// It is here for the start of the program, most of which a TOML decoder takes: about
// 45 µs for each table, some fifty of which stand behind one question about a band.
func readPlain(text string) (list []tableText, ok bool) {
	for text != "" {
		var line string
		line, text, _ = strings.Cut(text, "\n")
		if line == "" || line[0] == '#' {
			continue
		}
		if line == "[[table]]" {
			list = append(list, tableText{})
			continue
		}
		key, value, found := strings.Cut(line, "=")
		if !found || len(list) == 0 {
			return nil, false
		}
		field := list[len(list)-1].field(strings.TrimRight(key, " "))
		value = strings.TrimLeft(value, " ")
		if field == nil || *field != "" {
			return nil, false
		}
		if value == "'''" {
			if *field, text, found = strings.Cut(text, "\n'''\n"); !found || strings.Contains(*field, "'''") {
				return nil, false
			}
			*field += "\n"
			continue
		}
		n := len(value)
		if n < 2 || value[0] != '"' || value[n-1] != '"' || strings.ContainsAny(value[1:n-1], "\"\\") {
			return nil, false
		}
		*field = value[1 : n-1]
	}
	return list, true
}

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
