package render

import (
	"fmt"
	"math"
)

// Plan draws places to scale, without a map behind them: north is up. HTML draws it; the
// other formats have its figures with the working.
type Plan struct {
	Title string
	// Places are in the order of the way; each has a class, of which Classes are the
	// names, from the best to the worst. Of places too close to each other one is marked.
	Places  []PlanPlace
	Classes []string
	// Marks are named places apart from the way.
	Marks               []PlanMark
	Description, Legend string
	Figures             *Table
}

// PlanPlace is a place in metres east and north.
type PlanPlace struct {
	East, North float64
	Class       int // -1 for none of the classes
	// Apart tells that the way from the place before is not known.
	Apart bool
}

// PlanMark is a named place.
type PlanMark struct {
	East, North float64
	Name        string
}

// Sizes of a plan.
const (
	planMargin  = 26.0
	planHeight  = 420.0 // at most
	planLegend  = 22.0
	northHeight = 34.0
	markApart   = 9.0 // between two marks, so that none hides the next
)

// classRadii are those of the classes, from the best.
var classRadii = [...]float64{4.4, 3.4, 2.4, 1.6}

// check finds numbers that cannot be drawn.
func (p *Plan) check() error {
	for i := range p.Places {
		if q := &p.Places[i]; !finite(q.East, q.North) || q.Class >= len(p.Classes) {
			return fmt.Errorf("render: plan %q has the place %+v", p.Title, *q)
		}
	}
	for _, m := range p.Marks {
		if !finite(m.East, m.North) {
			return fmt.Errorf("render: plan %q has the mark %+v", p.Title, m)
		}
	}
	return nil
}

func (w *htmlWriter) plan(p *Plan) {
	w.figure(p.Title, p.Description, []string{p.Legend}, p.Figures, p.draw)
}

func (p *Plan) draw(t tags, width float64, _ string) float64 {
	west, south := math.Inf(1), math.Inf(1)
	east, north := math.Inf(-1), math.Inf(-1)
	reach := func(e, n float64) {
		west, east = min(west, e), max(east, e)
		south, north = min(south, n), max(north, n)
	}
	for i := range p.Places {
		reach(p.Places[i].East, p.Places[i].North)
	}
	for _, m := range p.Marks {
		reach(m.East, m.North)
	}
	across, along := max(east-west, 1), max(north-south, 1)
	scale := min((width-2*planMargin-northHeight)/across, (planHeight-2*planMargin)/along)
	at := func(e, n float64) (x, y float64) { return planMargin + (e-west)*scale, planMargin + (north-n)*scale }
	height := 2*planMargin + along*scale
	path := ""
	for i := range p.Places {
		x, y := at(p.Places[i].East, p.Places[i].North)
		if i == 0 || p.Places[i].Apart {
			path += "M" + px(x) + " " + px(y)
		} else {
			path += "L" + px(x) + " " + px(y)
		}
	}
	t.shape("path", "d", path, "class", "trail")
	lastX, lastY := math.Inf(1), math.Inf(1) // of the last place that has its mark
	for i := range p.Places {
		x, y := at(p.Places[i].East, p.Places[i].North)
		if class := p.Places[i].Class; class < 0 || math.Hypot(x-lastX, y-lastY) >= markApart {
			t.place(x, y, class)
			lastX, lastY = x, y
		}
	}
	t.line()
	for _, m := range p.Marks {
		x, y := at(m.East, m.North)
		t.shape("path", "d", "M"+px(x)+" "+px(y-9)+"L"+px(x+7)+" "+px(y+5)+"H"+px(x-7)+"Z", "class", "mark")
		anchor, x := "start", x+11
		if x+textWidth(m.Name) > width {
			anchor, x = "end", x-22
		}
		t.element("text", m.Name, "x", px(x), "y", px(y+5), "text-anchor", anchor, "class", "name")
	}
	t.compass(width-planMargin/2, planMargin)
	metres := niceStep(70 / scale)
	t.shape("path", "d", "M"+px(planMargin)+" "+px(height-4)+"V"+px(height+4)+"M"+px(planMargin)+" "+px(height)+"H"+px(planMargin+metres*scale)+"M"+px(planMargin+metres*scale)+" "+px(height-4)+"V"+px(height+4), "class", "axis")
	t.element("text", lengthText(metres), "x", px(planMargin+metres*scale+6), "y", px(height+4), "class", "tick")
	t.line()
	return p.legend(t, width, height+planLegend)
}

// place draws a place: the better its class, the larger; a cross for none.
func (t tags) place(x, y float64, class int) {
	if class < 0 {
		t.shape("path", "d", "M"+px(x-3)+" "+px(y-3)+"L"+px(x+3)+" "+px(y+3)+"M"+px(x+3)+" "+px(y-3)+"L"+px(x-3)+" "+px(y+3), "class", "none")
		return
	}
	fill := "dot"
	if class%2 == 1 { // those between are hollow
		fill = "ring"
	}
	t.shape("circle", "cx", px(x), "cy", px(y), "r", px(classRadii[min(class, len(classRadii)-1)]), "class", fill)
}

// legend draws what the places stand for, and returns where it ends.
func (p *Plan) legend(t tags, width, y float64) float64 {
	x := planMargin
	entry := func(class int, name string) {
		room := textWidth(name) + 30
		if x+room > width && x > planMargin {
			x, y = planMargin, y+lineHeight
		}
		t.place(x, y, class)
		t.element("text", name, "x", px(x+9), "y", px(y+4), "class", "tick")
		x += room
	}
	none := false
	for i := range p.Places {
		none = none || p.Places[i].Class < 0
	}
	for i, name := range p.Classes {
		entry(i, name)
	}
	if none {
		entry(-1, "no coverage, or not known")
	}
	t.line()
	return y + lineHeight
}

// compass shows where north is.
func (t tags) compass(x, y float64) {
	t.shape("path", "d", "M"+px(x)+" "+px(y)+"L"+px(x+5)+" "+px(y+16)+"L"+px(x)+" "+px(y+12)+"L"+px(x-5)+" "+px(y+16)+"Z", "class", "mark")
	t.element("text", "N", "x", px(x), "y", px(y-5), "class", "middle tick")
	t.line()
}

// lengthText writes metres for a scale.
func lengthText(metres float64) string {
	if metres >= 1000 {
		return trimmed(metres/1000) + " km"
	}
	return trimmed(metres) + " m"
}
