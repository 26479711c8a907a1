package render

import (
	"strings"
	"unicode"

	"golang.org/x/text/width"

	wording "spectally/cmd/internal/words"
)

// noBreak is a blank at which no line ends.
const noBreak = '\u00a0'

// cells returns how many cells of a terminal s takes up.
func cells(s string) int {
	n := 0
	for _, r := range s {
		n += runeCells(r)
	}
	return n
}

// runeCells returns 0 for a mark that combines with the rune before it, 2 for a
// wide rune (Unicode Standard Annex 11) and 1 for any other.
func runeCells(r rune) int {
	if r < 0x300 {
		return 1
	}
	if unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf) || r >= 0x1160 && r <= 0x11ff {
		return 0 // U+1160 to U+11FF are vowels and finals joined to a Hangul syllable
	}
	switch width.LookupRune(r).Kind() {
	case width.EastAsianWide, width.EastAsianFullwidth:
		return 2
	}
	return 1
}

// clean makes s safe to show on one line.
func clean(s string) string { return wording.OneLine(s) }

func steers(r rune) bool { return wording.Steers(r) }

func blanks(n int) string { return strings.Repeat(" ", max(n, 0)) }
