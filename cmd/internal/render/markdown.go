package render

import (
	"bytes"
	"strings"
)

// markdownWriter writes documents as GitHub Flavored Markdown.
type markdownWriter struct {
	out     *bytes.Buffer
	explain bool
	parts   bool // the document is in parts, to which its sections belong
}

func (w *markdownWriter) open() {
	if w.out.Len() > 0 {
		w.out.WriteByte('\n')
	}
}

func (w *markdownWriter) line(parts ...string) {
	for _, p := range parts {
		w.out.WriteString(p)
	}
	w.out.WriteByte('\n')
}

func (w *markdownWriter) title(b Title) {
	w.open()
	w.parts = false
	w.line("# ", inline(b.Text))
	if b.Detail != "" {
		w.line()
		w.line(paragraph(b.Detail))
	}
}

func (w *markdownWriter) part(b Part) {
	w.open()
	w.line("## ", inline(b.Text))
	if b.Detail != "" {
		w.line()
		w.line(paragraph(b.Detail))
	}
	w.parts = true
}

func (w *markdownWriter) section(b Section) {
	w.open()
	head := "## "
	if w.parts {
		head = "### "
	}
	w.line(head, inline(string(b)))
}

func (w *markdownWriter) paragraph(b Paragraph) {
	w.open()
	w.line(paragraph(string(b)))
}

func (w *markdownWriter) points(b Points) {
	w.open()
	for _, s := range b {
		w.line("- ", paragraph(s))
	}
}

func (w *markdownWriter) facts(b Facts) {
	w.open()
	for _, f := range b {
		value := f.Value
		if f.Unit != "" {
			value += " " + f.Unit
		}
		w.line("- **", inline(f.Name), ":** ", inline(value+f.trail(w.explain)))
	}
}

func (w *markdownWriter) verdict(b Verdict) {
	w.open()
	w.line("**", inline(b.Word), "** ", inline(b.Text))
}

func (w *markdownWriter) findings(b Findings) {
	w.open()
	for _, f := range b {
		w.line("- **", inline(string(f.Severity)), "** ", inline(f.sentence()), " (", inline(f.basis()), ")")
	}
}

func (w *markdownWriter) working(b Working) {
	w.section("Working")
	w.line()
	for _, s := range b {
		lines := []string{paragraph(s.Name)}
		text := s.Formula
		for _, part := range [...]string{s.Numbers, s.Result} {
			if part != "" {
				text += " = " + part
			}
		}
		lines = append(lines, inline(strings.TrimPrefix(text, " = ")))
		if s.Source != (Source{}) {
			lines = append(lines, inline(s.Source.String()))
		}
		w.line("1. ", strings.Join(lines, "  \n   "))
	}
}

func (w *markdownWriter) list(b List) {
	w.section(Section(listTitles[b.Kind]))
	w.line()
	for _, item := range b.Items {
		w.line("- ", paragraph(item))
	}
}

func (w *markdownWriter) sources(b Sources) {
	w.section("Sources")
	w.line()
	for _, c := range b.group() {
		w.line("- ", paragraph(c.String()))
	}
}

func (w *markdownWriter) spectrum(s *Spectrum) { w.table(s.table()) }

func (w *markdownWriter) bars(b *Bars) { w.table(b.table()) }

func (w *markdownWriter) plot(p *Plot) { w.table(p.Figures) }

func (w *markdownWriter) trace(t *Trace) { w.table(t.Figures) }

func (w *markdownWriter) plan(p *Plan) { w.table(p.Figures) }

func (w *markdownWriter) table(t *Table) {
	if title := t.heading(w.explain); title != "" {
		w.section(Section(title))
	}
	w.open()
	head := make([]string, len(t.Columns))
	rule := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		head[i] = inline(c.Header)
		if c.Unit != "" {
			head[i] = inline(c.Header + " (" + c.Unit + ")")
		}
		rule[i] = "---"
		if c.Align == Number {
			rule[i] = "--:"
		}
	}
	w.row(head)
	w.row(rule)
	cells := make([]string, len(t.Columns))
	for _, row := range t.Rows {
		for i, cell := range row {
			cells[i] = inline(cell)
		}
		w.row(cells)
	}
}

func (w *markdownWriter) row(cells []string) {
	w.line("| ", strings.Join(cells, " | "), " |")
}

func (w *markdownWriter) folds(bool) {}

func (w *markdownWriter) more() {} // Markdown has all
