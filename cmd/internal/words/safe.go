package words

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

const noBreak = '\u00a0'

// OneLine makes a text safe to show on one line of a terminal: blanks of any kind become
// a plain one (a no-break space stays), and what could steer the terminal or reverse the
// reading direction becomes U+FFFD.
func OneLine(s string) string {
	if isPlain(s) {
		return s
	}
	return strings.Map(func(r rune) rune {
		switch {
		case r == noBreak:
			return r
		case unicode.IsSpace(r):
			return ' '
		case Steers(r):
			return utf8.RuneError
		}
		return r
	}, strings.ToValidUTF8(s, string(utf8.RuneError)))
}

func isPlain(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

// Steers tells whether a character steers a terminal or the reading direction.
func Steers(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) }
