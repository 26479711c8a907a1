package render

import (
	"errors"
	"fmt"
	"math"
)

// Plot draws numbers over two axes: samples as dots, curves as lines. HTML draws it; the
// other formats have its figures with the working.
type Plot struct {
	Title string
	X, Y  Axis
	// Series are drawn in their order, the later over the earlier.
	Series []Series
	// Description says in sentences what the drawing shows, for those who don't see it.
	Description, Legend string
	// Figures are the same in numbers.
	Figures *Table
}

// Axis is one of the axes of a drawing.
type Axis struct {
	Name, Unit string
	From, To   float64
	Log        bool // From and To are above zero then
}

// Series are the numbers of one kind.
type Series struct {
	// Name stands in the key below the drawing; a series without one is not in it.
	Name  string
	Style Stroke
	At    []XY
}

// XY is a point of a series.
type XY struct {
	X, Y float64
	// Weight is how many samples a dot stands for, 1 if it is 0; High the upper end of a
	// range whose lower end is Y.
	Weight, High float64
}

// Stroke is how a series is drawn. No two look alike without colour.
type Stroke uint8

// The strokes.
const (
	Line    Stroke = iota // solid
	Dashed                // long dashes
	Dotted                // dots
	DashDot               // dashes and dots in turn
	Dots                  // a dot at each point
	Ranges                // a vertical line with two ends at each point
)

var strokeClasses = [...]string{Line: "curve", Dashed: "curve dashed", Dotted: "curve dotted", DashDot: "curve dashdot", Dots: "dot", Ranges: "range"}

// Strokes are those of lines, in the order in which lines of equal rank have them.
var Strokes = []Stroke{Line, Dashed, Dotted, DashDot}

// Sizes of a plot.
const (
	plotHeight = 300.0
	plotLeft   = 46.0
	plotTop    = 20.0
	plotBottom = 36.0
	plotRight  = 14.0
	leastDot   = 1.3
	mostDot    = 4.5
)

func (p *Plot) count() int {
	n := 0
	for i := range p.Series {
		n += len(p.Series[i].At)
	}
	return n
}

// check finds numbers that cannot be drawn.
func (p *Plot) check() error {
	if err := errors.Join(p.X.check(), p.Y.check()); err != nil {
		return fmt.Errorf("render: plot %q: %w", p.Title, err)
	}
	for i := range p.Series {
		for _, v := range p.Series[i].At {
			if !finite(v.X, v.Y, v.Weight, v.High) || p.X.Log && v.X <= 0 || p.Y.Log && v.Y <= 0 {
				return fmt.Errorf("render: plot %q has the point %+v", p.Title, v)
			}
		}
	}
	return nil
}

func (a *Axis) check() error {
	if !finite(a.From, a.To) || a.From >= a.To || a.Log && a.From <= 0 {
		return fmt.Errorf("axis %q goes from %v to %v", a.Name, a.From, a.To)
	}
	return nil
}

func finite(list ...float64) bool {
	for _, x := range list {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}

func (w *htmlWriter) plot(p *Plot) {
	w.figure(p.Title, p.Description, []string{p.Legend}, p.Figures, p.draw)
}

// frame is the area of a drawing with axes.
type frame struct {
	tags
	x, y                     Axis
	left, right, top, bottom float64
}

// part is where a number stands between the ends of an axis, from 0 to 1.
func (a *Axis) part(v float64) float64 {
	from, to := a.From, a.To
	if a.Log {
		from, to, v = math.Log10(from), math.Log10(to), math.Log10(v)
	}
	return (v - from) / (to - from)
}

func (f *frame) atX(v float64) float64 { return f.left + (f.right-f.left)*f.x.part(v) }
func (f *frame) atY(v float64) float64 { return f.bottom - (f.bottom-f.top)*f.y.part(v) }

// ticks are the numbers that an axis is marked with, about so many.
func (a *Axis) ticks(about float64) []float64 {
	var list []float64
	if a.Log {
		marks := []float64{1, 2, 5}
		if math.Log10(a.To/a.From) > about/3 {
			marks = marks[:1]
		}
		for power := math.Floor(math.Log10(a.From)); power <= math.Log10(a.To); power++ {
			for _, m := range marks {
				if v := m * math.Pow(10, power); v >= a.From*0.999 && v <= a.To*1.001 {
					list = append(list, v)
				}
			}
		}
		return list
	}
	step := niceStep((a.To - a.From) / about)
	for i := math.Ceil(a.From/step - 1e-9); i*step <= a.To+step*1e-9; i++ {
		list = append(list, i*step+0) // no zero below zero
	}
	return list
}

// axes draws the grid, its numbers and the names of the axes.
func (f *frame) axes() {
	for _, v := range f.y.ticks(5) {
		y := f.atY(v)
		f.shape("path", "d", "M"+px(f.left)+" "+px(y)+"H"+px(f.right), "class", "grid")
		f.element("text", trimmed(v), "x", px(f.left-6), "y", px(y+4), "class", "end tick")
	}
	for _, v := range f.x.ticks((f.right - f.left) / 75) {
		x := f.atX(v)
		f.shape("path", "d", "M"+px(x)+" "+px(f.top)+"V"+px(f.bottom), "class", "grid")
		f.element("text", trimmed(v), "x", px(x), "y", px(f.bottom+14), "class", "middle tick")
	}
	f.shape("path", "d", "M"+px(f.left)+" "+px(f.top)+"V"+px(f.bottom)+"H"+px(f.right), "class", "axis")
	f.element("text", f.y.label(), "x", "0", "y", "12", "class", "tick")
	f.element("text", f.x.label(), "x", px(f.right), "y", px(f.bottom+30), "class", "end tick")
	f.line()
}

func (a *Axis) label() string {
	if a.Unit == "" {
		return a.Name
	}
	return a.Name + ", " + a.Unit
}

func (p *Plot) draw(t tags, width float64, _ string) float64 {
	f := &frame{tags: t, x: p.X, y: p.Y, left: plotLeft, right: width - plotRight, top: plotTop, bottom: plotTop + plotHeight}
	f.axes()
	for i := range p.Series {
		s := &p.Series[i]
		switch s.Style {
		case Dots:
			f.dots(s)
		case Ranges:
			f.ranges(s)
		default:
			f.curve(s)
		}
		f.line()
	}
	return f.key(p.Series, f.bottom+plotBottom)
}

// key shows how each named series is drawn, from a height on, and returns where it ends.
func (f *frame) key(list []Series, y float64) float64 {
	const sample = 34
	x, named := f.left, false
	for i := range list {
		s := &list[i]
		if s.Name == "" {
			continue
		}
		room := sample + 6 + textWidth(s.Name) + 18
		if x+room > f.right && x > f.left {
			x, y = f.left, y+lineHeight
		}
		switch s.Style {
		case Dots:
			f.shape("circle", "cx", px(x+sample/2), "cy", px(y+6), "r", px(leastDot*2), "class", strokeClasses[Dots])
		case Ranges:
			f.shape("path", "d", "M"+px(x+sample/2-3)+" "+px(y+1)+"h6m-3 0v10m-3 0h6", "class", strokeClasses[Ranges])
		default:
			f.shape("path", "d", "M"+px(x)+" "+px(y+6)+"h"+px(sample), "class", strokeClasses[s.Style])
		}
		f.element("text", fitText(s.Name, f.right-x-sample-6), "x", px(x+sample+6), "y", px(y+10))
		x, named = x+room, true
	}
	f.line()
	if named {
		return y + lineHeight
	}
	return y
}

func (f *frame) dots(s *Series) {
	for _, p := range s.At {
		r := min(leastDot*math.Sqrt(max(p.Weight, 1)), mostDot)
		f.shape("circle", "cx", px(f.atX(p.X)), "cy", px(f.atY(p.Y)), "r", px(r), "class", strokeClasses[Dots])
	}
}

func (f *frame) ranges(s *Series) {
	for _, p := range s.At {
		x := f.atX(p.X)
		low, high := px(f.atY(p.Y)), px(f.atY(p.High))
		f.shape("path", "d", "M"+px(x-3)+" "+low+"H"+px(x+3)+"M"+px(x)+" "+low+"V"+high+"M"+px(x-3)+" "+high+"H"+px(x+3), "class", strokeClasses[Ranges])
	}
}

func (f *frame) curve(s *Series) {
	path, command := "", "M"
	for _, p := range s.At {
		path += command + px(f.atX(p.X)) + " " + px(f.atY(p.Y))
		command = "L"
	}
	f.shape("path", "d", path, "class", strokeClasses[s.Style])
}
