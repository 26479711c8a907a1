package render

import (
	"bytes"
	"strings"
)

const (
	// indent is the room before what stands under a title or section.
	indent = 2
	// proseWidth is the widest that running text becomes: longer lines are hard
	// to read, however wide the terminal.
	proseWidth = 96
	// leastWidth is the narrowest terminal that is laid out for.
	leastWidth = 24
)

// textWriter writes documents for a terminal.
type textWriter struct {
	out     *bytes.Buffer
	style   style
	width   int
	explain bool
	whole   bool
	left    int  // blanks before each line
	short   bool // a text behind its name was written last: the next stands close to it
	joined  bool // the next block stands close to what was written last
}

func newTextWriter(out *bytes.Buffer, o *Options) *textWriter {
	return &textWriter{
		out:     out,
		style:   style{o.Color},
		width:   max(o.Width, leastWidth),
		explain: o.Explain,
		whole:   o.whole(),
		joined:  true,
	}
}

// room is how many cells a line has beside the left margin.
func (w *textWriter) room() int { return w.width - w.left }

// prose is the room for running text that starts behind the margin.
func (w *textWriter) prose() int { return min(w.room(), proseWidth) }

func (w *textWriter) open() {
	if !w.joined {
		w.out.WriteByte('\n')
	}
	w.joined, w.short = false, false
}

func (w *textWriter) line(s string) {
	if s != "" {
		w.out.WriteString(blanks(w.left))
		w.out.WriteString(s)
	}
	w.out.WriteByte('\n')
}

func (w *textWriter) lines(text string, room int, paint func(string) string) {
	for _, l := range wrap(text, room) {
		w.line(paint(l))
	}
}

func plain(s string) string { return s }

func (w *textWriter) title(b Title) {
	w.left = 0
	w.open()
	const bar = "▌ "
	for _, l := range wrap(b.Text, w.width-len("| ")) {
		w.line(w.style.bold(bar + l))
	}
	if b.Detail != "" {
		for _, l := range wrap(b.Detail, min(w.width, proseWidth)-len("| ")) {
			w.line(w.style.bold(bar) + l)
		}
	}
	w.left = indent
}

// part opens with its name over a line.
func (w *textWriter) part(b Part) {
	w.left = 0
	w.open()
	most := 0
	for _, l := range wrap(b.Text, w.prose()) {
		w.line(w.style.bold(l))
		most = max(most, cells(l))
	}
	w.line(w.style.faint(strings.Repeat("━", max(most, 1))))
	if b.Detail != "" {
		w.lines(b.Detail, w.prose(), plain)
	}
	w.left = indent
}

func (w *textWriter) section(b Section) {
	w.left = 0
	w.open()
	w.lines(string(b), w.prose(), w.style.bold)
	w.left = indent
	w.joined = true
}

func (w *textWriter) paragraph(b Paragraph) {
	w.open()
	w.lines(string(b), w.prose(), plain)
}

func (w *textWriter) points(b Points) {
	w.open()
	for _, s := range b {
		w.hanging("· ", 2, s, plain)
	}
}

// hanging writes text behind a head of headCells cells on its first line, and
// below itself on the next lines.
func (w *textWriter) hanging(head string, headCells int, text string, paint func(string) string) {
	for i, l := range wrap(text, w.prose()-headCells) {
		if i > 0 {
			head = blanks(headCells)
		}
		w.line(strings.TrimRight(head+paint(l), " "))
	}
}

func (w *textWriter) verdict(b Verdict) {
	w.open()
	word := clean(b.Word)
	w.hanging(w.style.tone(b.Tone, w.style.bold(word))+blanks(2), cells(word)+2, b.Text, plain)
}

func (w *textWriter) findings(b Findings) {
	w.open()
	most := 0
	for _, f := range b {
		most = max(most, len(f.Severity))
	}
	for _, f := range b {
		word := string(f.Severity)
		head := w.style.tone(f.Severity.tone(), word) + blanks(most-len(word)+gutter)
		w.hanging(head, most+gutter, f.Text(), plain)
	}
}

func (w *textWriter) working(b Working) {
	w.heading("Working")
	for i, s := range b {
		if i > 0 {
			w.out.WriteByte('\n')
		}
		w.lines(s.Name, w.prose(), plain)
		w.left += indent
		at := 0 // where the equals signs stand
		if i := strings.Index(s.Formula, " = "); i >= 0 {
			at = cells(s.Formula[:i+1])
			if at > w.room()/2 {
				at = 0
			}
		}
		if s.Formula != "" {
			w.continued(s.Formula, at+2)
		}
		for _, part := range [...]string{s.Numbers, s.Result} {
			if part != "" {
				w.left += at
				w.continued("= "+part, 2)
				w.left -= at
			}
		}
		if s.Source != (Source{}) {
			w.lines(s.Source.String(), w.prose(), w.style.faint)
		}
		w.left -= indent
	}
}

// continued writes text whose later lines stand deeper than its first.
func (w *textWriter) continued(text string, deeper int) {
	for i, l := range wrap(text, w.prose()-deeper) {
		if i > 0 {
			l = blanks(deeper) + l
		}
		w.line(l)
	}
}

// heading opens a block that names itself, at the left edge.
func (w *textWriter) heading(name string) {
	w.section(Section(name))
	w.joined = false
}

func (w *textWriter) list(b List) {
	if !w.whole && (b.Kind == Cautions || len(b.Items) == 1) {
		w.named(listTitles[b.Kind], strings.Join(b.Items, " "))
		return
	}
	w.heading(listTitles[b.Kind])
	for _, item := range b.Items {
		w.hanging("· ", 2, item, plain)
	}
}

func (w *textWriter) spectrum(s *Spectrum) { w.table(s.table()) }

func (w *textWriter) bars(b *Bars) { w.table(b.table()) }

func (w *textWriter) plot(p *Plot) { w.table(p.Figures) }

func (w *textWriter) trace(t *Trace) { w.table(t.Figures) }

func (w *textWriter) plan(p *Plan) { w.table(p.Figures) }

// named writes a text behind its name.
func (w *textWriter) named(name, text string) {
	w.joined = w.joined || w.short
	w.open()
	w.hanging(w.style.bold(name)+blanks(2), cells(name)+2, text, plain)
	w.short = true
}

func (w *textWriter) folds(bool) {}

func (w *textWriter) more() {
	w.joined = w.short
	w.open()
	w.lines("--full shows all of it, --explain the working.", w.prose(), w.style.faint)
}

func (w *textWriter) sources(b Sources) {
	if !w.whole {
		w.named("Sources", b.specs())
		return
	}
	w.heading("Sources")
	for _, c := range b.group() {
		w.continued(c.String(), indent)
	}
}
