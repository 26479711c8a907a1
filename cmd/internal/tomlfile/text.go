package tomlfile

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Limits of texts, in characters.
const (
	MaxText  = 200
	MaxProse = 4000
)

// Text reads a text of one line, at most MaxText characters. An empty one counts as
// not given.
func (t *Table) Text(key string, need Need, allowed string) (string, bool) {
	v, ok := t.askKind(key, need, allowed+", in quotes", String)
	if !ok {
		return "", false
	}
	s := strings.TrimSpace(v.Text)
	if s == "" {
		if need {
			t.Refuse(key, v.Text, allowed)
		}
		return "", false
	}
	return s, t.checkText(key, s, MaxText, false)
}

// Prose reads text that may have several lines, as one text or as a list of them.
// The paragraphs are returned one by one.
func (t *Table) Prose(key, allowed string) []string {
	v, ok := t.askKind(key, Optional, allowed+", in quotes, or a list of such texts", String, Array)
	if !ok {
		return nil
	}
	items := v.Items
	if v.Kind == String {
		items = []*Value{v}
	}
	var list []string
	for _, item := range items {
		if item.Kind != String {
			t.Refuse(key, item.shown(), "a text, in quotes, or a list of such texts")
			return nil
		}
		if !t.checkText(key, item.Text, MaxProse, true) {
			return nil
		}
		for p := range strings.SplitSeq(strings.ReplaceAll(item.Text, "\r\n", "\n"), "\n\n") {
			if p = strings.Join(strings.Fields(p), " "); p != "" {
				list = append(list, p)
			}
		}
	}
	return list
}

// checkText refuses what does not belong into a text that will be published.
func (t *Table) checkText(key, s string, most int, lines bool) bool {
	if n := utf8.RuneCountInString(s); n > most {
		t.Refuse(key, s, "at most "+strconv.Itoa(most)+" characters; these are "+strconv.Itoa(n))
		return false
	}
	for _, r := range s {
		switch {
		case lines && (r == '\n' || r == '\t' || r == '\r'):
		case unicode.IsControl(r), r == '\u2028', r == '\u2029':
			what := "text without control characters"
			if !lines {
				what = "one line of text without control characters"
			}
			t.Refuse(key, s, what+"; this has "+codePoint(r))
			return false
		case '\u202a' <= r && r <= '\u202e', '\u2066' <= r && r <= '\u2069':
			t.Refuse(key, s, "text without marks that reverse the reading direction; this has "+codePoint(r))
			return false
		}
	}
	return true
}

func codePoint(r rune) string {
	s := strings.ToUpper(strconv.FormatInt(int64(r), 16))
	return "U+" + strings.Repeat("0", max(0, 4-len(s))) + s
}
