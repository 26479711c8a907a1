package render

import (
	"bytes"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/text"
)

// gfm is a reader of GitHub Flavored Markdown that knows nothing of this package.
var gfm = goldmark.New(goldmark.WithExtensions(extension.GFM))

func parseMarkdown(source []byte) ast.Node { return gfm.Parser().Parse(text.NewReader(source)) }

// plainText returns what a reader sees of a node, and fails on anything that is
// not plain text.
func plainText(t *testing.T, n ast.Node, source []byte) string {
	t.Helper()
	var b strings.Builder
	err := ast.Walk(n, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.Text:
			b.Write(n.Segment.Value(source))
			if n.SoftLineBreak() || n.HardLineBreak() {
				b.WriteByte('\n')
			}
		case *ast.String:
			b.Write(n.Value)
		case *ast.Paragraph, *ast.TextBlock, *extast.TableCell:
		default:
			t.Errorf("%v in %q", n.Kind(), source)
		}
		return ast.WalkContinue, nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return unescape(b.String())
}

// unescape takes away the backslashes, which the reader leaves in its tree.
func unescape(s string) string {
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		if s[i] == '\\' && i+1 < len(s) && strings.IndexByte("!\"#$%&'()*+,-./:;<=>?@[\\]^_`{|}~", s[i+1]) >= 0 {
			i++
		}
		b.WriteByte(s[i])
	}
	return b.String()
}

var tricky = []string{
	"a | b", "*stars* and _lines_", "`code`", "<script>alert(1)</script>", "[link](http://example.org)",
	"http://example.org and www.example.org", "someone@example.org", "1. one", "- item", "+ item", "# head", "> quote",
	"a\nb", "```", "~~gone~~", "&amp; &lt;", "\\| \\", "![x](y)", "===", "---", "| --- |", "a\\", "12) twelve", "$x$", "[ ] task",
	"<!-- c -->", "x^2", "\x1b[31m", "<a@b.c>", "ftp://example.org", "Setext\n===",
}

func TestMarkdownTableCells(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 17))
	for range 400 {
		table := randomTable(r)
		for i := range table.Rows {
			for c := range table.Rows[i] {
				table.Rows[i][c] = tricky[r.IntN(len(tricky))]
			}
		}
		source, err := Render(&Answer{Document: []Block{table}}, Options{Format: Markdown})
		if err != nil {
			t.Fatal(err)
		}
		var got [][]string
		err = ast.Walk(parseMarkdown(source), func(n ast.Node, entering bool) (ast.WalkStatus, error) {
			if row, ok := n.(*extast.TableRow); ok && entering {
				var cells []string
				for cell := row.FirstChild(); cell != nil; cell = cell.NextSibling() {
					cells = append(cells, plainText(t, cell, source))
				}
				got = append(got, cells)
				return ast.WalkSkipChildren, nil
			}
			return ast.WalkContinue, nil
		})
		if err != nil {
			t.Fatal(err)
		}
		var want [][]string
		for _, row := range table.Rows {
			cells := make([]string, len(row))
			for c, cell := range row {
				cells[c] = clean(cell)
			}
			want = append(want, cells)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatalf("(-want +got):\n%s\n%s", diff, source)
		}
	}
}

// A paragraph and a list item show tricky text as it is and turn into nothing
// else.
func TestMarkdownParagraphs(t *testing.T) {
	for _, s := range tricky {
		source, err := Render(&Answer{Document: []Block{Paragraph(s)}}, Options{Format: Markdown})
		if err != nil {
			t.Fatal(err)
		}
		doc := parseMarkdown(source)
		if n := doc.ChildCount(); n != 1 {
			t.Errorf("%q becomes %d blocks: %q", s, n, source)
			continue
		}
		if got := plainText(t, doc.FirstChild(), source); got != clean(s) {
			t.Errorf("%q is read as %q from %q", s, got, source)
		}
		source, err = Render(&Answer{Document: []Block{List{Cautions, []string{s}}}}, Options{Format: Markdown})
		if err != nil {
			t.Fatal(err)
		}
		list, ok := parseMarkdown(source).LastChild().(*ast.List)
		if !ok || list.ChildCount() != 1 || list.FirstChild().ChildCount() != 1 {
			t.Errorf("%q becomes no list of one item: %q", s, source)
			continue
		}
		if got := plainText(t, list.FirstChild().FirstChild(), source); got != clean(s) {
			t.Errorf("%q is read as %q from %q", s, got, source)
		}
	}
}

// Sections of a part are one level below it; points are a list of plain sentences.
func TestMarkdownParts(t *testing.T) {
	for _, s := range tricky {
		source, err := Render(&Answer{Document: []Block{Title{Text: s}, Section(s), Part{s, s}, Section(s), Points{s, s}}}, Options{Format: Markdown})
		if err != nil {
			t.Fatal(err)
		}
		var levels []int
		for n := parseMarkdown(source).FirstChild(); n != nil; n = n.NextSibling() {
			switch n := n.(type) {
			case *ast.Heading:
				levels = append(levels, n.Level)
				if got := unescape(string(n.Lines().Value(source))); got != clean(s) {
					t.Errorf("%q is the heading %q", s, got)
				}
			case *ast.List:
				if n.ChildCount() != 2 || plainText(t, n.LastChild().FirstChild(), source) != clean(s) {
					t.Errorf("%q becomes no list of two: %q", s, source)
				}
			case *ast.Paragraph:
			default:
				t.Errorf("%q becomes %v in %q", s, n.Kind(), source)
			}
		}
		if diff := cmp.Diff([]int{1, 2, 2, 3}, levels); diff != "" {
			t.Errorf("%q (-want +got):\n%s", s, diff)
		}
	}
}

func TestMarkdownColumnsAlign(t *testing.T) {
	table := &Table{Columns: []Column{{Header: "name"}, {Header: "width", Unit: "MHz", Align: Number}}, Rows: [][]string{{"n78", "100"}}}
	source, err := Render(&Answer{Document: []Block{table}}, Options{Format: Markdown})
	if err != nil {
		t.Fatal(err)
	}
	parsed, ok := parseMarkdown(source).FirstChild().(*extast.Table)
	if !ok {
		t.Fatalf("no table in %q", source)
	}
	want := []extast.Alignment{extast.AlignNone, extast.AlignRight}
	if diff := cmp.Diff(want, parsed.Alignments); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if !bytes.Contains(source, []byte("| name | width (MHz) |\n")) {
		t.Errorf("header in %q", source)
	}
}
