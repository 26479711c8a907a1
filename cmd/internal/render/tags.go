package render

import (
	"bytes"
	"html"
	"math"
	"strconv"
)

// tags writes HTML and the SVG in it. Names of elements and attributes are this
// package's own; all text and every value of an attribute is cleaned and escaped, so
// that nothing a user typed can become markup.
type tags struct{ out *bytes.Buffer }

// open begins an element. Attributes are names and values in turn; one whose value is
// empty is left out.
func (t tags) open(name string, attributes ...string) { t.start(name, attributes, ">") }

// void writes an element of HTML that has no end.
func (t tags) void(name string, attributes ...string) { t.start(name, attributes, ">") }

// shape writes an element of SVG that holds nothing.
func (t tags) shape(name string, attributes ...string) { t.start(name, attributes, "/>") }

func (t tags) start(name string, attributes []string, end string) {
	t.out.WriteByte('<')
	t.out.WriteString(name)
	for i := 0; i+1 < len(attributes); i += 2 {
		if attributes[i+1] == "" {
			continue
		}
		t.out.WriteByte(' ')
		t.out.WriteString(attributes[i])
		t.out.WriteString(`="`)
		t.text(attributes[i+1])
		t.out.WriteByte('"')
	}
	t.out.WriteString(end)
}

func (t tags) close(name string) {
	t.out.WriteString("</")
	t.out.WriteString(name)
	t.out.WriteByte('>')
}

func (t tags) text(s string) { t.out.WriteString(html.EscapeString(clean(s))) }

// element writes an element that holds text.
func (t tags) element(name, text string, attributes ...string) {
	t.open(name, attributes...)
	t.text(text)
	t.close(name)
}

// line ends a line of the source, for those who read it.
func (t tags) line() { t.out.WriteByte('\n') }

// px writes a length of a drawing, to a tenth.
func px(x float64) string {
	return strconv.FormatFloat(math.Round(x*10)/10, 'f', -1, 64)
}
