package render

import (
	"bytes"
	"slices"
	"strings"
)

// A drawing is laid out twice, for a wide page and for a narrow one such as that of a
// phone, so that its letters stay readable; the style sheet shows one of the two.
const (
	wideDrawing   = 720
	narrowDrawing = 340
)

// figure writes a drawing with its heading, what it means, and its numbers. draw draws
// it so wide, into tags, and returns its height; id is for what it has to refer to.
func (w *htmlWriter) figure(title, description string, legend []string, figures *Table, draw func(t tags, width float64, id string) (height float64)) {
	w.endFold()
	w.open("figure")
	w.line()
	if title != "" {
		w.element("p", title, "class", "figure-title")
		w.line()
	}
	for _, size := range [...]struct {
		class string
		width float64
	}{{"drawing wide", wideDrawing}, {"drawing narrow", narrowDrawing}} {
		w.drawing(title, description, size.class, size.width, draw)
	}
	legend = slices.DeleteFunc(legend, func(s string) bool { return slices.Contains(w.legends, s) }) // said once
	if len(legend) > 0 {
		w.legends = append(w.legends, legend...)
		w.element("figcaption", strings.Join(legend, " "))
		w.line()
	}
	w.fold("The same in numbers")
	w.grid(figures, title+" in numbers", true)
	w.unfold()
	w.close("figure")
	w.line()
}

func (w *htmlWriter) drawing(title, description, class string, width float64, draw func(t tags, width float64, id string) float64) {
	id := w.id("drawing")
	shapes := tags{new(bytes.Buffer)}
	height := draw(shapes, width, id)
	w.open("svg", "class", class, "role", "img", "aria-labelledby", id+"-title "+id+"-text",
		"viewBox", "0 0 "+px(width)+" "+px(height), "width", px(width), "height", px(height))
	w.line()
	w.element("title", title, "id", id+"-title")
	w.element("desc", description, "id", id+"-text")
	w.line()
	w.out.Write(shapes.out.Bytes())
	w.close("svg")
	w.line()
}

// hatching makes a pattern of slanting lines that a fill can refer to by its id.
func (t tags) hatching(id, class string) {
	t.open("defs")
	t.open("pattern", "id", id, "width", "5", "height", "5", "patternUnits", "userSpaceOnUse", "patternTransform", "rotate(45)")
	t.shape("rect", "width", "5", "height", "5", "class", "hatch-ground")
	t.shape("rect", "width", "2", "height", "5", "class", class)
	t.close("pattern")
	t.close("defs")
	t.line()
}
