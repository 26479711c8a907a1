package render

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
)

// The classes of runes are those of Unicode Standard Annex 11 (East Asian
// Width): 東, ア and the fullwidth A are wide; combining marks take no cell.
func TestCells(t *testing.T) {
	for s, want := range map[string]int{
		"":                0,
		"n78":             3,
		"Köln":            4,
		"Ko\u0308ln":      4,
		"東京":              4,
		"アンテナ":            8,
		"ｱ":               1, // halfwidth katakana
		"Ａ":               2, // fullwidth A
		"한국":              4,
		"\u1112\u1161":    2, // a Hangul syllable in two parts
		"📡":               2,
		"a\u200db":        2, // zero width joiner
		"─▌·":             3,
		"3300–3800\u00a0": 10,
	} {
		if got := cells(s); got != want {
			t.Errorf("cells(%q) = %d, want %d", s, got, want)
		}
	}
}

func TestWrap(t *testing.T) {
	for _, test := range []struct {
		text string
		room int
		want []string
	}{
		{"", 10, []string{""}},
		{"   ", 10, []string{""}},
		{"one two three", 7, []string{"one two", "three"}},
		{"one  two\nthree", 7, []string{"one two", "three"}},
		{"abcdefghij", 4, []string{"abcd", "efgh", "ij"}},
		{"x abcdefghij y", 4, []string{"x", "abcd", "efgh", "ij y"}},
		{"東京都", 5, []string{"東京", "都"}},
		{"東京", 1, []string{"東", "京"}},
		{"about 3540.96 MHz wide", 11, []string{"about", "3540.96 MHz", "wide"}},
		{"about 3540.96 MHz wide", 8, []string{"about", "3540.96", "MHz wide"}},
		{"see TS 38.104 Table 5.2-1", 14, []string{"see TS 38.104", "Table 5.2-1"}},
	} {
		if diff := cmp.Diff(test.want, wrap(test.text, test.room)); diff != "" {
			t.Errorf("wrap(%q, %d) (-want +got):\n%s", test.text, test.room, diff)
		}
	}
}

func FuzzWrap(f *testing.F) {
	f.Add("about 3540.96 MHz wide", 8)
	f.Add("東京 e\u0301\x1b[1m", 3)
	f.Add("TS TS TS\u00a0Table", -4)
	f.Fuzz(func(t *testing.T, s string, room int) {
		room %= 300
		var kept strings.Builder
		for _, line := range wrap(s, room) {
			if n := cells(line); n > max(room, 2) {
				t.Fatalf("wrap(%q, %d): %d cells in %q", s, room, n, line)
			}
			kept.WriteString(line)
		}
		if !utf8.ValidString(kept.String()) {
			t.Fatalf("wrap(%q, %d) breaks a rune", s, room)
		}
		strip := strings.NewReplacer(" ", "", "\u00a0", "")
		if got, want := strip.Replace(kept.String()), strip.Replace(clean(s)); got != want {
			t.Fatalf("wrap(%q, %d) keeps %q, want %q", s, room, got, want)
		}
	})
}
