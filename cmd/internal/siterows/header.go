package siterows

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"spectally/bands"
)

// layout says which columns a file has and where.
type layout struct {
	columns []column
	place   []int // of columns[i] in a row; -1 if it is not there
}

// newLayout reads the names of a header; letter case does not matter.
func newLayout(names []string) (*layout, error) {
	l := &layout{columns: columns()}
	known := make([]string, len(l.columns))
	l.place = make([]int, len(l.columns))
	for i := range l.columns {
		known[i], l.place[i] = l.columns[i].name, -1
	}
next:
	for at, name := range names {
		for i := range known {
			if !strings.EqualFold(name, known[i]) {
				continue
			}
			if l.place[i] >= 0 {
				return nil, &bands.ValueError{Param: "column", Got: short(name), Allowed: "given once"}
			}
			l.place[i] = at
			continue next
		}
		return nil, &bands.ValueError{Param: "column", Got: short(name), Allowed: strings.Join(known, ", "), Nearest: nearest(name, known)}
	}
	for i := range l.columns {
		if c := &l.columns[i]; c.required && l.place[i] < 0 {
			return nil, &bands.ValueError{Param: "header", Got: short(strings.Join(names, ",")), Allowed: "one with a column " + c.name + " (" + c.what + ")"}
		}
	}
	return l, nil
}

// field is the field of a column in a row; empty if it is not there.
func (l *layout) field(column int, fields []string) string {
	at := l.place[column]
	if at < 0 || at >= len(fields) {
		return ""
	}
	return fields[at]
}

// nearest is the word that a mistyped one was most likely meant to be; empty if there
// is none.
func nearest(mistyped string, words []string) string {
	best, least := "", max(1, len(mistyped)/2)+1
	for _, w := range words {
		if d := bands.EditDistance(strings.ToLower(mistyped), w); d < least {
			best, least = w, d
		}
	}
	return best
}

// words writes "a, b or c".
func words(list []string) string {
	last := len(list) - 1
	return strings.Join(list[:last], ", ") + " or " + list[last]
}

// short is a text cut to what an error can quote.
func short(s string) string {
	const most = 80
	if len(s) <= most {
		return s
	}
	n := most
	for n > 0 && !utf8.RuneStart(s[n]) {
		n--
	}
	return s[:n] + "…"
}

func lineOf(n int64) string { return "line " + strconv.FormatInt(n, 10) }
