package render

import "strings"

// markup has the characters that can start or end Markdown, HTML, a character
// reference, mathematics, a mention or a link inside a line.
const markup = "\\`*_{}[]<>#|~$&!^@"

// inline writes text so that Markdown shows it as it is, on one line.
func inline(s string) string {
	s = strings.TrimSpace(clean(s))
	var b strings.Builder
	for i, r := range s {
		switch {
		case strings.ContainsRune(markup, r),
			r == ':' && strings.HasPrefix(s[i:], "://"),
			r == '.' && i >= 3 && strings.EqualFold(s[i-3:i], "www"):
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	return b.String()
}

// paragraph writes text that begins a line: no list, rule or heading may come
// of it.
func paragraph(s string) string {
	s = inline(s)
	if s == "" {
		return s
	}
	if strings.ContainsRune("-+=", rune(s[0])) {
		return `\` + s
	}
	digits := len(s) - len(strings.TrimLeft(s, "0123456789"))
	if digits > 0 && digits < len(s) && (s[digits] == '.' || s[digits] == ')') {
		return s[:digits] + `\` + s[digits:]
	}
	return s
}
