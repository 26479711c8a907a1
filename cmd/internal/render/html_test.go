package render

import (
	"bytes"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"spectally/cmd/internal/htmlcheck"
)

// page renders an answer as a page that has to be sound.
func page(t *testing.T, a *Answer, o Options) *html.Node {
	t.Helper()
	o.Format = HTML
	out, err := Render(a, o)
	if err != nil {
		t.Fatal(err)
	}
	for _, problem := range htmlcheck.Page(out) {
		t.Error(problem)
	}
	root, err := html.Parse(bytes.NewReader(out))
	if err != nil {
		t.Fatal(err)
	}
	return root
}

func TestPagesAreSound(t *testing.T) {
	for name, a := range map[string]*Answer{
		"sample": sample(), "pictures": pictures(), "nothing": {Document: []Block{Title{Text: "Nothing"}}},
		"cards": {Document: []Block{Title{Text: "One"}, Section("A"), Paragraph("x"), Title{Text: "Two"}, Section("A"), &Table{Columns: []Column{{Header: "h"}}, Rows: [][]string{{"c"}}}}},
	} {
		for _, o := range []Options{{}, {Explain: true}, {Quiet: true}} {
			t.Run(name, func(t *testing.T) { page(t, a, o) })
		}
	}
}

// A fragment has no ids that one with another prefix has.
func TestFragmentsStandTogether(t *testing.T) {
	var both []byte
	for _, prefix := range []string{"a-", "b-"} {
		out, err := Fragment(pictures(), Options{}, prefix)
		if err != nil {
			t.Fatal(err)
		}
		both = append(both, out...)
	}
	for _, problem := range htmlcheck.Fragment(both) {
		t.Error(problem)
	}
	whole, err := Render(pictures(), Options{Format: HTML})
	if err != nil {
		t.Fatal(err)
	}
	alone, err := Fragment(pictures(), Options{Format: Text}, "")
	if err != nil || !bytes.Contains(whole, alone) || len(alone) == 0 {
		t.Errorf("the page does not hold the fragment: %v", err)
	}
}

func TestStylesheetRefersToNothing(t *testing.T) {
	htmlcheck.Style(Stylesheet(), t.Errorf)
}

// The working is folded, and unfolded for those who ask for it.
func TestWorkingFolds(t *testing.T) {
	for _, explain := range []bool{false, true} {
		folds := htmlcheck.Find(page(t, sample(), Options{Explain: explain}), "details")
		if len(folds) != 3 { // the assumptions, the working, and the table of details
			t.Fatalf("%d folds", len(folds))
		}
		for _, f := range folds {
			assumed := htmlcheck.Attribute(f, "class") == "assumed"
			if open := htmlcheck.Attribute(f, "open") != ""; open != (explain || assumed) {
				t.Errorf("with explain %v a fold is open: %v", explain, open)
			}
		}
	}
}

// hostile are texts that would do harm if they were not escaped, or hidden.
var hostile = []string{
	`<script>alert(1)</script>`, `</title><script>alert(1)</script>`, `</style><script>x</script>`, `</svg><img src=x onerror=alert(1)>`,
	`"><svg onload=alert(1)>`, `' onmouseover='alert(1)`, `javascript:alert(1)`, `<!--`, `-->`, `<![CDATA[x]]>`, `]]>`, `&lt;b&gt;`, `&#x3c;script&#x3e;`,
	`</desc></svg><h1>x</h1>`, `<a href="http://example.org">x</a>`, `<style>*{display:none}</style>`, `</details></figure></main>`, `\u003cscript\u003e`,
	"`${alert(1)}`", `{{.}}`, `=HYPERLINK("http://example.org")`, `+1+1`, `@SUM(A1)`, "\x1b[31mred", "a\x00b", "a\u202eb", "a\u2028b", "line\nbreak", "\xff\xfe", "𝕏 東京 e\u0301", strings.Repeat("long ", 60), strings.Repeat("w", 300),
}

// typed is a document with one text in every place where a text can stand.
func typed(s string) *Answer {
	source := Source{"TS 38.306", "19.2.0", "clause 4.1.2"}
	carrier := pictures()
	strip := *carrier.Document[4].(*Spectrum)
	strip.Title = s
	strip.Lanes = append([]Lane{}, strip.Lanes...)
	strip.Lanes[0].Name = s
	return &Answer{Document: []Block{
		Title{s, s}, Paragraph(s), Points{s, s}, Part{s, s}, Section(s), Facts{{Name: s, Value: s, Remark: s}, {Name: s, Value: s, Unit: s, Source: source}},
		&Table{Title: s, Columns: []Column{{Header: s, Unit: s}, {Header: s, Align: Number}}, Rows: [][]string{{s, s}, {s, s}}},
		&Table{Title: s, Detail: true, Columns: []Column{{Header: s}}, Rows: [][]string{{s}}},
		Verdict{Bad, s, s}, Findings{{Error, s, 0, s, s, source}}, Working{{s, s, s, s, Source{s, s, s}}}, List{Cautions, []string{s}}, Part{s, ""},
		&strip,
		&Bars{Title: s, Unit: s, Of: s, Legend: s, Groups: []BarGroup{{Name: s, Bars: []Bar{{Name: s, Value: "5", Low: "4", High: "6", Remark: s}}}}},
		&Plot{Title: s, X: Axis{Name: s, Unit: s, To: 1}, Y: Axis{Name: s, To: 1}, Description: s, Legend: s, Figures: small(s), Series: []Series{{Name: s, Style: Dots, At: []XY{{X: 1, Y: 1}}}, {Name: s, At: []XY{{}, {X: 1, Y: 1}}}}},
		&Trace{Title: s, X: Axis{Name: s, To: 2}, Y: Axis{Name: s, To: 2}, Lane: s, Description: s, Legend: s, Figures: small(s), Pieces: []Piece{{From: 0, To: 1, High: 1, Known: true, Name: s}, {From: 1, To: 2}}},
		&Plan{Title: s, Classes: []string{s}, Description: s, Legend: s, Figures: small(s), Places: []PlanPlace{{}, {East: 5, Class: -1}}, Marks: []PlanMark{{North: 3, Name: s}}},
		Sources{{s, s, s}},
	}}
}

func small(s string) *Table {
	return &Table{Columns: []Column{{Header: s, Unit: s}}, Rows: [][]string{{s}}}
}

// What a user types changes no element and no attribute of a page, and stands there
// as it is, less what a reader must not be shown.
func TestHostileTexts(t *testing.T) {
	want := htmlcheck.Structure(page(t, typed("plain"), Options{Explain: true}))
	for _, s := range hostile {
		root := page(t, typed(s), Options{Explain: true})
		if got := htmlcheck.Structure(root); got != want {
			t.Errorf("%q changes the elements of the page", s)
		}
		shown := clean(s)
		if got := htmlcheck.Text(htmlcheck.Find(root, "h1")[0]); got != shown {
			t.Errorf("%q is shown as %q", s, got)
		}
		if got := htmlcheck.Text(htmlcheck.Find(root, "td")[0]); got != shown {
			t.Errorf("%q is shown as %q in a table", s, got)
		}
		if desc := htmlcheck.Find(root, "desc")[0].FirstChild.Data; !strings.HasPrefix(desc, shown) {
			t.Errorf("%q is described as %q", s, desc)
		}
	}
}

// Nothing that a user types steers a terminal or ends a line of text or Markdown.
func TestHostileTextsInText(t *testing.T) {
	for _, s := range hostile {
		for _, f := range []Format{Text, Markdown} {
			out, err := Render(typed(s), Options{Format: f, Width: 100, Explain: true})
			if err != nil {
				t.Fatal(err)
			}
			for _, r := range string(out) {
				if r != '\n' && steers(r) {
					t.Errorf("%v has %U of %q", f, r, s)
				}
			}
		}
	}
}

func FuzzPage(f *testing.F) {
	for _, s := range hostile {
		f.Add(s)
	}
	want := ""
	f.Fuzz(func(t *testing.T, s string) {
		if strings.TrimSpace(clean(s)) == "" {
			return // a heading of nothing
		}
		if want == "" {
			want = htmlcheck.Structure(page(t, typed("plain"), Options{Explain: true}))
		}
		if got := htmlcheck.Structure(page(t, typed(s), Options{Explain: true})); got != want {
			t.Errorf("%q changes the elements of the page", s)
		}
	})
}

// The cells of a table are those of the table, with the numbers padded at their ends.
func TestHTMLTableCells(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 23))
	for range 80 {
		table := randomTable(r)
		root := page(t, &Answer{Document: []Block{Title{Text: "T"}, table}}, Options{})
		rows := htmlcheck.Find(root, "tr")
		if len(rows) != 1+len(table.Rows) {
			t.Fatalf("%d rows for %d", len(rows), len(table.Rows))
		}
		for i, row := range table.Rows {
			c := 0
			for cell := range rows[i+1].ChildNodes() {
				if got, want := strings.TrimRight(htmlcheck.Text(cell), " "+pointBlank+digitBlank), strings.TrimRight(clean(row[c]), " "); got != want {
					t.Fatalf("cell %d of row %d is %q, want %q", c, i, got, want)
				}
				c++
			}
		}
	}
}

// Decimal points stand below each other: behind each number there is as much room as
// the longest has decimals.
func TestHTMLDecimalPoints(t *testing.T) {
	table := &Table{Columns: []Column{{Header: "x", Align: Number}}, Rows: [][]string{{"1"}, {"2.5"}, {"-3.125"}, {"?"}, {""}}}
	want := []string{pointBlank + strings.Repeat(digitBlank, 3), strings.Repeat(digitBlank, 2), "", "", ""}
	for r, got := range table.pads()[0] {
		if got != want[r] {
			t.Errorf("row %d: %q, want %q", r, got, want[r])
		}
	}
}

// Cells lead where they are told to, as text leads nowhere.
func TestLinkedCells(t *testing.T) {
	a := &Answer{Document: []Block{&Table{Columns: []Column{{Header: "band"}, {Header: "to", Align: Number}}, Rows: [][]string{{"n78", "1.5"}, {`"><b>`, "2"}}}}}
	link := func(header, cell string) string {
		if header == "band" {
			return "/see?it=" + cell
		}
		return ""
	}
	out, err := Fragment(a, Options{Link: link}, "")
	if err != nil {
		t.Fatal(err)
	}
	root, err := htmlcheck.ParseFragment(out)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, n := range htmlcheck.Find(root, "a") {
		got = append(got, htmlcheck.Attribute(n, "href"))
	}
	if want := []string{"/see?it=n78", `/see?it="><b>`}; !slices.Equal(got, want) {
		t.Errorf("links to %q, want %q", got, want)
	}
}

// A row without a first cell has no heading.
func TestEmptyCellHeadsNothing(t *testing.T) {
	table := &Table{Columns: []Column{{Header: "a"}, {Header: "b"}}, Rows: [][]string{{"1", "2"}, {"", "3"}, {" ", "4"}}}
	var heads []string
	for _, th := range htmlcheck.Find(page(t, &Answer{Document: []Block{Title{Text: "Rows"}, table}}, Options{}), "th") {
		if htmlcheck.Attribute(th, "scope") == "row" {
			heads = append(heads, htmlcheck.Text(th))
		}
	}
	if !slices.Equal(heads, []string{"1"}) {
		t.Errorf("rows are headed by %q", heads)
	}
}
