package render

import (
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"
)

var sgr = regexp.MustCompile("\x1b\\[[0-9]*m")

func renderText(t *testing.T, a *Answer, o Options) string {
	t.Helper()
	o.Format = Text
	out, err := Render(a, o)
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// Colour must not carry meaning alone: without it the text is the same.
func TestColorOnlyAdds(t *testing.T) {
	for width := 10; width < 140; width++ {
		for _, explain := range []bool{false, true} {
			o := Options{Width: width, Explain: explain}
			plain := renderText(t, sample(), o)
			o.Color = true
			colored := renderText(t, sample(), o)
			if colored == plain {
				t.Fatalf("width %d: no colour at all", width)
			}
			if sgr.ReplaceAllString(colored, "") != plain {
				t.Fatalf("width %d: the text differs with colours", width)
			}
			if strings.ContainsRune(plain, '\x1b') {
				t.Fatalf("width %d: an escape sequence without colour", width)
			}
		}
	}
}

func TestTextKeepsToTheWidth(t *testing.T) {
	for width := leastWidth; width < 200; width++ {
		for _, explain := range []bool{false, true} {
			text := renderText(t, sample(), Options{Width: width, Explain: explain})
			for line := range strings.Lines(text) {
				line = strings.TrimSuffix(line, "\n")
				if cells(line) > width {
					t.Fatalf("width %d: %d cells in %q", width, cells(line), line)
				}
				if strings.TrimRight(line, " ") != line {
					t.Fatalf("width %d: blanks at the end of %q", width, line)
				}
			}
			if strings.Contains(text, "\n\n\n") || strings.HasPrefix(text, "\n") || strings.HasSuffix(text, "\n\n") {
				t.Fatalf("width %d: empty lines in a row, or at an end:\n%s", width, text)
			}
		}
	}
}

// letters are what random cells are made of: narrow, wide and combining.
var letters = []rune("abcdefghijKLMNOP0123456789é–|*東京한e\u0301")

func randomTable(r *rand.Rand) *Table {
	t := &Table{Title: "random"}
	for c := range 1 + r.IntN(7) {
		t.Columns = append(t.Columns, Column{Key: string(rune('a' + c)), Header: randomWords(r, 2), Align: Align(r.IntN(2))})
	}
	for range 1 + r.IntN(5) {
		row := make([]string, len(t.Columns))
		for c := range row {
			if t.Columns[c].Align == Number {
				row[c] = []string{"1", "22.5", "3300", "-0.125"}[r.IntN(4)]
			} else {
				row[c] = randomWords(r, 6)
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func randomWords(r *rand.Rand, most int) string {
	words := make([]string, 1+r.IntN(most))
	for i := range words {
		for range 1 + r.IntN(9) {
			words[i] += string(letters[r.IntN(len(letters))])
		}
	}
	return strings.Join(words, " ")
}

// However narrow the terminal, every letter and digit of a table is shown, and
// no line is wider than the terminal.
func TestTablesLoseNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	records := 0
	for range 3000 {
		table := randomTable(r)
		width := leastWidth + r.IntN(100)
		text := renderText(t, &Answer{Document: []Block{table}}, Options{Width: width})
		if !strings.Contains(text, "─") {
			records++
		}
		for line := range strings.Lines(text) {
			if n := cells(strings.TrimSuffix(line, "\n")); n > width {
				t.Fatalf("width %d: %d cells in %q", width, n, line)
			}
		}
		left := counts(text)
		for _, row := range table.Rows {
			for letter, n := range counts(strings.Join(row, "")) {
				if left[letter] -= n; left[letter] < 0 {
					t.Fatalf("width %d: %q is missing in\n%s", width, letter, text)
				}
			}
		}
	}
	if records == 0 || records == 3000 {
		t.Errorf("%d of 3000 tables became records: both layouts must be tried", records)
	}
}

func counts(s string) map[rune]int {
	n := map[rune]int{}
	for _, r := range s {
		if r != ' ' && r != '\n' {
			n[r]++
		}
	}
	return n
}

func TestDecimalPointsLineUp(t *testing.T) {
	table := &Table{
		Columns: []Column{{Header: "f", Unit: "MHz", Align: Number}, {Header: "x"}},
		Rows:    [][]string{{"24250.08", "a"}, {"-7.5", "b"}, {"3300", "c"}, {"", "d"}, {"none", "e"}},
	}
	got := renderText(t, &Answer{Document: []Block{table}}, Options{Width: 80})
	want := `       f   x
     MHz
────────   ─
24250.08   a
   -7.5    b
 3300      c
           d
    none   e
`
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestHostileTextCannotSteerATerminal(t *testing.T) {
	hostile := "a\x1b[2Jb\u202ec\rd\ne\tf\u009bg\xff\u200fh"
	a := &Answer{Document: []Block{
		Title{hostile, hostile}, Section(hostile), Paragraph(hostile), Verdict{Bad, hostile, hostile},
		Facts{{Name: hostile, Value: hostile, Remark: hostile}, {Name: hostile, Value: hostile, Unit: hostile}},
		&Table{Title: hostile, Columns: []Column{{Header: hostile, Unit: hostile}, {Header: hostile, Align: Number}}, Rows: [][]string{{hostile, hostile}}},
		Findings{{Error, hostile, 0, hostile, hostile, Source{Spec: hostile}}},
		Working{{hostile, hostile, hostile, hostile, Source{Spec: hostile}}},
		List{Notes, []string{hostile}}, Sources{{Spec: hostile}},
	}}
	for _, width := range []int{24, 60, 200} {
		text := renderText(t, a, Options{Width: width, Explain: true})
		for _, r := range text {
			if r != '\n' && (steers(r) || r == '\t') {
				t.Fatalf("width %d: %U reaches the terminal in\n%q", width, r, text)
			}
		}
	}
}

func TestRowsMustFitTheColumns(t *testing.T) {
	bad := &Table{Title: "bad", Columns: []Column{{Key: "a"}, {Key: "b"}}, Rows: [][]string{{"1", "2"}, {"1"}}}
	a := &Answer{Value: func() any { return 1 }, Document: []Block{bad}, Data: bad}
	for _, f := range []Format{Text, CSV, Markdown} {
		if out, err := Render(a, Options{Format: f, Width: 80}); err == nil {
			t.Errorf("%v: no error but %q", f, out)
		}
	}
	if _, err := Render(a, Options{Format: JSON}); err != nil {
		t.Errorf("json: %v", err)
	}
}

func TestAnswersThatCannotBeRendered(t *testing.T) {
	for _, f := range []Format{JSON, CSV, Format(99)} {
		if out, err := Render(&Answer{}, Options{Format: f}); err == nil {
			t.Errorf("%v: no error but %q", f, out)
		}
	}
}

func BenchmarkText(b *testing.B) {
	b.ReportAllocs()
	a := sample()
	for b.Loop() {
		if _, err := Render(a, Options{Format: Text, Width: 100, Explain: true}); err != nil {
			b.Fatal(err)
		}
	}
}
