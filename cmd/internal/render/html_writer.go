package render

import (
	"strconv"
	"strings"
)

// htmlWriter writes documents as HTML.
type htmlWriter struct {
	tags
	explain  bool
	prefix   string // of ids
	ids      int    // given so far
	contents []string
	legends  []string // sentences about drawings, so far
	parts    int      // begun so far
	folding  bool     // what stands under a heading is folded under it
	folded   bool     // a fold is open
	heading  string   // the last one, which names a table without a title
	link     func(header, cell string) string
}

// id makes an id that the fragment has only once.
func (w *htmlWriter) id(what string) string {
	w.ids++
	return w.prefix + what + "-" + strconv.Itoa(w.ids)
}

func (w *htmlWriter) partID(n int) string { return w.prefix + "part-" + strconv.Itoa(n) }

func (w *htmlWriter) title(b Title) {
	w.open("header")
	w.element("h1", b.Text)
	if b.Detail != "" {
		w.element("p", b.Detail, "class", "detail")
	}
	w.close("header")
	w.line()
	w.heading = b.Text
	if w.parts == 0 && len(w.contents) > 1 {
		w.navigation()
	}
}

// navigation links to the parts.
func (w *htmlWriter) navigation() {
	w.open("nav", "aria-label", "Contents")
	w.open("ul")
	for i, name := range w.contents {
		w.open("li")
		w.element("a", name, "href", "#"+w.partID(i+1))
		w.close("li")
	}
	w.close("ul")
	w.close("nav")
	w.line()
}

func (w *htmlWriter) part(b Part) {
	w.endFold()
	w.parts++
	w.element("h2", b.Text, "id", w.partID(w.parts), "class", "part")
	if b.Detail != "" {
		w.element("p", b.Detail, "class", "detail")
	}
	w.line()
	w.heading = b.Text
}

func (w *htmlWriter) section(b Section) {
	w.heading = string(b)
	if w.folding {
		w.beginFold(string(b))
		return
	}
	level := "h2"
	if w.parts > 0 {
		level = "h3"
	}
	w.element(level, string(b))
	w.line()
}

// prose keeps a number and its unit on one line.
func prose(s string) string { return strings.Join(words(clean(s)), " ") }

func (w *htmlWriter) paragraph(b Paragraph) {
	w.element("p", prose(string(b)))
	w.line()
}

func (w *htmlWriter) points(b Points) { w.items(b, "points") }

func (w *htmlWriter) items(list []string, class string) {
	w.open("ul", "class", class)
	w.line()
	for _, s := range list {
		w.element("li", prose(s))
		w.line()
	}
	w.close("ul")
	w.line()
}

func (w *htmlWriter) facts(b Facts) {
	w.open("dl")
	w.line()
	for _, f := range b {
		w.open("div")
		w.element("dt", f.Name)
		w.open("dd")
		if f.Unit != "" {
			w.element("span", f.Value, "class", "figure")
			w.text(string(noBreak) + f.Unit)
		} else {
			w.text(prose(f.Value))
		}
		w.text(f.trail(w.explain))
		w.close("dd")
		w.close("div")
		w.line()
	}
	w.close("dl")
	w.line()
}

var toneClasses = [...]string{Neutral: "neutral", Good: "good", Doubtful: "doubtful", Bad: "bad"}

func (w *htmlWriter) verdict(b Verdict) {
	w.open("p", "class", "verdict "+toneClasses[b.Tone])
	w.element("strong", b.Word)
	w.text(" " + prose(b.Text))
	w.close("p")
	w.line()
}

func (w *htmlWriter) findings(b Findings) {
	w.open("ul", "class", "findings")
	w.line()
	for _, f := range b {
		w.open("li", "class", toneClasses[f.Severity.tone()])
		w.element("strong", string(f.Severity))
		w.text(" " + prose(f.sentence()) + " ")
		w.element("span", "("+f.basis()+")", "class", "basis")
		w.close("li")
		w.line()
	}
	w.close("ul")
	w.line()
}

// fold begins a part that is shut until somebody asks for it.
func (w *htmlWriter) fold(summary string) {
	if w.explain {
		w.open("details", "open", "open")
	} else {
		w.open("details")
	}
	w.element("summary", summary)
	w.line()
}

func (w *htmlWriter) unfold() {
	w.close("details")
	w.line()
}

// folds begins and ends details: each heading in them has a fold of its own.
func (w *htmlWriter) folds(begin bool) {
	w.endFold()
	w.folding = begin
}

func (w *htmlWriter) beginFold(heading string) {
	w.endFold()
	w.fold(heading)
	w.folded = true
}

func (w *htmlWriter) endFold() {
	if w.folded {
		w.unfold()
	}
	w.folded = false
}

func (w *htmlWriter) more() {} // HTML has all

func (w *htmlWriter) working(b Working) {
	w.endFold()
	w.fold("Working")
	w.open("ol", "class", "working")
	w.line()
	for _, s := range b {
		w.open("li")
		w.element("span", s.Name, "class", "step")
		text := s.Formula
		for _, part := range [...]string{s.Numbers, s.Result} {
			if part != "" {
				text += " = " + part
			}
		}
		if text = strings.TrimPrefix(text, " = "); text != "" {
			w.element("span", text, "class", "formula")
		}
		if s.Source != (Source{}) {
			w.element("span", s.Source.String(), "class", "basis")
		}
		w.close("li")
		w.line()
	}
	w.close("ol")
	w.unfold()
}

func (w *htmlWriter) list(b List) {
	if b.Kind == Assumptions && !w.folding {
		w.assumptions(b)
		return
	}
	w.section(Section(listTitles[b.Kind]))
	class := "points"
	if b.Kind == Cautions {
		class = "points caution"
	}
	w.items(b.Items, class)
}

// assumptions are open, and can be folded.
func (w *htmlWriter) assumptions(b List) {
	w.endFold()
	w.heading = listTitles[b.Kind]
	w.open("details", "class", "assumed", "open", "open")
	w.element("summary", w.heading)
	w.line()
	w.items(b.Items, "points")
	w.unfold()
}

func (w *htmlWriter) sources(b Sources) {
	w.section("Sources")
	groups := b.group()
	list := make([]string, len(groups))
	for i, c := range groups {
		list[i] = c.String()
	}
	w.items(list, "points sources")
}
