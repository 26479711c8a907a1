// Package manpage writes pages for the command man, in the macros of man(7). A page is
// plain ASCII: what is not is named by its code point, so that no reader has to be told
// an encoding.
package manpage

import (
	"fmt"
	"strings"
)

// Page is a page that is being written.
type Page struct {
	b     strings.Builder
	begun bool // a section has a paragraph already
}

// New begins a page of section 1, commands. The date may be empty; source is the
// program with its version.
func New(name, date, source, manual string) *Page {
	p := &Page{}
	p.line(".TH", quoted(strings.ToUpper(name)), "1", `"`+date+`"`, quoted(source), quoted(manual))
	return p
}

// Name is the section by which a page is found: what the command is called, and what
// it is for.
func (p *Page) Name(name, purpose string) {
	p.Section("Name")
	p.text(escaped(name) + ` \- ` + escaped(purpose))
}

// Section begins a section.
func (p *Page) Section(title string) {
	p.line(".SH", quoted(strings.ToUpper(title)))
	p.begun = false
}

// Paragraph writes a paragraph.
func (p *Page) Paragraph(text string) {
	if p.begun {
		p.line(".PP")
	}
	p.begun = true
	p.text(escaped(text))
}

// Synopsis writes how a command is used: its name in bold, the rest as it stands.
func (p *Page) Synopsis(name, rest string) {
	p.begun = true
	p.text(strings.TrimSpace(Bold(name) + " " + escaped(rest)))
}

// Entry writes a term with what it means. The term has its marks already; see [Bold]
// and [Italic].
func (p *Page) Entry(term, text string) {
	p.line(".TP")
	p.line(guarded(term)) // of one line, however long it is
	p.text(escaped(text))
}

// SeeAlso names other pages of section 1.
func (p *Page) SeeAlso(names []string) {
	p.Section("See also")
	for i, name := range names {
		end := "(1),"
		if i == len(names)-1 {
			end = "(1)"
		}
		p.line(".BR", escaped(name), end)
	}
}

// Bytes returns the page.
func (p *Page) Bytes() []byte { return []byte(p.b.String()) }

// Bold is a text in bold: what is typed as it stands.
func Bold(text string) string { return `\fB` + escaped(text) + `\fR` }

// Italic is a text in italics: what something else is put in the place of.
func Italic(text string) string { return `\fI` + escaped(text) + `\fR` }

func (p *Page) line(words ...string) { p.b.WriteString(strings.Join(words, " ") + "\n") }

// widest is the longest line of text, as readers of the source expect.
const widest = 79

// text writes lines of words.
func (p *Page) text(words string) {
	line := ""
	for word := range strings.FieldsSeq(words) {
		switch {
		case line == "":
			line = guarded(word)
		case len(line)+1+len(word) <= widest:
			line += " " + word
		default:
			p.line(line)
			line = guarded(word)
		}
	}
	p.line(line)
}

// guarded is a line that is no macro, whatever it begins with.
func guarded(line string) string {
	if strings.HasPrefix(line, ".") || strings.HasPrefix(line, "'") {
		return `\&` + line
	}
	return line
}

// quoted is an argument of a macro.
func quoted(text string) string { return `"` + escaped(text) + `"` }

// escaped writes a text on one line, so that it comes out as it is: a hyphen that can be
// copied, and no mark that means something else.
func escaped(text string) string {
	var b strings.Builder
	for _, r := range strings.Join(strings.Fields(text), " ") {
		switch {
		case r == '\\':
			b.WriteString(`\e`)
		case r == '-':
			b.WriteString(`\-`)
		case r == '"':
			b.WriteString(`\(dq`)
		case r == '\'':
			b.WriteString(`\(aq`)
		case r == '`':
			b.WriteString("\\`")
		case r == '^':
			b.WriteString(`\(ha`)
		case r == '~':
			b.WriteString(`\(ti`)
		case r < 0x7f:
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, `\[u%04X]`, r)
		}
	}
	return b.String()
}
